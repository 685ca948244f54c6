// The drawn room: objects, light, section and picking. Draws only when something changed.

import {
  AmbientLight,
  DirectionalLight,
  Group,
  HemisphereLight,
  Matrix4,
  Raycaster,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three";
import { Batch, isSingle, lookOf } from "./batches.js";
import { Crowd, MANY, pieceOf, pieceSize } from "./crowd.js";
import { cutParts, nearerCut } from "./cutting.js";
import { isResult } from "../scene/data.js";
import { boundsOf, turn } from "../scene/geometry.js";
import { markedParts } from "./marking.js";
import { scaleLines, sectionPlane } from "./materials.js";
import { firstHit } from "./picking.js";
import { casts, floorShadow } from "./shadow.js";

const AXES = { x: 0, y: 1, z: 2 };
const SLOW = 70; // milliseconds; three pictures in a row that take longer are too slow

export class Picture {
  /** Throws where the browser has no WebGL. */
  constructor(canvas, camera, palette) {
    // Asked for here, because the library complains loudly where there is none.
    const context = canvas.getContext("webgl2", { antialias: true, alpha: true, depth: true });
    if (!context) throw new Error("no WebGL");
    this.renderer = new WebGLRenderer({ canvas, context, antialias: true, alpha: true });
    this.renderer.localClippingEnabled = true;
    this.camera = camera;
    this.palette = palette;
    this.scene = new Scene();
    this.batches = new Map();
    this.room = new Group();
    this.marked = new Group();
    this.cutting = new Group();
    this.extra = new Group();
    this.floor = new Group();
    this.scene.add(this.room, this.marked, this.cutting, this.extra, this.floor);
    this.shapes = new Map();
    this.casting = []; // shapes whose shadow lies on the floor
    this.hidden = new Set();
    this.focus = null;
    this.picked = new Set(); // ids of items that are filled with the selection's colour
    this.outlined = new Set(); // and of those in the way of them
    this.told = new Set(); // and of those that something is said of: they are never faint
    this.angles = new Map();
    this.shifts = new Map(); // how far shapes are drawn from where they are, metres
    this.section = null;
    this.ahead = null;
    this.headlight = light(this.scene);
    this.ratio = 1;
    this.height = 1;
    this.isSlow = false;
    this.slowOnes = 0;
    this.frames = 0;
    this.frameTime = 0;
  }

  /** Draw these shapes from now on; what stayed the same is kept. */
  setShapes(shapes, outline) {
    this.shapes = shapes;
    this.outline = outline;
    this.#shade();
    this.#batch();
    this.refresh();
  }

  /** Make objects of the shapes; those of the same shapes as before are kept. */
  #batch() {
    const { shapes, ahead } = this;
    const size = shapes.size > MANY ? pieceSize(shapes) : 0;
    const wanted = new Map();
    for (const shape of shapes.values()) {
      const isOwn = isSingle(shape) || shape.item === ahead?.item || this.shifts.has(shape.id);
      const key = isOwn
        ? `one ${shape.id}`
        : `${size ? `crowd ${size} ${pieceOf(shape, size)}` : "some"} ${lookOf(shape)}`;
      if (!wanted.has(key)) wanted.set(key, []);
      wanted.get(key).push(shape);
    }
    for (const [key, batch] of this.batches) {
      if (isSame(batch.shapes, wanted.get(key))) wanted.delete(key);
      else {
        this.room.remove(batch.group);
        batch.dispose();
        this.batches.delete(key);
      }
    }
    for (const [key, members] of wanted) {
      const batch = key.startsWith("crowd") ? new Crowd(members) : new Batch(members, this.palette);
      this.batches.set(key, batch);
      this.room.add(batch.group);
    }
  }

  /** Draw an item by some metres away from where it is; null nowhere else. */
  setAhead(ahead) {
    const isOther = ahead?.item !== this.ahead?.item;
    this.ahead = ahead;
    if (isOther) this.#batch();
    this.refresh();
  }

  /** Draw some shapes some way from where they are. */
  setShifts(shifts) {
    const isOther = [...shifts.keys()].join() !== [...this.shifts.keys()].join();
    this.shifts = shifts;
    if (isOther) this.#batch();
    this.refresh();
  }

  #shade() {
    const casting = this.shapes.size > MANY ? [] : [...this.shapes.values()].filter(casts);
    if (isSame(casting, this.casting)) return;
    this.casting = casting;
    clear(this.floor);
    const shadow = floorShadow(casting, this.palette.ink);
    if (shadow) this.floor.add(shadow);
  }

  /** Show or hide, dim, mark and turn everything as it is now. */
  refresh() {
    for (const batch of this.batches.values()) {
      const { first } = batch;
      batch.group.visible = batch.shapes.some((shape) => this.isShown(shape));
      batch.setDim(this.isDim(first));
      batch.setMatrix(batch.isAlone || first.item === this.ahead?.item ? this.matrixOf(first) : null);
    }
    this.floor.visible = !this.hidden.has("room");
    clear(this.marked);
    const marked = markedParts(this);
    if (marked.length) this.marked.add(...marked);
    this.#cut();
  }

  /** Draw faintly the doors in walls between the viewer and the room, for these walls are
   * not drawn at all; but for doors that something is said of. */
  #fadeDoors() {
    const { eye } = this.camera;
    for (const batch of this.batches.values()) {
      const { first } = batch;
      if (first.role !== "leaf" || first.layer !== "room") continue;
      const inward = inwardAt(first.pivot.hinge, this.outline);
      const [x, y] = first.pivot.hinge;
      const isNear = (eye.position.x - x) * inward[0] + (eye.position.y - y) * inward[1] < 0;
      batch.setFaint(isNear && !this.told.has(first.item));
    }
  }

  isShown(shape) {
    return !this.hidden.has(shape.layer) || Boolean(this.focus?.has(shape.id));
  }

  isDim(shape) {
    return Boolean(this.focus) && isResult(shape) && !this.focus.has(shape.id);
  }

  angleOf(shape) {
    return this.angles.get(shape.id) ?? shape.pivot.shown;
  }

  /** Where a shape is drawn: a leaf is turned, what is dragged is ahead of its check. */
  matrixOf = (shape) => {
    const turned = shape.pivot ? turn(shape.pivot, this.angleOf(shape)) : null;
    const { ahead } = this;
    const shift = this.shifts.get(shape.id);
    if (shift) return new Matrix4().makeTranslation(shift).multiply(turned ?? new Matrix4());
    if (ahead?.item !== shape.item || isResult(shape)) return turned;
    return new Matrix4().makeTranslation(ahead.by).multiply(turned ?? new Matrix4());
  };

  /** Cut the room where one coordinate has a value; keep what is beyond, or before. */
  setSection(section) {
    this.section = section;
    if (section) {
      const normal = new Vector3().setComponent(
        AXES[section.axis],
        section.keep === "high" ? 1 : -1,
      );
      sectionPlane.set(normal, section.keep === "high" ? -section.at : section.at);
    } else {
      sectionPlane.set(new Vector3(1, 0, 0), 1e6);
    }
    this.#cut();
  }

  #cut() {
    clear(this.cutting);
    if (!this.section) return;
    const { axis, at } = this.section;
    const shown = [...this.shapes.values()].filter((shape) => this.isShown(shape));
    const parts = cutParts(shown, AXES[axis], at, this);
    if (parts.length) this.cutting.add(...parts);
  }

  /** The shape at a place of the picture (-1 to 1), and the point; or null. */
  pick(x, y) {
    const caster = new Raycaster();
    caster.setFromCamera(new Vector2(x, y), this.camera.eye);
    const shapes = [...this.batches.values()]
      .filter((batch) => batch.group.visible && batch.isPickable)
      .flatMap((batch) => batch.shapes);
    const found = firstHit(shapes, caster.ray, this.matrixOf, (point) => this.isCut(point));
    return nearerCut(caster, this.cutting, found);
  }

  /** Whether the section has cut a point away. */
  isCut(point) {
    return sectionPlane.distanceToPoint(point) < -1e-3;
  }

  resize(width, height, ratio) {
    this.ratio = Math.min(ratio, 2);
    this.renderer.setPixelRatio(this.ratio);
    this.renderer.setSize(width, height, false);
    scaleLines(Math.min(Math.max(height / 1000, 0.75), 1.25));
    this.height = height;
  }

  /** While the camera moves, a machine that is slow draws fewer pixels. */
  #setSharp(isSharp) {
    const ratio = isSharp ? this.ratio : this.ratio / 2;
    if (this.renderer.getPixelRatio() !== ratio) this.renderer.setPixelRatio(ratio);
  }

  /** Note how long a picture took while the camera moved. */
  took(milliseconds) {
    this.slowOnes = milliseconds > SLOW ? this.slowOnes + 1 : 0;
    if (this.slowOnes === 3) this.isSlow = true;
  }

  /** @param isMoving edges of very many shapes wait until the camera rests. */
  draw(isMoving = false) {
    const start = performance.now();
    this.camera.place();
    const { eye } = this.camera;
    const isHurried = isMoving && this.isSlow;
    this.#setSharp(!isHurried);
    for (const batch of this.batches.values()) batch.aim(eye, this.height, isMoving, isHurried);
    this.#fadeDoors();
    this.headlight.position.copy(this.camera.eye.position);
    this.headlight.target.position.copy(this.camera.target);
    this.headlight.target.updateMatrixWorld();
    this.renderer.render(this.scene, this.camera.eye);
    this.frames += 1;
    this.frameTime = performance.now() - start;
  }

  /** The bounds of some shapes, by id, and of more points; null of none. */
  boundsOf(ids, more = []) {
    const arrays = ids.flatMap((id) => {
      const shape = this.shapes.get(id);
      return shape ? [shape.vertices, shape.edges] : [];
    });
    return boundsOf([...arrays, ...more]);
  }
}

function light(scene) {
  // Together about what shows a colour as it is: a level face a little above, an upright
  // one a little below.
  const headlight = new DirectionalLight("#ffffff", 0.55);
  const sun = new DirectionalLight("#ffffff", 0.8);
  sun.position.set(-2.5, -4, 7);
  scene.add(new AmbientLight("#ffffff", 1.4), new HemisphereLight("#ffffff", "#d3dae1", 1.0));
  scene.add(sun, headlight, headlight.target);
  return headlight;
}

/** The direction into the room from its wall nearest to a point. */
function inwardAt([x, y], outline) {
  let found = [0, 0];
  let nearest = Infinity;
  outline.forEach(([ax, ay], n) => {
    const [bx, by] = outline[(n + 1) % outline.length];
    const [dx, dy] = [bx - ax, by - ay];
    const square = dx * dx + dy * dy;
    if (!square) return;
    const part = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / square, 0), 1);
    const far = Math.hypot(x - ax - part * dx, y - ay - part * dy);
    if (far >= nearest) return;
    nearest = far;
    found = [-dy / Math.sqrt(square), dx / Math.sqrt(square)];
  });
  return found;
}

function isSame(one, other) {
  return (
    Boolean(other) && one.length === other.length && one.every((shape, n) => shape === other[n])
  );
}

export function clear(group) {
  for (const part of [...group.children]) {
    part.geometry?.dispose();
    part.material?.map?.dispose();
    group.remove(part);
  }
}
