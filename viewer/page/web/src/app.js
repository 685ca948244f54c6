// What is picked, shown and played, and who has to know of it.

import { Vector3 } from "three";
import { Camera } from "./view/camera.js";
import { Controls } from "./view/controls.js";
import { nameOf, stageOf } from "./scene/data.js";
import { byId, make } from "./dom.js";
import { Course } from "./lesson/course.js";
import { Doors } from "./view/doors.js";
import { Dragging } from "./panels/dragging.js";
import { Judgements } from "./panels/judgements.js";
import { boundsOf, cornersOf } from "./scene/geometry.js";
import { Layers } from "./view/layers.js";
import { legendOf, showLegend } from "./drawing/legend.js";
import { Maps } from "./drawing/maps.js";
import { Marks } from "./drawing/marks.js";
import { Motion, slidesOf } from "./lesson/motion.js";
import { printedLesson } from "./lesson/printed.js";
import { countsOf, judgementTable, printStill } from "./panels/paper.js";
import { Picture, clear } from "./drawing/picture.js";
import { Remedies } from "./panels/remedies.js";
import { Section } from "./view/section.js";
import { sizeLines } from "./drawing/sizes.js";
import { goLive, stepOfKey, teach } from "./lesson/teaching.js";
import { Viewing } from "./view/viewing.js";
import { Views } from "./view/views.js";
import { WhatIf } from "./judge/whatif.js";

const SOLID = new Set(["solid", "leaf", "surface"]);

const STAY = false; // the view does not fly

const REST = 200; // milliseconds without a movement until everything is drawn
const LATER = 500; // milliseconds until what is printed is written anew

export class App {
  constructor({ course, palette, signs, live, still, ...room }) {
    const { stage, start, whatif } = course ? course[0] : room;
    this.start = start; // the view in which most of what is wrong is seen
    this.base = stageOf(stage);
    this.stage = this.base;
    this.palette = palette;
    this.signs = signs;
    this.viewing = new Viewing(byId("tools"), () => this.lesson);
    this.judgement = null; // index of the judgement that is picked
    this.item = null; // id of the item that is picked
    this.camera = new Camera();
    this.doors = new Doors(() => this.#turned());
    this.judgements = new Judgements(byId("list"), {
      pick: (index, item) => this.pick(index, item),
      pickItem: (item) => this.pickItem(item),
      angle: (leaf) => this.doors.angleOf(leaf),
      turn: (leaf, degrees) => this.doors.set(leaf, degrees),
      play: (leaf) => this.doors.play(leaf),
      follow: (leaf, act) => this.doors.follow(leaf, act),
      canMove: (item) => Boolean(this.mover?.state.places[item]),
      more: (item) => this.mover?.form(item) ?? null,
      remedies: (index) => {
        if (this.live) return this.mover === this.live ? this.live.remedies(index) : null;
        return this.remedies.listed(this.stage, index);
      },
    });
    this.told = null; // what a step of a lesson tells of its room
    this.motion = new Motion(this);
    this.remedies = new Remedies({
      idle: () => !this.trial,
      show: (stage, before) => this.#play(stage, before),
      pick: (index) => this.pick(index),
    });
    this.remedies.take(this.base, this.base.remedies);
    this.layers = new Layers(byId("layers"), () => this.#refresh());
    this.layers.reset(this.stage);
    const onSection = (section) => {
      this.picture?.setSection(section);
      this.redraw();
    };
    this.section = new Section(byId("section"), this.camera, onSection, () => this.#middle());
    this.#buildPicture(still);
    this.gauges = []; // distances that are shown while something is dragged
    if (live) goLive(this, live);
    else if (whatif) this.#ask(whatif);
    this.show(this.stage);
    if (course) this.course = new Course(byId("course"), course, (told) => this.open(told));
    else if (this.stage.lesson) teach(this).take(this.base);
    this.#listen();
  }

  /** What moves things: a question that asks for it, the program that serves the page, or
   * the page itself. */
  get mover() {
    return this.trial ?? this.live ?? this.whatif ?? null;
  }

  /** Show another room with its lesson, as it was left. */
  open({ stage, start, whatif, memory }) {
    this.trial = null;
    this.start = start;
    this.base = stageOf(stage);
    this.pick(null);
    this.section.choose("off");
    this.doors.reset();
    this.layers.reset(this.base);
    this.told = null;
    this.remedies.take(this.base, this.base.remedies);
    this.#ask(whatif);
    this.show(this.base);
    (this.lesson ?? teach(this)).take(this.base, memory);
    if (!this.lesson.step) this.goal = () => this.poseOf(this.firstView());
    this.camera.isFree = false;
    if (this.picture) this.resize();
  }

  #ask(told) {
    const { base: stage, palette } = this;
    const show = (changed) => {
      if (this.whatif !== asked) return;
      this.base = changed;
      if (!asked.isPaused) this.show(changed);
      this.dragging?.settle();
    };
    const asked = new WhatIf(told, { stage, palette, show });
    this.whatif = asked;
    this.whatif.enter();
  }

  /** Show the room after a remedy; without a stage to come from, as it was. */
  #play(stage, before) {
    if (before) this.wasPaused = this.mover?.isPaused;
    this.mover?.setPaused(before ? true : this.wasPaused);
    this.motion.stop();
    this.show(stage);
    if (before) this.motion.play(before, stage);
  }

  #buildPicture(still) {
    const canvas = byId("room");
    try {
      this.picture = new Picture(canvas, this.camera, this.palette);
    } catch {
      document.body.classList.add("flat");
      byId("stage").append(byId("table"));
      if (still) byId("still").src = still;
      else byId("still").remove();
      return;
    }
    this.marks = new Marks(byId("marks"), {
      picture: this.picture,
      camera: this.camera,
      onPick: (index) => this.pick(index),
    });
    this.views = new Views(byId("views"), this.camera, (view) => this.fly(() => this.poseOf(view)));
    this.dragging = new Dragging(this);
    this.maps = new Maps(this.palette);
    new Controls(canvas, this.camera, {
      pick: (x, y) => {
        const item = this.picture.pick(x, y)?.shape.item ?? null;
        this.lesson?.named(item);
        this.pickItem(item, STAY);
      },
      over: (x, y) => this.#over(x, y),
      moved: () => {
        this.movedAt = performance.now();
        this.redraw();
      },
      grab: (x, y, isTouch) => this.dragging.grab(x, y, isTouch),
      drag: (x, y, isUp) => this.dragging.drag(x, y, isUp),
      drop: () => this.dragging.drop(),
      step: (right, up, isUp) => this.dragging.step(right, up, isUp),
      goesOn: () => this.#goesOn(),
    });
    canvas.addEventListener("webglcontextrestored", () => this.redraw());
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
    // Larger letters need other places, though the picture keeps its size.
    addEventListener("resize", () => {
      this.marks.measure();
      this.redraw();
    });
  }

  /** Whether the arrow keys lead through a lesson after a click or a drag in the room: always,
   * but where somebody works at a room and has not begun its lesson. */
  #goesOn() {
    if (!this.lesson?.steps.length) return false;
    return this.lesson.step > 0 || !this.live || !this.dragging.canMove(this.item);
  }

  /** Show another stage; what is picked stays picked where it is still there. */
  show(stage) {
    const before = this.stage.judgements[this.judgement];
    this.stage = stage;
    if (before) {
      const again = stage.judgements.findIndex((judgement) => nameOf(judgement) === nameOf(before));
      this.judgement = again < 0 ? null : again;
    }
    if (this.item && !stage.shapes.has(this.item)) this.item = null;
    this.section.setRoom(stage);
    this.doors.show(stage);
    this.layers.show(stage);
    this.views?.setViews(stage.views);
    const drawn = [...stage.shapes.values()].flatMap((shape) => [shape.vertices, shape.edges]);
    const { low, high } = boundsOf([...drawn, stage.low, stage.high]);
    this.camera.room = {
      centre: low.clone().add(high).multiplyScalar(0.5),
      radius: Math.max(low.distanceTo(high) / 2 + 2, 1),
      corners: stage.outline.map(([x, y]) => new Vector3(x, y, stage.low.z)),
    };
    this.corners = cornersOf(low, high);
    this.#setTexts();
    this.picture?.setShapes(stage.shapes, stage.outline);
    this.#refresh();
  }

  #setTexts() {
    const { stage } = this;
    byId("title").textContent = stage.title;
    byId("rules").textContent = stage.rules;
    byId("caution").textContent = stage.caution;
    byId("unread").textContent = stage.unread && `From memory: ${stage.unread}`;
    byId("unread").hidden = !stage.unread;
    document.title = stage.title;
    const counts = countsOf(stage).map(({ verdict, words, count }) =>
      make(
        "span",
        { class: `count ${verdict}${count ? "" : " none"}` },
        make("b", {}, String(count)),
        ` ${words}`,
      ),
    );
    byId("counts").replaceChildren(...(stage.isMasked ? [] : counts));
    clearTimeout(this.tabling);
    this.tabling = setTimeout(() => this.#fillTable(), this.picture ? LATER : 0);
  }

  #fillTable() {
    byId("table").replaceChildren(judgementTable(this.stage));
  }

  /** Put a lesson on paper: its steps, in place of the judgements of one of them. */
  #fillSheet() {
    const lesson = this.lesson?.printed;
    document.body.classList.toggle("taught", Boolean(lesson));
    byId("sheet").replaceChildren(...(lesson ? [printedLesson(lesson)] : []));
  }

  /** Pick a judgement by its index; null picks nothing.
   *
   * @param flies whether the view goes there; what is picked in the room is in sight.
   */
  pick(index, item = null, flies = true) {
    const judgement = index === null ? null : this.stage.judgements[index];
    this.judgement = judgement ? index : null;
    this.item = judgement ? (item ?? judgement.subject) : null;
    this.isItemPicked = item !== null;
    this.mover?.picked?.(this.item);
    this.dragging?.rest();
    this.#refresh();
    if (judgement && this.motion.slides.length) this.motion.play(null, this.stage);
    if (judgement && flies) this.fly(() => this.#poseFor(judgement));
  }

  /** Pick an item by its id, and the worst judgement it has to do with. */
  pickItem(item, flies = true) {
    if (!item) return this.pick(null);
    const { judgements } = this.stage;
    let index = judgements.findIndex((judgement) => judgement.subject === item);
    if (index < 0 || judgements[index].verdict === "met") {
      const other = judgements.findIndex((judgement) => judgement.in_the_way.includes(item));
      if (other >= 0) index = other;
    }
    if (index >= 0) return this.pick(index, item, flies);
    this.judgement = null;
    this.item = item;
    this.isItemPicked = true;
    this.mover?.picked?.(item);
    this.dragging?.rest();
    this.#refresh();
    return flies ? this.#flyToItem(item) : undefined;
  }

  /** Pick an item alone, as it is about to move: no judgement, and the view stays. */
  hold(item) {
    this.judgement = null;
    this.item = item;
    this.isItemPicked = true;
    this.mover?.picked?.(item);
    this.#refresh();
  }

  #flyToItem(item) {
    const bounds = this.picture?.boundsOf(this.#shapesOf(item));
    if (!bounds) return;
    const target = bounds.low.clone().add(bounds.high).multiplyScalar(0.5);
    const pose = { ...this.camera.pose(), target, angle: 28 };
    this.fly(() => this.camera.fitted(pose, around(bounds)));
  }

  /** The direction the stage looks from, as near as this picture allows. */
  #poseFor(judgement) {
    const pose = this.camera.poseOf(judgement.look);
    const { judgements, dimensions } = this.stage;
    const sizes = dimensions.filter((size) => judgements[size.judgement] === judgement);
    const ends = sizes.flatMap((size) => [size.start, size.end, size.reached_end]);
    const ids = [...judgement.shapes, ...this.#shapesOf(judgement.subject)];
    const bounds = this.picture.boundsOf(ids, ends);
    return bounds ? this.camera.fitted(pose, around(bounds)) : pose;
  }

  boundsOf(item) {
    const found = this.picture.boundsOf(this.#shapesOf(item));
    return found && [...found.low, ...found.high];
  }

  /** The middle of what is picked. */
  #middle() {
    const found = this.item && this.picture?.boundsOf(this.#shapesOf(this.item));
    return found ? found.low.clone().add(found.high).multiplyScalar(0.5).toArray() : null;
  }

  #shapesOf(item) {
    return [...this.stage.shapes.values()]
      .filter((shape) => shape.item === item && SOLID.has(shape.role))
      .map((shape) => shape.id);
  }

  poseOf(view) {
    return this.camera.fitted(this.camera.poseOf(view), this.corners);
  }

  /** Glide to the pose that a function gives for the picture as it is. */
  fly(goal) {
    if (!this.picture) return;
    this.goal = goal;
    this.camera.fly(goal());
    this.redraw();
  }

  firstView() {
    return this.start;
  }

  /** Draw what is picked again, with what has become known of it. */
  again() {
    this.#refresh();
  }

  #refresh() {
    const { stage, picture } = this;
    const judgement = stage.judgements[this.judgement];
    const isRoom = stage === this.base && this.live;
    this.judgements.waiting = new Set(isRoom ? this.live.state.waiting : []);
    this.judgements.show(stage, this.judgement, this.item, this.isItemPicked);
    if (!picture) return;
    picture.hidden = this.layers.hidden;
    picture.focus = judgement ? new Set(judgement.shapes) : null;
    picture.picked = new Set(this.item ? [this.item, ...(judgement ? [judgement.subject] : [])] : []);
    picture.outlined = new Set(judgement?.in_the_way);
    const said = stage.judgements.filter(({ verdict }) => verdict !== "met");
    const isTold = this.told?.stage === stage;
    const about = [...picture.picked, ...said.map(({ subject }) => subject)];
    picture.told = new Set(isTold ? [...about, this.told.item] : about);
    picture.angles = this.doors.angles;
    picture.refresh();
    clear(picture.extra);
    if (!this.layers.hidden.has("dimensions")) {
      for (const lines of sizeLines(this.#sizes(), this.palette)) picture.extra.add(lines);
    }
    const slid = judgement ? [judgement] : [];
    if (!judgement && isTold) slid.push(...stage.judgements.filter((one) => one.subject === this.told.item));
    this.motion.take(slidesOf(stage, slid));
    const ghosts = this.layers.hidden.has("spaces") ? [] : this.motion.ghosts(stage, this.palette);
    for (const lines of ghosts) picture.extra.add(lines);
    const isMapped = this.live && this.item && this.maps.item === this.item;
    if (stage === this.base && this.live) {
      for (const part of this.maps.parts(this.item)) picture.extra.add(part);
    }
    const more = { picked: true, centred: ghosts.length > 0, free: isMapped ? this.maps.words : "" };
    showLegend(byId("legend"), legendOf(stage, this.layers.hidden, this.signs, more));
    const shown = { judgement: this.judgement, items: picture.picked, hidden: this.layers.hidden };
    this.marks.show({ ...stage, dimensions: this.#sizes() }, shown);
    this.#setAlternative();
    this.redraw();
  }

  /** Say in words what the picture shows, for those who do not see it. */
  #setAlternative() {
    const { stage, told } = this;
    const counts = countsOf(stage).map(({ words, count }) => `${count} ${words}`);
    const parts = [stage.title, stage.isMasked ? "What is judged is hidden" : counts.join(", ")];
    const sizes = this.#sizes().map(({ name, required, short, most, provided }) => {
      const there = short ? `, ${most ? "it is" : "there is"} ${provided}` : "";
      return `${name} ${required}${there}`.trim();
    });
    if (this.item) parts.push(`Picked: ${stage.shapes.get(this.item)?.label ?? this.item}`);
    else if (told?.stage === stage && told.item) parts.push(`Looked at: ${told.item}`);
    if (sizes.length) parts.push(`Sizes drawn: ${sizes.join("; ")}`);
    byId("room-words").textContent = `${parts.join(". ")}.`;
  }

  /** The sizes of the judgement that is picked, or else of the step that is shown; while
   * something moves its distances. */
  #sizes() {
    if (this.gauges.length) return this.gauges.map((size) => ({ ...size, judgement: this.judgement }));
    if (this.judgement === null) return this.told?.stage === this.stage ? this.told.sizes : [];
    return this.stage.dimensions.filter((size) => size.judgement === this.judgement);
  }

  /** Show some distances instead of sizes; none to show sizes again. */
  gauge(sizes) {
    if (!sizes.length && !this.gauges.length) return;
    this.gauges = sizes;
    this.#refresh();
  }

  #turned() {
    if (!this.picture) return;
    this.picture.angles = this.doors.angles;
    this.picture.refresh();
    this.redraw();
  }

  #over(x, y) {
    if (x === null || this.stage.shapes.size > 2000) return;
    const found = this.picture.pick(x, y)?.shape;
    const canvas = byId("room");
    const canMove = found && this.dragging.canMove(found.item);
    canvas.style.cursor = canMove ? "move" : found ? "pointer" : "";
    canvas.title = found?.label ?? "";
  }

  /** Fit the picture to its place on the page. */
  resize() {
    const { clientWidth: width, clientHeight: height } = byId("room");
    if (!width || !height) return;
    this.picture.resize(width, height, window.devicePixelRatio);
    this.camera.eye.aspect = width / height;
    this.camera.inset = {
      left: 0.03,
      right: 0.03,
      top: Math.min(48 / height, 0.2),
      bottom: Math.min(40 / height, 0.2),
    };
    // Until the viewer moves the camera, the picture keeps what it was made to show.
    this.goal ??= () => this.poseOf(this.firstView());
    if (!this.camera.isFree) this.camera.aim(this.goal());
    this.#draw(performance.now());
  }

  /** Draw with the next frame. */
  redraw() {
    if (!this.picture || this.isWaiting) return;
    this.isWaiting = true;
    requestAnimationFrame((now) => this.#draw(now));
  }

  #draw(now) {
    this.isWaiting = false;
    const isFlying = this.camera.advance(now);
    const isMoving = isFlying || performance.now() - (this.movedAt ?? 0) < REST;
    this.picture.draw(isMoving);
    if (isMoving) this.#time();
    clearTimeout(this.resting);
    if (isMoving && !isFlying) this.resting = setTimeout(() => this.redraw(), REST);
    this.firstFrame ??= performance.now();
    const holder = byId("room").parentElement.getBoundingClientRect();
    const obstacles = [...document.querySelectorAll(".over")]
      .map((element) => element.getBoundingClientRect())
      .filter((box) => box.width)
      .map((box) => ({
        left: box.left - holder.left,
        top: box.top - holder.top,
        right: box.right - holder.left,
        bottom: box.bottom - holder.top,
      }));
    this.marks.place(holder.width, holder.height, obstacles);
    this.views.show();
    if (isFlying) this.redraw();
  }

  // The next picture waits until this one is drawn.
  #time() {
    const start = performance.now();
    requestAnimationFrame(() => this.picture.took(performance.now() - start));
  }

  #listen() {
    document.addEventListener("keydown", (event) => {
      const isField = event.target.matches?.("input, textarea, select");
      if (document.querySelector("dialog[open]")) return;
      if (event.key === "Escape") this.pick(null);
      else if (event.key === "Home" && !isField) byId("whole").click();
      else if (!isField && !event.repeat && this.viewing.take(event)) void 0;
      else if (this.course?.isShown) return;
      else if (this.lesson && stepOfKey(event, isField))
        this.lesson.go(stepOfKey(event, isField));
      else return;
      event.preventDefault();
    });
    byId("undo").addEventListener("click", () => this.mover?.undo());
    byId("back").addEventListener("click", () => this.mover?.putBack?.());
    byId("whole").addEventListener("click", () => this.fly(() => this.poseOf(this.firstView())));
    addEventListener("beforeprint", () => {
      this.#fillTable();
      this.#fillSheet();
      if (this.picture) printStill(this);
    });
  }
}

/** Corners of a box about some bounds, with room for the texts beside it. */
function around({ low, high }) {
  const wide = 0.3 + 0.08 * low.distanceTo(high);
  return cornersOf(low.clone().subScalar(wide), high.clone().addScalar(wide));
}
