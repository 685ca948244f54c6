// Judges on the spot what a move bears on: spaces that must be clear and leaves that must
// open. It knows no rule: what must be clear, who must keep out how far and how far a space
// may slide come with the room, see model3d/mending/provisional. What it cannot know it leaves open.

import { between, coverRun, freePlace, inFrame, leastAngle, span } from "../scene/plane.js";
import { FLAG, Solids } from "./solids.js";

const QUARTER = 90;
const LOOK = 20_000; // tenths of a millimetre past a space that are looked at for what is near
const WHY = {
  floor: "The floor in front is another one there.",
  hidden: "Whether something closes the view before it is not judged here.",
  shape: "Its shape there is not known here.",
  height: "At another height another space is asked for.",
  roof: "It depends on what hangs between.",
  more: "What was moved changes more than this page can tell.",
  never: "Something is missing to judge it.",
  soft: "A smaller space may be permitted.",
  close: "It is too close to call.",
  above: "Something foreign is above the space.",
  cells: "The cells do not fit.",
  headroom: "Whether so low a headroom is excepted, a person must say.",
  outside: "It stands outside the room, or hardly in it.",
  hinge: "Nobody says on which side it is hinged.",
};

export class Judge {
  constructor(record) {
    this.record = record;
    this.solids = new Solids(record);
    this.deepest = new Map(record.spaces.map((space) => [space.asked, deepOf(space)]));
  }

  /** Put an item some way from where it was when the room was checked: tenths of a
   * millimetre east, north and up. */
  put(id, way) {
    this.solids.put(this.solids.number.get(id), way);
  }

  /** What a move bears on, judged anew: {key, verdict, hits: [{id, by}], why, box}. */
  answers() {
    const found = [];
    const { moved } = this.solids;
    if (!moved.size) return found;
    this.isDoubtful = [...moved].some((n) => this.solids.is(n, FLAG.changesMore));
    for (const space of this.record.spaces) {
      if (this.#isTouched(space, this.#region(space))) {
        found.push(this.#inRoom(space, this.#space(space)));
      }
    }
    for (const leaf of this.record.leaves) {
      if (this.#isTouched(leaf, this.#sweep(leaf))) found.push(this.#inRoom(leaf, this.#leaf(leaf)));
    }
    return found;
  }

  /** Nothing is met of what was moved out of the room. */
  #inRoom({ owner }, told) {
    if (told.verdict !== "met" || !this.solids.moved.has(owner)) return told;
    return this.solids.isInRoom(owner) ? told : { ...told, verdict: "open", why: WHY.outside };
  }

  /** The judgements that the moves may bear on and that are not judged here, by their
   * keys: they looked at what was moved, or asked for what is where it stands now. */
  unjudged() {
    const { solids, record } = this;
    const moved = [...solids.moved];
    // How far is looked where nothing ends it depends on the whole place.
    const isWider = moved.some((n) => !solids.isWithin(n));
    const here = moved.map((n) => widened(solids.boundsNow(n), 2));
    return record.reads
      .filter(
        ({ items, boxes, ways }) =>
          moved.length &&
          (ways ||
            isWider ||
            items.some((n) => solids.moved.has(n)) ||
            boxes.some((box) => here.some((own) => isMeeting(box, own)))),
      )
      .flatMap(({ keys }) => keys);
  }

  /** What lies in what now: {id, other, by, isSure}. */
  clashes() {
    const { solids } = this;
    const found = [];
    for (const n of solids.moved) {
      const here = solids.boundsNow(n);
      for (let other = 0; other < solids.ids.length; other++) {
        if (!solids.isNear(other, here)) continue;
        if (other === n || solids.ids[other] === "floor") continue;
        const isSame = String(solids.ways[n]) === String(solids.ways[other]);
        if (isSame || (solids.moved.has(other) && other < n)) continue;
        const deep = solids.depth(n, other);
        if (deep) found.push({ id: solids.ids[n], other: solids.ids[other], ...deep });
      }
    }
    return found;
  }

  #isTouched(one, box) {
    const { solids } = this;
    if (solids.moved.has(one.owner)) return true;
    for (const n of solids.moved) if (solids.comesTo(n, box)) return true;
    return false;
  }

  #frame({ owner, frame: [x, y, ...axes] }) {
    const [east, north] = this.solids.ways[owner];
    return [x + east, y + north, ...axes];
  }

  /** A space as wide as it may have to be: [first, last, width, bottom, top, grown]. */
  #box(space, kind) {
    const [first, last, width, low, high, grown] = space[kind] ?? space.box;
    const up = this.solids.ways[space.owner][2];
    if (!up) return [first, last, width, low, high, grown];
    if (space.lift === "all") return [first, last, width, low + up, high + up, grown];
    if (space.lift !== "top") return [first, last, width, low, high, grown];
    const [least, own] = space.rises;
    const more = high - (own === null ? least : Math.max(least, own));
    return [first, last, width, low, (own === null ? least : Math.max(least, own + up)) + more, grown];
  }

  #region(space) {
    const [first, last, width, bottom, top, grown] = this.#box(space, "strict");
    const deep = this.deepest.get(space.asked) + grown;
    const { zone } = space.floor ?? {};
    const left = Math.min(first, zone ? zone[0] : first);
    const right = Math.max(last + width, zone ? zone[1] : 0);
    const frame = this.#frame(space);
    const far = Math.max(deep, zone ? zone[2] : 0);
    const low = space.floor ? -Infinity : Math.min(bottom, space.blocked ? space.blocked[0] : bottom);
    return boundsIn(frame, left, right, far, low, space.above ? Infinity : top);
  }

  #sweep({ owner, strict }) {
    const [east, north, up] = this.solids.ways[owner];
    const boxes = strict.map(([x, y, rx, ry, ox, oy, radius, low, high]) =>
      boundsIn([x + east, y + north, rx, ry, ox, oy], 0, radius, radius, low + up, high + up),
    );
    return boxes.reduce((a, b) => a.map((value, k) => (k < 3 ? Math.min : Math.max)(value, b[k])));
  }

  /** What a space asks of a solid: [from, to, possibly from, to], or null. */
  #asked(space, n) {
    if (n === space.owner) return null;
    let place = space.sorts[this.record.sorts[n]];
    if (typeof place !== "number") {
      const facing = this.#faces(n, space) ? 2 : 0;
      place = place[facing + (this.#isApart(space, n) ? 1 : 0)];
    }
    const asked = space.asked[place];
    return asked && space.headroom ? this.#excepted(space, n, asked) : asked;
  }

  /** The same where low headroom may be excepted: of structure no lower than the item's
   * top nothing is asked, what is lower or hangs beside it a person must decide. */
  #excepted(space, n, asked) {
    const { solids, record } = this;
    const { top, zone, doubt, unsaid } = space.headroom;
    const [start, end, first, last] = asked;
    const low = solids.boundsNow(n)[2];
    if ((end <= start && last <= first) || low <= zone[3] + record.touch) return asked;
    const over = low - top - solids.ways[space.owner][2];
    const isAbove = over >= -record.touch;
    const isUnsure = Math.abs(over) < doubt - record.touch;
    if (solids.is(n, FLAG.structure)) {
      if (!unsaid && isAbove && !isUnsure) return null;
      return [start, start, start, Math.max(end, last)];
    }
    const isExcepted = (isAbove || isUnsure) && this.#isLow(space);
    return isExcepted ? [start, start, first, Math.max(end, last)] : asked;
  }

  /** Whether structure overhead may make the headroom before an item low. */
  #isLow({ owner, frame, headroom: { zone } }) {
    const { solids, record } = this;
    const there = this.#frame({ owner, frame });
    const [left, right, deep, bottom, top] = zone;
    const box = boundsIn(there, left, right, deep, bottom, top);
    for (let n = 0; n < solids.ids.length; n++) {
      if (!solids.is(n, FLAG.structure) || !solids.isNear(n, box)) continue;
      if (solids.boundsNow(n)[2] <= bottom + record.touch) continue;
      for (const { points } of solids.shapes(n, there, bottom, top)) {
        const here = between(points, 0, left + record.touch, right - record.touch);
        if (between(here, 1, record.touch, deep - record.touch).length) return true;
      }
    }
    return false;
  }

  /** Whether people who work at a solid have the item in front of them. */
  #faces(n, { owner, ends, frame }) {
    const { touch, looks } = this.record;
    const [ox, oy] = frame.slice(4);
    const [east, north] = this.solids.ways[owner];
    const [dx, dy] = this.solids.ways[n];
    return (looks[n] ?? []).some(([x, y, wx, wy]) => {
      if (wx * ox + wy * oy > -1e-9) return false;
      const ahead = (px, py) =>
        (px + east - x - dx) * wx + (py + north - y - dy) * wy > touch;
      return ahead(ends[0], ends[1]) || ahead(ends[2], ends[3]);
    });
  }

  #isApart({ apart, owner }, n) {
    if (!apart) return false;
    const { solids, record } = this;
    const up = solids.ways[owner][2];
    const [, , low, , , high] = solids.boundsNow(n);
    return low >= apart[0] + up - record.touch || high <= apart[1] + up + record.touch;
  }

  /** What reaches into a space: each piece with what of the sides it blocks.
   *
   * @param kind of the space: box or strict. @param sure 0 for what must keep out for
   *   certain, 2 for what possibly must.
   */
  #reaching(space, kind, sure, near = this.#near(space)) {
    const { solids } = this;
    const { touch } = this.record;
    const [first, last, width, bottom, top, grown] = this.#box(space, kind);
    const frame = this.#frame(space);
    const found = [];
    for (const n of near) {
      const asked = this.#asked(space, n);
      if (!asked) continue;
      // Without a tolerance what is possible adds to what is certain only where it is more.
      if (sure && !space.strict && asked[0] === asked[2] && asked[1] === asked[3]) continue;
      const [start, end] = grownBy(asked[sure], asked[sure + 1], grown);
      if (end - start <= touch) continue;
      for (const shape of solids.shapes(n, frame, bottom, top)) {
        let points = between(shape.points, 1, start + touch, end - touch);
        points = between(points, 0, first + touch, last + width - touch);
        if (points.length < 3) continue;
        const [left, right] = span(points, 0);
        const far = Math.max(span(points, 1)[0] - touch, 0);
        const low = Math.max(shape.low, bottom);
        const { isWhole, high } = shape;
        found.push({ n, points, left, right, near: far, low, high, end, isWhole, start });
      }
    }
    return found;
  }

  /** The solids that are near a space now. */
  #near(space) {
    const { solids } = this;
    const box = this.#region(space);
    const found = [];
    for (let n = 0; n < solids.ids.length; n++) if (solids.isNear(n, box)) found.push(n);
    return found;
  }

  #space(space) {
    const near = this.#near(space);
    const told = { key: space.key, owner: space.owner, hits: [], why: "" };
    const up = this.solids.ways[space.owner][2];
    const [first, last, width] = this.#box(space, "box");
    const certain = this.#reaching(space, "box", 0, near);
    const shown = space.hide ? this.#inSight(space, certain, near) : certain;
    const hits = shown.filter((hit) => hit.isWhole);
    const [strictFirst, strictLast, strictWidth] = this.#box(space, "strict");
    const doubts = [...certain, ...this.#reaching(space, "strict", 2, near)];
    const place = freePlace(this.#shut(hits, width), first, last, space.wanted);
    const clear = freePlace(this.#shut(doubts, strictWidth), strictFirst, strictLast, space.wanted);
    const doubt = this.#doubt(space, up);
    const where = place === null ? this.#best(space, hits) : (clear ?? place);
    Object.assign(told, { box: this.#told(space, where), place: where });
    if (place === null || space.own) {
      told.hits = this.#hits(space, hits, where);
      told.parts = this.#parts(space, hits, where);
      if (space.own) told.hits.push({ id: this.solids.ids[space.owner], part: space.own[0], by: space.own[1] });
      const soft = space.soft ? "soft" : "";
      // A space that slides no further is shut by what is sure; only that may be doubted.
      const why = soft || (doubt === "never" ? "" : doubt);
      return { ...told, verdict: why ? "open" : "not-met", why: WHY[why] ?? "" };
    }
    if (clear === null) {
      told.hits = this.#hits(space, doubts, where);
      const isHidden = shown.length < certain.length;
      const isShape = doubts.some((hit) => !hit.isWhole);
      const isOverhead = space.headroom && doubts.some((hit) => hit.low > space.headroom.zone[3]);
      const why = isHidden ? "hidden" : isShape ? "shape" : isOverhead ? "headroom" : "close";
      return { ...told, verdict: "open", why: WHY[why] };
    }
    if (space.beside) {
      const beside = this.#beside(space, near);
      if (beside.length) {
        told.hits = this.#hits({ ...space, box: space.beside }, beside, this.#box(space, "beside")[0]);
        return { ...told, verdict: "open", why: WHY.close };
      }
    }
    return doubt
      ? { ...told, verdict: "open", why: WHY[doubt] }
      : { ...told, verdict: "met", spare: this.#spare(space, where) };
  }

  /** What a survey leaves in doubt beside a front: all but what flanks the body as near. */
  #beside(space, near) {
    const { solids, record } = this;
    const frame = this.#frame(space);
    const up = solids.ways[space.owner][2];
    const [left, right, back, face, low, high] = space.body;
    const [, , , bottom, top] = this.#box(space, "beside");
    const apart = (points) => Math.max(left - span(points, 0)[1], span(points, 0)[0] - right);
    return this.#reaching(space, "beside", 2, near).filter((hit) => {
      for (const shape of solids.shapes(hit.n, frame, bottom, top)) {
        if (!shape.isWhole || shape.low >= high + up || shape.high <= low + up) continue;
        const behind = between(shape.points, 1, back + record.touch, face - record.touch);
        if (behind.length >= 3 && apart(behind) <= apart(hit.points) + record.touch) return false;
      }
      return true;
    });
  }

  /** How much further away the nearest thing ahead is than it must be; null where nothing
   * is near, or where no depth is measured. */
  #spare(space, place) {
    if (!space.axes.includes("o")) return null;
    const { solids, record } = this;
    const [, , width, bottom, top, grown] = this.#box(space, "box");
    const frame = this.#frame(space);
    const deep = this.deepest.get(space.asked) + LOOK;
    const box = boundsIn(frame, place, place + width, deep, bottom, top);
    let least = null;
    for (let n = 0; n < solids.ids.length; n++) {
      const asked = solids.isNear(n, box) ? this.#asked(space, n) : null;
      if (!asked) continue;
      const [start, end] = grownBy(asked[2], asked[3], grown);
      if (end <= start) continue;
      for (const { points } of solids.shapes(n, frame, bottom, top)) {
        let here = between(points, 0, place + record.touch, place + width - record.touch);
        here = between(here, 1, start + record.touch, deep);
        if (here.length < 3) continue;
        const spare = span(here, 1)[0] - end;
        if (least === null || spare < least) least = spare;
      }
    }
    return least === null ? null : Math.max(least, 0);
  }

  /** Why a space cannot be judged whatever is in it; "" where it can. */
  #doubt(space, up) {
    if (this.isDoubtful) return "more";
    if (space.floor && this.#isOtherFloor(space, up)) return "floor";
    if (up && space.lift === "open") return "height";
    if (space.roofed) return "roof";
    if (space.above && this.#isUnder(space)) return "above";
    if (space.blocked && this.#isBlocked(space)) return "cells";
    return space.never ? "never" : "";
  }

  /** Whether the floor in front may be another one than the space was made for. */
  #isOtherFloor(space, up) {
    const { solids, record } = this;
    const { at, even, zone, near } = space.floor;
    const frame = this.#frame(space);
    const own = String(solids.ways[space.owner]);
    const [left, right, deep] = zone;
    let isSame = true;
    const carried = [];
    const box = boundsIn(frame, left, right, deep, -Infinity, Infinity);
    for (const n of solids.floors) {
      const isPit = solids.is(n, FLAG.hole);
      if (!solids.isNear(n, box)) {
        if (solids.comesTo(n, box)) isSame = false;
        continue;
      }
      for (const { points } of solids.shapes(n, frame, -Infinity, Infinity)) {
        const here = between(between(points, 0, left, right), 1, 0, deep);
        if (here.length < 3) continue;
        if (isPit) return true;
        if (String(solids.ways[n]) !== own) isSame = false;
        carried.push(points);
      }
    }
    const corners = [
      [record.touch, 2 * record.touch],
      [near[0] - record.touch, 2 * record.touch],
      [record.touch, near[1]],
      [near[0] - record.touch, near[1]],
    ];
    const isBare = corners.some((corner) => !carried.some((points) => holds(points, corner, 2)));
    if (isBare) return at !== 0;
    return !isSame || Boolean(up) || (at !== 0 && !even);
  }

  /** Whether something foreign that is not protected is above a space. */
  #isUnder(space) {
    const { solids } = this;
    const frame = this.#frame(space);
    const [first, , width, , top, grown] = this.#box(space, "strict");
    const deep = this.deepest.get(space.asked) + grown;
    const box = boundsIn(frame, first, first + width, deep, top, Infinity);
    for (let n = 0; n < solids.ids.length; n++) {
      if (!solids.isNear(n, box) || solids.is(n, FLAG.protected)) continue;
      if (!this.#asked(space, n)) continue;
      for (const { points } of solids.shapes(n, frame, top, Infinity)) {
        const { touch } = this.record;
        const here = between(points, 0, first + touch, first + width - touch);
        if (between(here, 1, touch, deep - touch).length) return true;
      }
    }
    return false;
  }

  #isBlocked(space) {
    const [low, high] = space.blocked;
    const up = this.solids.ways[space.owner][2];
    const [first, last, width, , , grown] = space.box;
    const there = { ...space, box: [first, last, width, low + up, high + up, grown], strict: null };
    return this.#reaching({ ...there, lift: "still" }, "box", 0).length > 0;
  }

  /** The hits that nothing can hide: what is no hit itself may close the view before one. */
  #inSight(space, hits, near) {
    if (!hits.length) return hits;
    const { solids } = this;
    const known = new Set(hits.filter((hit) => hit.isWhole).map(({ n }) => n));
    const [first, last, width, bottom, top, grown] = this.#box(space, "box");
    const frame = this.#frame(space);
    const { touch } = this.record;
    const before = [];
    for (const n of near) {
      if (known.has(n) || !solids.is(n, FLAG.closes)) continue;
      const asked = this.#asked(space, n);
      if (!asked) continue;
      const start = grownBy(asked[2], asked[3], grown)[0];
      for (const { points } of solids.shapes(n, frame, bottom, top)) {
        let here = between(points, 0, first + touch, last + width - touch);
        here = between(here, 1, start + touch, Infinity);
        if (here.length >= 3) before.push({ side: span(here, 0), near: span(here, 1)[0] });
      }
    }
    if (!before.length) return hits;
    return hits.filter((hit) => {
      const sides = before.filter((one) => one.near < hit.near).map(({ side }) => side);
      return !coverRun(sides, width - 4 * touch);
    });
  }

  #shut(hits, width) {
    const { touch } = this.record;
    // The sides of a hit were clipped to what is more than contact.
    return hits.map(({ left, right }) => [left - width + touch, right - touch]);
  }

  /** Where the least gain of one size puts a space right. */
  #best(space, hits) {
    const [first, last, width] = this.#box(space, "box");
    const ends = hits.flatMap(({ left, right }) => [left, right, left - width, right - width]);
    const places = [space.wanted, first, last, ...ends].map((p) => Math.min(Math.max(p, first), last));
    let best = null;
    for (const place of new Set(places)) {
      const least = this.#lacking(space, hits, place).by;
      const far = Math.abs(place - space.wanted);
      if (!best || least < best.least - 1e-6 || (least < best.least + 1e-6 && far < best.far)) {
        best = { place, least, far };
      }
    }
    return best.place;
  }

  /** By how much a space lacks at a place, and along which axis; of every solid as well. */
  #lacking(space, hits, place) {
    const [, , width, , top] = this.#box(space, "box");
    const { touch } = this.record;
    const each = new Map();
    for (const hit of hits) {
      const here = between(hit.points, 0, place + touch, place + width - touch);
      if (here.length < 3) continue;
      const near = Math.max(span(here, 1)[0], hit.start);
      const was = each.get(hit.n) ?? { o: 0, u: 0 };
      // Clipped by contact: what begins there begins before it.
      const from = near <= hit.start + touch ? hit.start : near;
      each.set(hit.n, { o: Math.max(was.o, hit.end - from), u: Math.max(was.u, top - hit.low) });
    }
    const axes = (space.axes || "o").split("");
    const worst = axes.map((axis) => Math.max(0, ...[...each.values()].map((one) => one[axis])));
    const by = Math.min(...worst);
    return { by, axis: axes[worst.indexOf(by)], each };
  }

  #hits(space, hits, place) {
    const { each, axis } = this.#lacking(space, hits, place);
    return [...each]
      .map(([n, by]) => ({ id: this.solids.ids[n], by: by[axis], axis }))
      .sort((a, b) => b.by - a.by);
  }

  /** A space at a place, to be drawn: frame, left, right, depth, bottom and top. */
  #told(space, place) {
    const [, , width, bottom, top] = this.#box(space, "box");
    const ends = space.asked.flatMap((one) => (one ? [one[1]] : []));
    return { frame: this.#frame(space), left: place, right: place + width, deep: Math.max(0, ...ends), bottom, top };
  }

  /** What of some hits is in a space at a place: rings of points of its frame, and heights. */
  #parts(space, hits, place) {
    const [, , width, bottom, top] = this.#box(space, "box");
    const found = [];
    for (const { n, points, low, high } of hits) {
      const ring = between(points, 0, place, place + width);
      const span = { low: Math.max(low, bottom), high: Math.min(high, top) };
      if (ring.length >= 3) found.push({ id: this.solids.ids[n], ring, ...span });
    }
    return found;
  }

  #leaf(leaf) {
    const told = { key: leaf.key, owner: leaf.owner, hits: [], why: "" };
    const sure = leaf.sure.map((one) => this.#turn(one, leaf, true));
    const strict = leaf.strict.map((one) => this.#turn(one, leaf, false));
    const least = Math.min(leaf.angle, QUARTER);
    const worst = (turns) => turns.reduce((a, b) => (a.angle <= b.angle ? a : b));
    const [shut, tight] = [worst(sure), worst(strict)];
    const isDoubtful = this.isDoubtful ? "more" : "";
    if (shut.angle < least && !leaf.both) {
      const verdict = isDoubtful ? "open" : "not-met";
      return { ...told, verdict, hits: shut.stops, angle: shut.angle, why: WHY[isDoubtful] ?? "" };
    }
    if (tight.angle < least) {
      const why = leaf.both ? WHY.hinge : WHY[tight.isWhole ? "close" : "shape"];
      return { ...told, verdict: "open", hits: tight.stops, angle: tight.angle, why };
    }
    const doubt = isDoubtful || (leaf.never ? "never" : "");
    return { ...told, verdict: doubt ? "open" : "met", angle: QUARTER, why: WHY[doubt] ?? "" };
  }

  /** How far a leaf turns, and what stops it. */
  #turn([x, y, rx, ry, ox, oy, radius, low, high], { owner, meter }, isSure) {
    const { solids } = this;
    const { touch } = this.record;
    const [east, north, up] = solids.ways[owner];
    const frame = [x + east, y + north, rx, ry, ox, oy];
    const [bottom, top] = [low + up, high + up];
    const box = boundsIn(frame, 0, radius, radius, bottom, top);
    const stops = [];
    let isWhole = true;
    for (let n = 0; n < solids.ids.length; n++) {
      if (n === owner || solids.ids[n] === "floor" || !solids.isNear(n, box)) continue;
      if (solids.is(n, FLAG.hole) || (meter && solids.is(n, FLAG.meter))) continue;
      let angle = QUARTER;
      for (const shape of solids.shapes(n, frame, bottom, top)) {
        if (isSure && !shape.isWhole) continue;
        const end = radius - touch;
        const inner = between(between(shape.points, 0, touch, end), 1, touch, end);
        if (leastAngle(inner, end) === null) continue;
        const whole = between(between(shape.points, 0, 0, radius), 1, 0, radius);
        angle = Math.min(angle, leastAngle(whole, radius) ?? QUARTER);
        isWhole &&= shape.isWhole;
      }
      if (angle < QUARTER) stops.push({ id: solids.ids[n], angle });
    }
    stops.sort((a, b) => a.angle - b.angle);
    return { stops, angle: stops.length ? stops[0].angle : QUARTER, isWhole };
  }
}

function isMeeting(box, other) {
  for (let k = 0; k < 3; k++) if (box[k] > other[k + 3] || box[k + 3] < other[k]) return false;
  return true;
}

function widened(box, by) {
  return box.map((value, n) => (n < 3 ? value - by : value + by));
}

/** The furthest that anything must keep out of a space. */
function deepOf({ asked }) {
  return Math.max(0, ...asked.flatMap((one) => (one ? [one[1], one[3]] : [])));
}

function grownBy(start, end, by) {
  if (!by) return [start, end];
  const from = start ? Math.max(start - by, 0) : 0;
  return [from, end > start ? end + by : from];
}

/** The bounds of a box of a frame in the world: its left and right, its depth, heights. */
function boundsIn([x, y, rx, ry, ox, oy], left, right, deep, low, high) {
  const xs = [];
  const ys = [];
  for (const u of [left, right]) {
    for (const v of [0, deep]) {
      xs.push(x + u * rx + v * ox);
      ys.push(y + u * ry + v * oy);
    }
  }
  return [Math.min(...xs), Math.min(...ys), low, Math.max(...xs), Math.max(...ys), high];
}

/** Whether a convex ring, grown by some contact, holds a point. */
function holds(points, [u, v], contact) {
  let sign = 0;
  for (let n = 0; n < points.length; n++) {
    const [au, av] = points[n];
    const [bu, bv] = points[(n + 1) % points.length];
    const long = Math.hypot(bu - au, bv - av);
    if (!long) continue;
    const far = ((bu - au) * (v - av) - (bv - av) * (u - au)) / long;
    if (Math.abs(far) <= contact) continue;
    if (sign && Math.sign(far) !== sign) return false;
    sign = Math.sign(far);
  }
  return true;
}
