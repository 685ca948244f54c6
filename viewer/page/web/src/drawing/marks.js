// Text in the picture: numbered badges, names, and sizes. It is laid over the picture,
// so it stays sharp, and nothing overlaps: badges go first, then sizes, then names;
// what finds no room is hidden. All keep off what is in the way, where there is other room.

import { Vector3 } from "three";
import { draw, make } from "../dom.js";
import { badgesOf } from "./badges.js";
import { bodiesOf, spotOf } from "./insight.js";
import { lead, leader } from "./leader.js";
import { preciousOf } from "./precious.js";

const GAP = 3; // pixels between two texts
const SHORTEST = 30; // pixels of a line whose size is told
const CORNER = 8; // pixels about a badge that points at nothing
const STEM = 26; // pixels from a badge to what it points at
const ROUND = [90, 50, 130, 10, 170, 270, 310, 230].map((degrees) => (degrees * Math.PI) / 180);
const SHIFTS = [
  [0, -1],
  [0, 1],
  [0, -2],
  [0.6, -1],
  [-0.6, -1],
  [0.6, 1],
  [-0.6, 1],
];

// For names of things that a finding is about.
const BESIDE = [0, -1, 1, -2, 2].flatMap((down) => [1.1, -1.1].map((right) => [right, down]));
const FARTHER = [-4, 4, -6, 6].flatMap((down) => [0, -0.8, 0.8].map((right) => [right, down]));

// For sizes that decide, where all about their line is taken.
const FARTHEST = [-1.2, 1.2, -2.4, 2.4, -3.6, 3.6].flatMap((down) =>
  [0, -0.4, 0.4, -0.8, 0.8].map((right) => [right, down]),
);

export class Marks {
  /** @param {{picture, camera, onPick: function(number)}} room onPick takes a judgement's index. */
  constructor(holder, room) {
    this.holder = holder;
    this.room = room;
    this.stems = draw("svg", { class: "stems", "aria-hidden": "true" });
    this.texts = make("div", { class: "texts" });
    holder.append(this.stems, this.texts);
    this.badges = [];
    this.sizes = [];
    this.names = [];
    this.obstacles = [];
    this.bodies = [];
  }

  /** Show what a stage says. */
  show(stage, { judgement, items, hidden }) {
    const { dimensions, labels } = stage;
    this.bodies = bodiesOf(this.room.picture);
    this.texts.replaceChildren();
    this.stems.replaceChildren();
    this.badges = hidden.has("badges") ? [] : badgesOf(stage, judgement, this.room.onPick);
    for (const { element, stem } of this.badges) {
      this.texts.append(element);
      this.stems.append(stem);
    }
    const sizes = hidden.has("dimensions") ? [] : [...dimensions];
    this.sizes = sizes.sort((a, b) => b.short - a.short).map((size) => this.#size(size));
    const names = hidden.has("labels") ? [] : labels;
    this.names = names
      .map((label) => this.#name(label, items.has(label.item)))
      .sort((a, b) => a.rank - b.rank);
    this.measure();
  }

  /** Measure all texts: their letters may have become larger or smaller. */
  measure() {
    for (const mark of [...this.badges, ...this.sizes, ...this.names]) {
      mark.width = mark.element.offsetWidth;
      mark.height = mark.element.offsetHeight;
    }
  }

  #size(size) {
    const lines = [
      size.name && make("span", { class: "size-name" }, `${size.name} `),
      make("b", {}, size.required),
    ];
    const kind = `${size.short ? "short" : ""} ${size.judgement === null ? "own" : ""}`.trim();
    const element = make("div", { class: `size ${kind}` }, make("div", {}, ...lines));
    if (size.short) {
      const there = size.most ? "it is " : "there is ";
      element.append(make("div", { class: "there" }, there, make("b", {}, size.provided)));
    }
    const line = leader(kind);
    this.texts.append(element);
    this.stems.append(line);
    const aside = new Vector3(...size.aside);
    const [start, end] = [new Vector3(...size.start), new Vector3(...size.end)];
    // In the middle of its line, or else somewhere else along it.
    const anchors = [0.5, 0.3, 0.7, 0.1, 0.9].map((part) =>
      start.clone().lerp(end, part).addScaledVector(aside, ASIDE),
    );
    // What decides, and what an author has drawn, is told however short its line is.
    const ends = size.short || size.judgement === null ? null : [start, end];
    return { element, line, anchors, aside, ends };
  }

  #name(label, picked) {
    const classes = `name${picked ? " picked" : ""}${label.ghost ? " ghost" : ""}`;
    const element = make("div", { class: classes }, label.text);
    this.texts.append(element);
    const anchor = new Vector3(...label.anchor);
    return { element, item: label.item, anchor, rank: picked ? -1 : label.rank };
  }

  /** Put every text where its point is now.
   *
   * @param {{left, top, right, bottom}[]} obstacles what else lies over the picture.
   */
  place(width, height, obstacles) {
    const taken = obstacles.map((box) => ({ ...box }));
    const seenAt = (point) => this.#seen(point, width, height);
    const precious = preciousOf(this.room.picture, seenAt);
    const room = { width, height, taken, precious };
    const order = [...this.badges].sort((a, b) => b.first - a.first);
    for (const mark of order) this.#placeBadge(mark, seenAt(mark.anchor), room);
    for (const mark of this.sizes) {
      const places = isSeen(mark, seenAt) ? sizePlaces(mark, seenAt) : [];
      this.#placeText(mark, places, room);
      lead(mark.line, mark.box, mark.at);
    }
    const eye = this.room.camera.eye.position;
    for (const mark of this.names) {
      const named = { ...mark, ...spotOf(mark, this.bodies, eye) };
      this.#placeText(mark, namePlaces(named, seenAt), room);
    }
  }

  /** Put a text at the first of some places that is free. */
  #placeText(mark, places, room) {
    const spot = firstFree(mark, places, room);
    mark.box = spot && boxAt(spot.x, spot.y, mark);
    if (spot) {
      mark.at = spot.at;
      room.taken.push(mark.box);
      move(mark.element, mark.box);
    }
    setShown(mark.element, Boolean(spot));
  }

  #seen(anchor, width, height) {
    if (this.room.picture.isCut(anchor)) return null;
    const point = anchor.clone().project(this.room.camera.eye);
    if (point.z > 1 || Math.abs(point.x) > 1.02 || Math.abs(point.y) > 1.02) return null;
    return { x: ((point.x + 1) / 2) * width, y: ((1 - point.y) / 2) * height };
  }

  #placeBadge(mark, at, room) {
    const places = mark.isAimed ? at && badgePlaces(mark, at) : cornerPlaces(mark, room.height);
    const spot = places && firstFree(mark, places, room);
    const box = spot && boxAt(spot.x, spot.y, mark);
    Object.assign(mark, { at, box });
    setShown(mark.element, Boolean(box));
    setShown(mark.stem, Boolean(box) && mark.isAimed);
    if (!box) return;
    room.taken.push(box);
    move(mark.element, box);
    if (!mark.isAimed) return;
    const to = { x: (box.left + box.right) / 2, y: (box.top + box.bottom) / 2 };
    for (const [name, value] of Object.entries({ x1: at.x, y1: at.y, x2: to.x, y2: to.y })) {
      mark.stem.setAttribute(name, value.toFixed(1));
    }
  }

  /** The texts that are to be seen: what each says, and its box in the picture. */
  get shown() {
    return [...this.names, ...this.sizes, ...this.badges]
      .filter((mark) => mark.box)
      .map(({ element, box, at, number, verdict, isAimed }) => {
        const lines = number
          ? [number]
          : element.children.length
            ? [...element.children].map((line) => line.textContent)
            : [element.textContent];
        return { lines, box, at, number, verdict, isAimed };
      });
  }
}

/** Metres a dimension line is moved off what it measures. */
export const ASIDE = 0.12;

/** Places of a badge about the point it points at, the nearest first. */
function* badgePlaces(mark, at) {
  for (const far of [1, 1.7, 2.5, 3.4, 4.4]) {
    for (const angle of ROUND) {
      const aside = STEM * far + Math.max(mark.width - mark.height, 0) / 2;
      const x = at.x + aside * Math.cos(angle);
      const y = at.y - STEM * far * Math.sin(angle);
      yield { x: x - mark.width / 2, y: y - mark.height / 2 };
    }
  }
}

/** Places of a badge that points at nothing: down the left side. */
function* cornerPlaces(mark, height) {
  for (let top = CORNER; top < height; top += mark.height + CORNER) yield { x: CORNER, y: top };
}

/** The first of some places that is free and hides nothing in the way; else the first that
 * is free, but for a name of which nothing is said. */
function firstFree(mark, places, { width, height, taken, precious }) {
  let second = null;
  for (const spot of places) {
    const box = boxAt(spot.x, spot.y, mark);
    if (!isInside(box, width, height) || !isFree(box, taken)) continue;
    if (isFree(box, precious)) return spot;
    second ??= spot;
  }
  return mark.rank > 0 ? null : second;
}

/** Whether the line of a size is long enough to be made out. */
function isSeen({ ends }, seenAt) {
  if (!ends) return true;
  const [start, end] = ends.map(seenAt);
  return !start || !end || Math.hypot(end.x - start.x, end.y - start.y) >= SHORTEST;
}

/** Places of a size: off its line, so that it does not cover it, the nearest first. What
 * decides and finds none there goes wherever there is room about it. */
function* sizePlaces({ anchors, aside, width, height, ends }, seenAt) {
  for (const far of [1, 1.6, 2.4, -1, 3.4]) {
    for (const anchor of anchors) {
      const at = seenAt(anchor);
      const towards = seenAt(anchor.clone().addScaledVector(aside, 0.1));
      if (!at || !towards) continue;
      const length = Math.hypot(towards.x - at.x, towards.y - at.y);
      const [x, y] =
        length > 1 ? [(towards.x - at.x) / length, (towards.y - at.y) / length] : [0, -1];
      const reach = far * (0.5 / Math.max(Math.abs(x) / width, Math.abs(y) / height) + 7);
      yield { at, x: at.x + x * reach - width / 2, y: at.y + y * reach - height / 2 };
    }
  }
  const at = ends ? null : seenAt(anchors[0]);
  if (!at) return;
  for (const [right, down] of [...BESIDE, ...FARTHER, ...FARTHEST]) {
    yield { at, x: at.x - width / 2 + right * width, y: at.y - height / 2 + down * height };
  }
}

/** Places of a name about its point, or on it where only that is seen; more of them for what
 * is picked. */
function* namePlaces({ anchor, isMoved, rank, width, height }, seenAt) {
  const at = seenAt(anchor);
  if (!at) return;
  const shifts = isMoved ? [[0, 0], [0, 1], ...SHIFTS] : SHIFTS;
  const more = rank > 0 ? [] : rank < 0 ? [...BESIDE, ...FARTHER] : BESIDE;
  for (const [right, down] of [...shifts, ...more]) {
    const x = at.x - width / 2 + right * width;
    yield { at, x, y: at.y - height / 2 + down * (height / 2 + 5) };
  }
}

function boxAt(left, top, { width, height }) {
  return { left, top, right: left + width, bottom: top + height };
}

function isInside(box, width, height) {
  return box.left >= 2 && box.top >= 2 && box.right <= width - 2 && box.bottom <= height - 2;
}

function isFree(box, taken) {
  return taken.every(
    (other) =>
      box.left >= other.right + GAP ||
      box.right <= other.left - GAP ||
      box.top >= other.bottom + GAP ||
      box.bottom <= other.top - GAP,
  );
}

function move(element, box) {
  element.style.transform = `translate(${Math.round(box.left)}px, ${Math.round(box.top)}px)`;
}

function setShown(element, shown) {
  element.style.visibility = shown ? "visible" : "hidden";
}
