// The solids of a room and where they have been moved: stacks of plan shapes, as
// model3d/mending/provisional/record.py tells them. Lengths are tenths of a millimetre.

import { between, inFrame, overlap, span } from "../scene/plane.js";

/** What is told of a solid by one bit each; as in record.py. */
export const FLAG = {
  closes: 1,
  underfoot: 2,
  hole: 4,
  meter: 8,
  upright: 16,
  ofRoom: 32,
  changesMore: 64,
  protected: 128,
  built: 256,
  structure: 512,
  uncertain: 1024,
};

const STILL = [0, 0, 0];
const STEP = 3000; // tenths of a millimetre: housekeeping pads are lower than that
const INWARDS = 0.9; // how far out from its middle a corner is looked at
const NEVER = "0";
const MAY = "1";

export class Solids {
  constructor(record) {
    this.record = record;
    this.ids = record.ids;
    this.number = new Map(record.ids.map((id, n) => [id, n]));
    this.ways = record.ids.map(() => STILL);
    this.moved = new Set();
    this.bounds = record.bodies.map(boundsOf);
    this.whole = this.bounds.reduce(
      (a, b) => a.map((value, k) => (k < 3 ? Math.min : Math.max)(value, b[k])),
      nowhere(),
    );
    // What may be the floor in front of something, and the holes in it.
    this.floors = this.ids.map((_, n) => n).filter((n) => this.is(n, FLAG.underfoot | FLAG.hole));
  }

  is(n, flag) {
    return Boolean(this.record.flags[n] & flag);
  }

  /** What moves when an item is moved: it, and what stands on, over or under it. */
  groupOf(n) {
    return this.record.groups[n] ?? [n];
  }

  /** Put an item, and what goes with it, some way from where it was told. */
  put(n, way) {
    const before = this.ways[n];
    for (const one of this.groupOf(n)) {
      const to = this.ways[one].map((value, axis) => value + way[axis] - before[axis]);
      this.ways[one] = to;
      if (to.some(Boolean)) this.moved.add(one);
      else this.moved.delete(one);
    }
  }

  /** Whether a solid, where it was told or where it is now, comes into some bounds. */
  comesTo(n, box) {
    return meets(this.bounds[n], STILL, box) || meets(this.bounds[n], this.ways[n], box);
  }

  /** Whether a solid is within what all of them were within when they were told. */
  isWithin(n) {
    const { whole } = this;
    return this.boundsNow(n).every((value, k) => (k < 3 ? value >= whole[k] : value <= whole[k]));
  }

  /** Whether a part of a solid is in the room for certain; outdoors all is. */
  isInRoom(n) {
    const { outline, ceiling } = this.record;
    const [, , low, , , high] = this.boundsNow(n);
    if (!outline.length) return true;
    if (high <= 0 || (ceiling !== null && low >= ceiling)) return false;
    const [east, north] = this.ways[n];
    for (const [, , ...rings] of this.record.bodies[n]) {
      for (const ring of rings) {
        const points = inFrame(ring, [0, 0, 1, 0, 0, 1], east, north);
        const middle = [0, 1].map((k) => points.reduce((sum, one) => sum + one[k], 0) / points.length);
        const corners = points.map((one) => one.map((value, k) => middle[k] + INWARDS * (value - middle[k])));
        if ([middle, ...corners].some((point) => isInside(outline, point))) return true;
      }
    }
    return false;
  }

  isNear(n, box) {
    return meets(this.bounds[n], this.ways[n], box);
  }

  /** The plan shapes of a solid between two heights, as points of a frame.
   *
   * Each with whether it is there for certain: of a body that is no upright prism a part
   * of a slab may be smaller than the slab, and of an uncertain one anything may be.
   */
  *shapes(n, frame, low, high) {
    const [east, north, up] = this.ways[n];
    const { touch } = this.record;
    const isUpright = this.is(n, FLAG.upright);
    const isSure = !this.is(n, FLAG.uncertain);
    for (const [bottom, top, ...rings] of this.record.bodies[n]) {
      const [from, to] = [bottom + up, top + up];
      if (Math.min(to, high) - Math.max(from, low) <= touch) continue;
      const isWhole =
        isSure && (isUpright || (from >= low - 2 * touch && to <= high + 2 * touch));
      for (const ring of rings) {
        yield { points: inFrame(ring, frame, east, north), low: from, high: to, isWhole };
      }
    }
  }

  /** How deep two solids lie in one another, and whether that may be for all that is
   * known; null where they do not. */
  depth(n, other) {
    const { shares, slack } = this.record;
    const share = shares.rows[shares.kinds[n]][shares.kinds[other]];
    const isRoom = this.is(other, FLAG.ofRoom);
    if (this.is(n, FLAG.uncertain) || this.is(other, FLAG.uncertain)) return null;
    if (isRoom ? this.is(n, FLAG.built) : share === MAY) return null;
    const box = this.boundsNow(other);
    const own = this.boundsNow(n);
    const tall = Math.min(own[5] - box[2], box[5] - own[2]);
    if (tall <= slack) return null;
    let deep = 0;
    const whole = [0, 0, 1, 0, 0, 1];
    for (const a of this.shapes(n, whole, box[2], box[5])) {
      for (const b of this.shapes(other, whole, a.low, a.high)) {
        deep = Math.max(deep, Math.min(overlap(a.points, b.points), tall));
      }
    }
    if (deep <= slack) return null;
    const isPlain = this.is(n, FLAG.upright) && this.is(other, FLAG.upright);
    return { by: deep, isSure: isPlain && (isRoom || share === NEVER) };
  }

  boundsNow(n) {
    const [x, y, z] = this.ways[n];
    return this.bounds[n].map((value, k) => value + [x, y, z][k % 3]);
  }

  /** The frame of an item's front as it stands now, and its size; null without one. */
  frontOf(n) {
    const told = this.record.fronts[n];
    if (!told) return null;
    const [east, north, up] = this.ways[n];
    const [x, y, rx, ry, ox, oy, width, depth, bottom, top] = told;
    return {
      frame: [x + east, y + north, rx, ry, ox, oy],
      width,
      depth,
      bottom: bottom + up,
      top: top + up,
    };
  }

  /** How far it is from an item to the nearest thing on each of its four sides. */
  neighbours(n) {
    const front = this.frontOf(n);
    if (!front) return [];
    const { frame, width, depth, bottom, top } = front;
    const { touch } = this.record;
    const group = new Set(this.groupOf(n));
    const nearest = { left: null, right: null, front: null, back: null };
    const take = (side, far, other) => {
      if (!nearest[side] || far < nearest[side].far) nearest[side] = { side, far, other };
    };
    for (let other = 0; other < this.ids.length; other++) {
      if (group.has(other) || this.is(other, FLAG.hole)) continue;
      const box = this.bounds[other];
      if (box[2] + this.ways[other][2] >= top || box[5] + this.ways[other][2] <= bottom) continue;
      for (const { points } of this.shapes(other, frame, bottom, top)) {
        const beside = between(points, 1, touch - depth, -touch);
        if (beside.length) {
          const [low, high] = span(beside, 0);
          if (low > width / 2) take("right", low - width, other);
          if (high < width / 2) take("left", -high, other);
        }
        const ahead = between(points, 0, touch, width - touch);
        if (ahead.length) {
          const [low, high] = span(ahead, 1);
          if (low > -depth / 2) take("front", low, other);
          if (high < -depth / 2) take("back", -depth - high, other);
        }
      }
    }
    return Object.values(nearest).filter(Boolean);
  }

  /** What carries an item: "floor", "wall", the id of what it stands on, or "". */
  carrierOf(n) {
    const front = this.frontOf(n);
    if (!front) return "floor";
    const { slack } = this.record;
    const under = this.floorsUnder(n).find(({ at }) => Math.abs(at - front.bottom) <= slack);
    if (under) return under.id;
    const back = this.neighbours(n).find(({ side }) => side === "back");
    if (back && back.far <= slack) return "wall";
    const { frame, width, depth, bottom, top } = front;
    for (let other = 0; other < this.ids.length; other++) {
      if (other === n || this.is(other, FLAG.ofRoom) || this.is(other, FLAG.hole)) continue;
      for (const { points } of this.shapes(other, frame, bottom - 2 * slack, top + 2 * slack)) {
        const here = between(between(points, 0, -slack, width + slack), 1, -depth - slack, slack);
        if (here.length) return this.ids[other];
      }
    }
    return "";
  }

  /** The levels on which an item could stand where it is, the highest first: what it
   * stands on, and platforms and pads under its middle, up to a step above its underside. */
  floorsUnder(n) {
    const { frame, width, depth, bottom } = this.frontOf(n);
    const { slack } = this.record;
    const middle = { width: [width / 2 - 1, width / 2 + 1], depth: [-depth / 2 - 1, -depth / 2 + 1] };
    const whole = { width: [slack, width - slack], depth: [slack - depth, -slack] };
    const group = new Set(this.groupOf(n));
    const found = [{ id: "floor", at: 0 }];
    for (let other = 0; other < this.ids.length; other++) {
      const at = this.bounds[other][5] + this.ways[other][2];
      const isRoom = this.is(other, FLAG.ofRoom) || this.is(other, FLAG.hole);
      const isFloor = this.is(other, FLAG.underfoot);
      if (group.has(other) || isRoom || at > bottom + STEP) continue;
      if (!isFloor && Math.abs(at - bottom) > slack) continue;
      const under = isFloor ? middle : whole;
      for (const { points } of this.shapes(other, frame, at - 4 * slack, at + slack)) {
        const here = between(between(points, 0, ...under.width), 1, ...under.depth);
        if (here.length) found.push({ id: this.ids[other], at });
      }
    }
    return found.sort((a, b) => b.at - a.at);
  }
}

function nowhere() {
  return [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
}

function boundsOf(slabs) {
  const box = nowhere();
  for (const [low, high, ...rings] of slabs) {
    box[2] = Math.min(box[2], low);
    box[5] = Math.max(box[5], high);
    for (const ring of rings) {
      for (let n = 0; n < ring.length; n += 2) {
        box[0] = Math.min(box[0], ring[n]);
        box[1] = Math.min(box[1], ring[n + 1]);
        box[3] = Math.max(box[3], ring[n]);
        box[4] = Math.max(box[4], ring[n + 1]);
      }
    }
  }
  return box;
}

function meets(box, way, other) {
  for (let axis = 0; axis < 3; axis++) {
    if (box[axis] + way[axis] >= other[axis + 3]) return false;
    if (box[axis + 3] + way[axis] <= other[axis]) return false;
  }
  return true;
}

/** Whether a point is inside a ring of coordinates, x and y by turns. */
function isInside(ring, [x, y]) {
  let isIn = false;
  for (let n = 0; n < ring.length; n += 2) {
    const [ax, ay] = [ring[n], ring[n + 1]];
    const [bx, by] = [ring[(n + 2) % ring.length], ring[(n + 3) % ring.length]];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) isIn = !isIn;
  }
  return isIn;
}
