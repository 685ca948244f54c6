// The stage after a move that no check has seen: what was judged on the spot, what was
// left as it is because the move cannot bear on it, and what is open because it may.

import { isResult } from "../scene/data.js";
import { lengthWords } from "../scene/lengths.js";

const TENTHS = 1e-4; // metres
const SHRINK = 0.004; // metres, as viewer/stage/bodies/spaces.py draws spaces
const ABOVE = 0.006;
const NOT_HERE = "Not judged in this page: the check must be asked.";
const DRAWING = "as-drawn";

/** A stage for a judge that has found what the moves bear on.
 *
 * @param {{stage, judge, unit, palette, names}} room stage is the one that was checked,
 *   names are those of its judgements.
 */
export function provisionalStage({ stage, judge, unit, palette, names }) {
  const { solids } = judge;
  if (!solids.moved.size) return stage;
  const answers = new Map(judge.answers().map((one) => [nameOfKey(one.key), one]));
  const moved = new Map([...solids.moved].map((n) => [solids.ids[n], solids.ways[n]]));
  const touched = new Set(judge.unjudged().map(nameOfKey));
  const clashes = clashesOf(judge, unit);
  const rows = stage.judgements.map((row, index) => {
    const answer = answers.get(names[index]);
    if (answer) return judgedRow(row, answer, unit);
    if (row.requirement === DRAWING && clashes.has(row.subject)) return clashRow(row, clashes);
    return touched.has(names[index]) ? unjudged(row) : row;
  });
  for (const [subject, found] of clashes) {
    if (names.includes(`${subject}/${DRAWING}`)) continue;
    rows.push(clashRow(newRow(stage, subject), clashes, found));
  }
  const listed = numbered(rows);
  const shapes = movedShapes(stage, listed, { moved, answers, names, palette });
  return {
    ...stage,
    shapes,
    judgements: listed,
    badges: badgesOf(stage, listed, moved),
    labels: stage.labels.map((label) => shifted(label, moved.get(label.item), "anchor")),
    dimensions: stage.dimensions.filter((size) => listed[size.judgement] === stage.judgements[size.judgement]),
    provisional: true,
  };
}

/** The id that the shapes of a judgement have, see key() in viewer/stage/bodies/spaces.py. */
function nameOfKey([requirement, subject, leaf, tier, side]) {
  const parts = [subject, requirement];
  if (leaf !== null) parts.push(`leaf-${leaf}`);
  if (tier !== null) parts.push(`tier-${tier}`);
  if (side !== null) parts.push(side);
  return parts.join("/");
}

function clashesOf(judge, unit) {
  const found = new Map();
  for (const { id, other, by, isSure } of judge.clashes()) {
    const words = `${isSure ? "lies" : "may lie"} ${lengthWords(by, unit)} inside ${other}`;
    if (!found.has(id)) found.set(id, []);
    found.get(id).push({ words, other });
  }
  return found;
}

function clashRow(row, clashes) {
  const found = clashes.get(row.subject);
  const reason = `${row.subject} ${found.map(({ words }) => words).join("; it ")}.`;
  const others = found.map(({ other }) => other);
  return {
    ...row,
    verdict: "open",
    brief: reason,
    reason: `${reason} Two things cannot be in one place.`,
    sizes: [],
    in_the_way: others,
    named: others,
    isProvisional: true,
  };
}

function newRow(stage, subject) {
  const like = stage.judgements.find((row) => row.subject === subject) ?? stage.judgements[0];
  return {
    number: null,
    requirement: DRAWING,
    title: "What is drawn can be so",
    subject,
    part: "",
    leaf: null,
    citation: "the drawing",
    missing: "",
    measured: "",
    exception: "",
    select: [subject],
    shapes: [],
    look: like?.look ?? stage.views[0],
  };
}

function unjudged(row) {
  return {
    ...row,
    verdict: "open",
    was: row.verdict,
    brief: NOT_HERE,
    reason: `${NOT_HERE} Before the move: ${row.verdict.replace("-", " ")}.`,
    sizes: [],
    in_the_way: [],
    named: [],
    shapes: [],
    isUnjudged: true,
    isProvisional: true,
  };
}

function judgedRow(row, answer, unit) {
  const words = answer.hits.map((hit) => hitWords(hit, answer, unit));
  const met = answer.angle === undefined ? "Nothing is in the way." : "It opens to 90 degrees.";
  const reason = [...words, answer.why].filter(Boolean).join(" ") || met;
  const others = [...new Set(answer.hits.map((hit) => hit.id))].filter((id) => id !== row.subject);
  return {
    ...row,
    verdict: answer.verdict,
    was: row.verdict,
    brief: words[0] ?? (answer.why || met),
    reason,
    sizes: [],
    in_the_way: others,
    named: others,
    exception: "",
    isProvisional: true,
  };
}

function hitWords({ id, part, by, axis, angle }, answer, unit) {
  if (angle !== undefined) return `${id} stops the leaf at ${angle.toFixed(1)} degrees.`;
  const name = part ? `${id}: ${part}` : id;
  const much = lengthWords(by, unit);
  return axis === "u" || part ? `${name} is ${much} too low.` : `${name} is ${much} too near.`;
}

/** Rows with their numbers: those that have one keep it, as long as they are not met. */
function numbered(rows) {
  let last = Math.max(0, ...rows.map((row) => row.number ?? 0));
  return rows.map((row) => {
    if (row.verdict === "met" || row.isUnjudged) return row.number === null ? row : { ...row, number: null };
    return row.number === null ? { ...row, number: (last += 1) } : row;
  });
}

function badgesOf(stage, rows, moved) {
  const old = new Map(stage.badges.map((badge) => [badge.judgement, badge]));
  const found = [];
  rows.forEach((row, judgement) => {
    if (row.number === null) return;
    const { number, verdict, subject: item } = row;
    const was = row.isProvisional ? null : old.get(judgement)?.anchor;
    const anchor =
      was ?? anchorOf(stage, row.in_the_way[0], moved) ?? anchorOf(stage, item, moved);
    if (anchor) found.push({ number, verdict, item, judgement, anchor });
  });
  return found;
}

function anchorOf(stage, item, moved) {
  const label = stage.labels.find((one) => one.item === item);
  return label && shifted(label, moved.get(item), "anchor").anchor;
}

function shifted(record, way, name) {
  if (!way) return record;
  return { ...record, [name]: record[name].map((value, axis) => value + way[axis] * TENTHS) };
}

function movedShapes(stage, rows, { moved, answers, names, palette }) {
  const found = new Map();
  const rowOf = new Map(names.map((name, n) => [name, rows[n]]));
  for (const shape of stage.shapes.values()) {
    const gone = isResult(shape) && shape.judgements.some((n) => rows[n] !== stage.judgements[n]);
    if (!gone) found.set(shape.id, movedShape(shape, moved, answers));
  }
  for (const [name, answer] of answers) {
    const row = rowOf.get(name);
    const space = stage.shapes.get(`${name}/0`);
    if (!row || !space || !answer.box) continue;
    for (const part of [false, true]) {
      const old = stage.shapes.get(part ? `${name}/0/footprint` : `${name}/0`);
      if (old) found.set(old.id, spaceShape(old, answer.box, row.verdict, palette, part));
    }
    for (const [k, part] of (answer.parts ?? []).entries()) {
      const shape = partShape(space, `${name}/in-the-way-${k}`, answer.box.frame, part, palette);
      found.set(shape.id, shape);
      row.shapes = [...row.shapes, shape.id];
    }
    row.shapes = [...new Set(row.shapes)].filter((id) => found.has(id));
  }
  return found;
}

function movedShape(shape, moved, answers) {
  const way = moved.get(shape.item);
  if (!way || isResult(shape)) return shape;
  const by = way.map((value) => value * TENTHS);
  const shift = (points) => points.map((value, n) => value + by[n % 3]);
  const copy = { ...shape, vertices: shift(shape.vertices), edges: shift(shape.edges) };
  if (!shape.pivot) return copy;
  const hinge = shape.pivot.hinge.map((value, axis) => value + by[axis]);
  const leaf = answers.get(shape.id.replace("/leaf-", "/door-swing/leaf-"));
  const reached = leaf?.angle ?? shape.pivot.reached;
  return { ...copy, pivot: { ...shape.pivot, hinge, reached } };
}

/** What of a thing is in a space, as it is drawn: an upright prism. */
function partShape(space, id, [x, y, rx, ry, ox, oy], { id: item, ring, low, high }, palette) {
  const count = ring.length;
  const corners = [low, high].flatMap((z) =>
    ring.map(([u, v]) => [x + u * rx + v * ox, y + u * ry + v * oy, z].map((one) => one * TENTHS)),
  );
  // Counter-clockwise from above, whichever way the frame turns.
  const isTurned = area(ring) * (rx * oy - ry * ox) < 0;
  const faces = [];
  const add = (a, b, c) => faces.push(...(isTurned ? [a, c, b] : [a, b, c]));
  for (let n = 1; n < count - 1; n++) {
    add(0, n + 1, n);
    add(count, count + n, count + n + 1);
  }
  const lines = [];
  for (let n = 0; n < count; n++) {
    const next = (n + 1) % count;
    add(n, next, next + count);
    add(n, next + count, n + count);
    lines.push(n, next, n + count, next + count, n, n + count);
  }
  return {
    ...space,
    id,
    item,
    layer: "intrusions",
    role: "intrusion",
    about: `in ${space.item}`,
    vertices: Float32Array.from(corners.flat()),
    faces: Uint16Array.from(faces),
    edges: Float32Array.from(lines.flatMap((n) => corners[n])),
    ends: null,
    colour: palette.intrusion,
    edge_colour: palette.intrusion_edge,
    edge_width: 2.2,
    opacity: 1,
    through: true,
    lift: 2,
    pickable: true,
  };
}

function area(ring) {
  return ring.reduce((sum, [u, v], n) => {
    const [toU, toV] = ring[(n + 1) % ring.length];
    return sum + u * toV - toU * v;
  }, 0);
}

/** A space where it was judged, as it is drawn: a box, or its footprint. */
function spaceShape(old, box, verdict, palette, isFootprint) {
  const { frame, left, right, deep, bottom, top } = box;
  const [x, y, rx, ry, ox, oy] = frame;
  const point = (u, v, z) => [
    (x + u * rx + v * ox) * TENTHS,
    (y + u * ry + v * oy) * TENTHS,
    z * TENTHS,
  ];
  const by = SHRINK / TENTHS;
  const [l, r, f, b] = [left + by, right - by, by, deep - by];
  const [low, high] = [bottom + by, top - by];
  const ring = [[l, f], [r, f], [r, b], [l, b]];
  const isShut = verdict !== "met";
  const look = {
    colour: palette.space,
    edge_colour: isShut ? palette.space_edge : palette.clear_edge,
    edge_width: isShut ? 2.4 : 1.1,
    layer: isShut ? "spaces" : old.layer,
  };
  if (isFootprint) {
    const level = low + ABOVE / TENTHS;
    const vertices = Float32Array.from(ring.flatMap(([u, v]) => point(u, v, level)));
    const faces = Uint16Array.from([0, 1, 2, 0, 2, 3]);
    return { ...old, ...look, opacity: isShut ? 0.38 : 0.14, vertices, faces, edges: new Float32Array(), ends: null };
  }
  const corners = [low, high].flatMap((z) => ring.map(([u, v]) => point(u, v, z)));
  const sides = [0, 1, 2, 3].flatMap((n) => {
    const next = (n + 1) % 4;
    return [n, next, next + 4, n, next + 4, n + 4];
  });
  const faces = Uint16Array.from([0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, ...sides]);
  const lines = [0, 1, 2, 3].flatMap((n) => [n, (n + 1) % 4, n + 4, ((n + 1) % 4) + 4, n, n + 4]);
  return {
    ...old,
    ...look,
    opacity: isShut ? 0.08 : 0.02,
    vertices: Float32Array.from(corners.flat()),
    faces,
    edges: Float32Array.from(lines.flatMap((n) => corners[n])),
    ends: null,
  };
}
