// Moving things with the mouse, the finger or the keys: in plan; with Shift, up and down.
// While something moves it is shown how far it is from what is near, and what it costs.

import { Plane, Raycaster, Vector2, Vector3 } from "three";
import { byId, make } from "../dom.js";
import { TENTHS, bothLengths, lengthWords } from "../scene/lengths.js";
import { snapped as snappedToMap } from "../drawing/maps.js";
import { FLAG } from "../judge/solids.js";

const UP = new Vector3(0, 0, 1);
const METRES = { mm: 0.001, m: 1, in: 0.0254, ft: 0.3048 };

const NEAR = 300; // tenths of a millimetre within which a thing snaps to what carries it
const HELD = 2000; // and off the wall that carries it, before a drag takes it away from there
const FAR = 4000; // and when it is let go where nothing carries it
const SHOWN = 40_000; // no distance further than that is shown
const ARROW = 0.004; // metres a line is lifted so that it is seen

export class Dragging {
  constructor(app) {
    this.app = app;
    this.held = null;
  }

  get mover() {
    return this.app.mover;
  }

  canMove(item) {
    const { mover } = this;
    return Boolean(mover?.state.places[item]) && !mover.isPaused;
  }

  /** Tells whether a drag from here moves an item: with a finger only what is picked. */
  grab(x, y, isTouch) {
    const { app } = this;
    const found = app.picture.pick(x, y);
    const item = found?.shape.item;
    if (!item || !this.canMove(item)) return false;
    if (isTouch && app.item !== item) return false;
    this.held = { item, point: found.point, moved: new Vector3(), from: null };
    return true;
  }

  #begin() {
    const { held, app, mover } = this;
    app.hold(held.item);
    mover.gesture += 1;
    held.from = mover.state.places[held.item];
    held.carrier = this.#carrier(held.item);
  }

  drag(x, y, isUp) {
    const { held, mover, app } = this;
    if (!held) return;
    if (!held.from) this.#begin();
    const { item, from, point } = held;
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2(x, y), app.camera.eye);
    const plane = isUp
      ? this.#upright(point)
      : new Plane().setFromNormalAndCoplanarPoint(UP, point);
    const hit = ray.ray.intersectPlane(plane, new Vector3());
    if (!hit) return;
    const way = hit.sub(point);
    // What was gained the other way before stays.
    const { moved } = held;
    if (isUp) moved.z = way.z;
    else moved.set(way.x, way.y, moved.z);
    const { unit, step } = mover.state;
    const to = from.map(
      (value, axis) => value + stepped(moved.getComponent(axis) / METRES[unit], step),
    );
    this.#go(item, this.#snapped(item, to, isUp));
  }

  #go(item, to) {
    const { held, mover } = this;
    if (held) held.to = to;
    this.lead();
    mover.move(item, to);
    this.#gauge(item, to);
  }

  /** Move what is picked by one step, along the axis of the room nearest to a way of the
   * picture; tells whether there is something to be moved. */
  step(right, up, isUp) {
    const { app, mover } = this;
    const { item } = app;
    if (!item || !this.canMove(item)) return false;
    const { step } = mover.state;
    const { azimuth } = app.camera;
    const way = isUp ? [0, 0, up * step] : alongAxis(azimuth, right, up, step);
    if (isUp && !up) return false;
    mover.gesture += 1;
    const carrier = this.#carrier(item);
    let to = mover.state.places[item].map((value, axis) => tidy(value + way[axis]));
    const n = isUp ? null : this.#at(item, to);
    if (n !== null) to = this.#kept(n, to, carrier) ?? to;
    mover.move(item, to);
    this.#gauge(item, to, carrier);
    return true;
  }

  /** Draw what is dragged where the hand is: its check follows. */
  lead() {
    const { app, mover } = this;
    let ahead = null;
    const here = mover?.state.places[this.held?.item];
    if (this.held?.to && here) {
      const { item, to } = this.held;
      const by = to.map((value, axis) => (value - here[axis]) * METRES[mover.state.unit]);
      if (by.some((part) => Math.abs(part) > 1e-7)) ahead = { item, by: new Vector3(...by) };
    }
    if (ahead || app.picture.ahead) app.picture.setAhead(ahead);
    if (this.held?.to) app.movedAt = performance.now();
    app.redraw();
  }

  #upright(point) {
    const towards = this.app.camera.direction.setZ(0).normalize();
    return new Plane().setFromNormalAndCoplanarPoint(towards, point);
  }

  /** Let go: it snaps to what carries it, and stays there until the last check has
   * answered. */
  drop() {
    const { held, mover } = this;
    if (!held) return;
    if (!held.from) {
      this.held = null;
      return;
    }
    const to = this.#carried(held);
    if (to) this.#go(held.item, to);
    held.isLoose = true;
    if (!mover.busy) this.settle();
  }

  /** After an answer: what was let go stands where the check has put it. */
  settle() {
    if (this.held?.isLoose && !this.mover.waiting) this.held = null;
    this.lead();
    if (this.app.item && this.app.gauges.length) this.#tell(this.app.item);
  }

  /** Something else is picked: nothing moves any more. */
  rest() {
    if (this.held) return;
    byId("readout").hidden = true;
    this.app.gauges = [];
  }

  // What the bodies are known for: the page that is sent has them, the program tells them.
  #at(item, to) {
    const { mover } = this;
    const { solids } = mover;
    const n = solids?.number.get(item);
    if (n === undefined) return null;
    // A page that is served knows where the bodies were told, and puts them there itself.
    if (to && mover.place) mover.place(item, to);
    return n;
  }

  #carrier(item) {
    const n = this.#at(item, this.mover.state.places[item]);
    return n === null ? null : this.mover.solids.carrierOf(n);
  }

  /** A place near by at which something carries the item, while it is dragged. */
  #snapped(item, to, isUp) {
    const { mover } = this;
    const { unit } = mover.state;
    const onMap = isUp ? null : snappedToMap(this.app.maps, item, to, unit);
    if (onMap) return onMap;
    const n = this.#at(item, to);
    if (n === null || !mover.place) return to;
    return (isUp ? this.#onFloor(n, to, NEAR) : this.#kept(n, to, this.held.carrier)) ?? to;
  }

  /** Where what hangs on a wall, or stands on a floor or a pad, still does. */
  #kept(n, to, carrier) {
    const { solids } = this.mover;
    if (carrier === "wall") return this.#atWall(n, to, HELD);
    const below = solids.number.get(carrier);
    const isFloor = carrier === "floor" || (below !== undefined && solids.is(below, FLAG.underfoot));
    return isFloor ? this.#onFloor(n, to, Infinity) : null;
  }

  /** Where what was let go would be carried again: on a floor, on a pad, at a wall. */
  #carried({ item, to, carrier }) {
    if (!to || !carrier) return null;
    const n = this.#at(item, to);
    if (n === null || this.mover.solids.carrierOf(n)) return null;
    if (carrier === "wall") return this.#atWall(n, to, FAR);
    return this.#onFloor(n, to, Infinity);
  }

  #onFloor(n, to, within) {
    const { solids, state } = this.mover;
    const front = solids.frontOf(n);
    if (!front) return null;
    const floor = solids.floorsUnder(n)[0];
    const by = floor.at - front.bottom;
    if (!by || Math.abs(by) > within) return null;
    return [to[0], to[1], tidy(to[2] + by / TENTHS[state.unit])];
  }

  #atWall(n, to, within) {
    const { solids, state } = this.mover;
    const back = solids.neighbours(n).find(({ side }) => side === "back");
    if (!back || !back.far || Math.abs(back.far) > within) return null;
    const [, , , , ox, oy] = solids.frontOf(n).frame;
    const by = back.far / TENTHS[state.unit];
    return [tidy(to[0] - ox * by), tidy(to[1] - oy * by), to[2]];
  }

  /** Show the distances to what is near, and what is said of the item there. */
  #gauge(item, to, carrier) {
    const n = this.#at(item, to);
    if (n === null) return this.#tell(item);
    if (this.held) this.held.lost = this.held.carrier && !this.mover.solids.carrierOf(n);
    else this.lost = carrier && !this.mover.solids.carrierOf(n);
    this.app.gauge(this.#distances(n));
    return this.#tell(item);
  }

  #distances(n) {
    const { solids, state } = this.mover;
    const front = solids.frontOf(n);
    if (!front) return [];
    const { frame, width, depth, bottom, top } = front;
    const level = (Math.max(bottom, 0) + Math.min(top, bottom + 12_000)) / 2;
    const point = (u, v) => [
      (frame[0] + u * frame[2] + v * frame[4]) * 1e-4,
      (frame[1] + u * frame[3] + v * frame[5]) * 1e-4,
      level * 1e-4,
    ];
    const lines = {
      left: (far) => [point(0, -depth / 2), point(-far, -depth / 2)],
      right: (far) => [point(width, -depth / 2), point(width + far, -depth / 2)],
      front: (far) => [point(width / 2, 0), point(width / 2, far)],
      back: (far) => [point(width / 2, -depth), point(width / 2, -depth - far)],
    };
    return solids
      .neighbours(n)
      .filter(({ far }) => far > 5 && far < SHOWN)
      .map(({ side, far, other }) => {
        const [start, end] = lines[side](far);
        const [required] = bothLengths(far, state.unit);
        return { start, end, aside: [0, 0, ARROW], name: solids.ids[other], required, short: false };
      });
  }

  /** Say where it is, whether it is carried, and what its judgements say. */
  #tell(item) {
    const { app, mover } = this;
    const { unit, places } = mover.state;
    const [east, north, up] = this.held?.to ?? places[item];
    const lines = [
      make(
        "p",
        {},
        make("b", {}, item),
        ` east ${tidy(east)}, north ${tidy(north)}, up ${tidy(up)} ${unit}`,
      ),
    ];
    const n = this.#at(item, null);
    const isLost = this.held ? this.held.lost : this.lost;
    if (n !== null && isLost) {
      const above = mover.solids.frontOf(n)?.bottom ?? 0;
      const where = above > 10 ? ` ${lengthWords(above, unit)} above the floor` : "";
      lines.push(make("p", { class: "lost" }, `Nothing carries it${where}.`));
    }
    for (const row of rowsOf(app.stage, item)) {
      const verdict = row.verdict === "met" ? "clear" : row.brief;
      lines.push(
        make(
          "p",
          { class: row.verdict },
          `${row.subject === item ? "" : `${row.subject}: `}${row.title}: ${verdict}${spareOf(app, row, unit)}`,
        ),
      );
    }
    const readout = byId("readout");
    readout.replaceChildren(...lines);
    readout.hidden = false;
  }
}

const MOST_ROWS = 3;
const RANK = { "not-met": 0, open: 1, met: 2 };

/** The judgements that an item has most to do with, the worst first. */
function rowsOf(stage, item) {
  const concerns = (row) =>
    row.subject === item || row.in_the_way.includes(item) || (row.isProvisional && row.was !== row.verdict);
  return stage.judgements
    .filter((row) => !row.isUnjudged && concerns(row))
    .sort((a, b) => RANK[a.verdict] - RANK[b.verdict] || isSpace(b) - isSpace(a))
    .slice(0, MOST_ROWS);
}

function isSpace(row) {
  return Number(row.requirement === "working-space");
}

/** What is left over of a space that is clear. */
function spareOf(app, row, unit) {
  if (row.verdict !== "met") return "";
  const answer = app.mover?.answers?.find(
    ({ key }) => key[0] === row.requirement && key[1] === row.subject,
  );
  if (answer?.spare) return `, ${lengthWords(answer.spare, unit)} to spare`;
  const size = row.sizes.find(({ name, provided }) => name === "depth" && provided[0]);
  return size ? `, depth ${size.provided[0]} of ${size.required[0]}` : "";
}

function stepped(value, step) {
  return tidy(Math.round(value / step) * step);
}

function tidy(value) {
  return Number(value.toFixed(6));
}

/** A step along east or north, whichever is nearer to a way of the picture. */
function alongAxis(azimuth, right, up, step) {
  // To the right of the picture, and away from the viewer.
  const east = -Math.sin(azimuth) * right - Math.cos(azimuth) * up;
  const north = Math.cos(azimuth) * right - Math.sin(azimuth) * up;
  return Math.abs(east) >= Math.abs(north)
    ? [Math.sign(east) * step, 0, 0]
    : [0, Math.sign(north) * step, 0];
}
