// From the page's JSON to what is drawn. The keys are the attributes of the records in
// viewer/stage/parts.py, which say what each one means.

const SHAPE = {
  item: "",
  layer: "",
  role: "solid",
  kind: "",
  about: "",
  edge_width: 1.4,
  opacity: 1,
  edge_opacity: 1,
  ghost: false,
  one_sided: false,
  through: false,
  lift: 0,
  pickable: true,
  pivot: null,
  judgements: [],
};

const KINDS = { f32: Float32Array, u16: Uint16Array, u32: Uint32Array };

let repeated = [];

/** The page's data; numbers that stand in it several times are kept to be looked up. */
export function dataOf(text) {
  const data = JSON.parse(text);
  repeated = data.numbers;
  return data;
}

/** The text of compressed data, from base64. */
export function unzipped(text) {
  const stream = new Blob([bytesOf(text)]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).text();
}

function bytesOf(text) {
  const binary = atob(text);
  const bytes = new Uint8Array(binary.length);
  for (let n = 0; n < binary.length; n++) bytes[n] = binary.charCodeAt(n);
  return bytes;
}

/** Packed numbers themselves, where {again: 3} stands for them. */
function packedOf(told) {
  return told.again === undefined ? told : repeated[told.again];
}

/** Numbers from base64 text: {f32: "..."} and the like. */
export function unpacked(told) {
  const [kind, text] = Object.entries(packedOf(told))[0];
  return new KINDS[kind](bytesOf(text).buffer);
}

function shapeOf(plain) {
  const vertices = unpacked(plain.vertices);
  const ends = unpacked(plain.edges);
  const arePoints = packedOf(plain.edges).f32 !== undefined;
  return {
    ...SHAPE,
    ...plain,
    label: [plain.item, plain.about].filter(Boolean).join(", "),
    vertices,
    faces: unpacked(plain.faces),
    edges: arePoints ? ends : pointsAt(ends, vertices),
    ends: arePoints ? null : ends,
  };
}

/** The points of some vertices, by their numbers. */
function pointsAt(numbers, vertices) {
  const found = new Float32Array(numbers.length * 3);
  numbers.forEach((number, n) => found.set(vertices.subarray(number * 3, number * 3 + 3), n * 3));
  return found;
}

/** A stage with its shapes by id, in their order. */
export function stageOf(plain) {
  const shapes = new Map(plain.shapes.map((shape) => [shape.id, shapeOf(shape)]));
  return { ...plain, shapes };
}

const LISTS = ["badges", "labels", "dimensions", "judgements"];

/** The stage after a change; what does not change is shared with the stage before: in a
 * list a number is the place of the same record before, and like of one that has much in
 * common; a shape that is alike says the keys that are others. */
export function changed(stage, change) {
  const { drop, put, alike = [], ...other } = change;
  for (const name of LISTS) {
    if (!other[name]) continue;
    other[name] = other[name].map((record) => {
      if (typeof record === "number") return stage[name][record];
      const { like, ...more } = record;
      return like === undefined ? record : { ...stage[name][like], ...more };
    });
  }
  const shapes = new Map(stage.shapes);
  for (const id of drop) shapes.delete(id);
  for (const shape of alike) shapes.set(shape.id, { ...shapes.get(shape.id), ...shape });
  for (const shape of put) shapes.set(shape.id, shapeOf(shape));
  return { ...stage, ...other, shapes };
}

/** The stage before every step of the lesson, and after the last one. */
export function stagesOf(stage) {
  const found = [stage];
  for (const step of stage.steps) found.push(changed(found.at(-1), step.change));
  return found;
}

/** A stage that tells nothing of what the check has found. */
export function maskedOf(stage) {
  const shapes = new Map([...stage.shapes].filter(([, shape]) => !isResult(shape)));
  const none = { judgements: [], badges: [], dimensions: [] };
  return { ...stage, ...none, shapes, isMasked: true };
}

/** Whether a shape comes from the check, and is no thing in the room. */
export function isResult(shape) {
  return shape.role === "intrusion" || shape.role === "space" || shape.role === "footprint";
}

/** The judgements whose verdict a change has changed, and what it was before; what is new
 * and simply met is left out. */
export function turned(before, after) {
  const old = new Map(before.judgements.map((judgement) => [nameOf(judgement), judgement.verdict]));
  return after.judgements
    .filter((judgement) => (old.get(nameOf(judgement)) ?? "met") !== judgement.verdict)
    .map((judgement) => ({ judgement, was: old.get(nameOf(judgement)) ?? "" }));
}

/** What a judgement is about; the same before and after a change. */
export function nameOf(judgement) {
  return [judgement.subject, judgement.requirement, judgement.part].join("\u0000");
}

export const VERDICTS = { "not-met": "not met", open: "open", met: "met" };
