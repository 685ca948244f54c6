// What moves as it is shown: a working space that has slid aside comes from its centred
// place, which stays as a ghost; a leaf opens from where it stood before.

import { Vector3 } from "three";
import { wideLines } from "../drawing/batches.js";
import { prefersStill } from "../dom.js";
import { lineMaterial } from "../drawing/materials.js";

const LASTS = 1100; // milliseconds
const LEAST = 0.005; // metres; a space that has slid less stands centred
const TURNED = 0.5; // degrees
const DASH = 0.07; // metres

export class Motion {
  constructor(app) {
    this.app = app;
    this.slides = [];
    this.moving = null;
  }

  /** Say which spaces have slid, from now on; nothing moves yet. */
  take(slides) {
    this.slides = slides;
  }

  /** Let what has slid or turned since another stage come to where it is. */
  play(before, stage) {
    this.stop();
    const turns = before ? turnsOf(before, stage) : [];
    const ways = [...this.slides, ...(before ? waysOf(before, stage) : [])];
    if (prefersStill() || (!turns.length && !ways.length)) return;
    const start = performance.now();
    const token = {};
    this.moving = token;
    const step = (now) => {
      if (this.moving !== token) return;
      const part = Math.min(Math.max((now - start) / LASTS, 0), 1);
      this.#set(turns, ways, eased(part));
      if (part < 1) requestAnimationFrame(step);
      else this.stop();
    };
    this.#set(turns, ways, 0);
    requestAnimationFrame(step);
  }

  #set(turns, ways, part) {
    const { picture, doors } = this.app;
    if (!picture) return;
    for (const { id, from, to } of turns) doors.angles.set(id, from + (to - from) * part);
    this.turned = turns.map(({ id }) => id);
    picture.angles = doors.angles;
    const shifts = ways.flatMap(({ ids, by }) => ids.map((id) => [id, by.clone().multiplyScalar(1 - part)]));
    picture.setShifts(new Map(shifts));
    this.app.redraw();
  }

  /** Everything is where it belongs. */
  stop() {
    if (!this.moving) return;
    this.moving = null;
    const { picture, doors } = this.app;
    for (const id of this.turned ?? []) doors.angles.delete(id);
    if (!picture) return;
    picture.setShifts(new Map());
    this.app.redraw();
  }

  /** The centred places as broken lines. */
  ghosts(stage, palette) {
    const points = this.slides.flatMap(({ ids, by }) =>
      ids
        .map((id) => stage.shapes.get(id))
        .filter((shape) => shape?.role === "space")
        .flatMap((shape) => dashes(shape.edges, by)),
    );
    if (!points.length) return [];
    const style = { colour: palette.space_edge, width: 1.6, opacity: 0.75, lift: 0, through: true, uncut: false };
    const lines = wideLines(points, lineMaterial(style));
    lines.renderOrder = 7;
    return [lines];
  }
}

/** The working spaces that are met and do not stand centred before their item: ids of what
 * is drawn of each, and the way back to its centred place.
 *
 * @param rows judgements of the stage. */
export function slidesOf(stage, rows) {
  const found = [];
  for (const { requirement, verdict, subject, shapes } of rows) {
    const body = stage.shapes.get(subject);
    if (requirement !== "working-space" || verdict !== "met" || !body?.ahead) continue;
    const drawn = shapes.map((id) => stage.shapes.get(id)).filter(Boolean);
    const spaces = drawn.filter(({ role }) => role === "space");
    const isOwn = (index) => stage.judgements[index]?.subject === subject;
    if (spaces.length !== 1 || !spaces[0].judgements.every(isOwn)) continue;
    const aside = new Vector3(body.ahead[1], -body.ahead[0], 0);
    const far = middle(body.vertices, aside) - middle(spaces[0].vertices, aside);
    if (Math.abs(far) < LEAST) continue;
    const ids = drawn.filter(({ role }) => role === "space" || role === "footprint").map(({ id }) => id);
    found.push({ item: subject, ids, by: aside.multiplyScalar(far) });
  }
  return found;
}

/** The things that are where they were not, unturned and as large as before. */
function waysOf(before, stage) {
  const found = [];
  for (const { id, role, vertices } of stage.shapes.values()) {
    const was = before.shapes.get(id)?.vertices;
    if ((role !== "solid" && role !== "leaf") || !was || was.length !== vertices.length) continue;
    const by = [0, 1, 2].map((axis) => was[axis] - vertices[axis]);
    if (Math.hypot(...by) < LEAST) continue;
    const isSame = vertices.every((value, n) => Math.abs(was[n] - value - by[n % 3]) < LEAST / 5);
    if (isSame) found.push({ ids: [id], by: new Vector3(...by) });
  }
  return found;
}

/** The leaves that stand at another angle than before. */
function turnsOf(before, stage) {
  const found = [];
  for (const { id, pivot } of stage.shapes.values()) {
    const was = before.shapes.get(id)?.pivot;
    if (!pivot || !was || Math.abs(pivot.shown - was.shown) < TURNED) continue;
    found.push({ id, from: Math.min(was.shown, pivot.reached), to: pivot.shown });
  }
  return found;
}

/** The middle of some points along a direction. */
function middle(points, along) {
  let [low, high] = [Infinity, -Infinity];
  for (let n = 0; n < points.length; n += 3) {
    const at = points[n] * along.x + points[n + 1] * along.y;
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  return (low + high) / 2;
}

/** Lines moved some way, and broken. */
function dashes(edges, by) {
  const found = [];
  for (let n = 0; n < edges.length; n += 6) {
    const start = new Vector3().fromArray(edges, n).add(by);
    const end = new Vector3().fromArray(edges, n + 3).add(by);
    const count = Math.max(1, Math.round(start.distanceTo(end) / DASH / 2));
    for (let dash = 0; dash < count; dash++) {
      found.push(...start.clone().lerp(end, dash / count).toArray());
      found.push(...start.clone().lerp(end, (dash + 0.5) / count).toArray());
    }
  }
  return found;
}

function eased(part) {
  return part * part * (3 - 2 * part);
}
