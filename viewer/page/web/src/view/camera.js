// The camera: it turns about a target, z is up. One perspective camera serves for
// parallel views too, from far away through a very long lens, so that it can glide
// from one to the other.

import { MathUtils, PerspectiveCamera, Vector3 } from "three";
import { prefersStill } from "../dom.js";

const FLIGHT = 700; // milliseconds
const LONG_LENS = 1; // degrees; lines 20 m deep look parallel to the pixel
const STEEPEST = Math.PI / 2 - 1e-4;
const LOWEST = -0.5;
const PICTURE = 1.6; // width over height that the views of a stage are made for

export class Camera {
  constructor() {
    this.eye = new PerspectiveCamera(28, 1, 0.1, 100);
    this.eye.up.set(0, 0, 1);
    this.target = new Vector3();
    this.azimuth = -0.9; // radians, from the target to the eye, counter-clockwise from east
    this.elevation = 0.57;
    this.span = 8; // metres from the bottom to the top of the picture, at the target
    this.angle = 28;
    this.room = { centre: new Vector3(), radius: 5, corners: [] }; // corners of its floor
    this.inset = { left: 0, right: 0, top: 0, bottom: 0 }; // share of the picture
    this.flight = null;
    this.isFree = false; // moved by the viewer, away from any pose it was given
  }

  get distance() {
    return this.span / 2 / Math.tan(MathUtils.degToRad(this.angle) / 2);
  }

  /** The unit vector from the target to the eye. */
  get direction() {
    const flat = Math.cos(this.elevation);
    return new Vector3(
      flat * Math.cos(this.azimuth),
      flat * Math.sin(this.azimuth),
      Math.sin(this.elevation),
    );
  }

  place() {
    const direction = this.direction;
    this.eye.position.copy(this.target).addScaledVector(direction, this.distance);
    this.eye.lookAt(this.target);
    this.eye.fov = this.angle;
    const ahead = direction.dot(this.eye.position.clone().sub(this.room.centre));
    const deep = this.room.radius * 1.05;
    this.eye.far = Math.max(ahead + deep, 1);
    this.eye.near = Math.max(ahead - deep, this.eye.far / 2000, 0.02);
    this.eye.updateProjectionMatrix();
    this.eye.updateMatrixWorld();
  }

  /** Where a view of the stage puts the camera: what it frames is clear of the insets. */
  poseOf(view) {
    const eye = new Vector3(...view.eye);
    const target = new Vector3(...view.target);
    const out = eye.clone().sub(target);
    const distance = out.length();
    const level = Math.hypot(out.x, out.y);
    const isAbove = level < distance * 1e-3;
    const { left, right, top, bottom } = this.inset;
    const tall = 1 - top - bottom;
    const wide = (this.eye.aspect * (1 - left - right)) / tall;
    const framed = 2 * distance * Math.tan(MathUtils.degToRad(view.angle) / 2);
    const pose = {
      target,
      azimuth: isAbove ? Math.atan2(-view.up[1], -view.up[0]) : Math.atan2(out.y, out.x),
      elevation: isAbove ? STEEPEST : Math.asin(out.z / distance),
      angle: view.parallel ? LONG_LENS : view.angle,
      span: view.parallel
        ? view.width / Math.min(wide, PICTURE) / tall
        : (framed * Math.max(1, PICTURE / wide)) / tall,
    };
    return this.#tried(pose, () => {
      const aside = ((right - left) / 2) * this.span * this.eye.aspect;
      this.#slide(aside, ((top - bottom) / 2) * this.span);
      this.#fill((tall * Math.max(wide - PICTURE, 0) * this.span) / 2);
    });
  }

  /** Slide no further than so many metres to where the room fills the picture. */
  #fill(most) {
    const { left, right } = this.inset;
    let slid = 0;
    for (let round = 0; round < 3 && most > 0 && this.room.corners.length; round++) {
      this.place();
      // What lies behind the eye is beside the picture on no side.
      const ahead = this.room.corners.filter((one) => this.#isAhead(one));
      const box = this.#bounds(ahead);
      const emptyLeft = box.left + 1 - 2 * left;
      const emptyRight = 1 - 2 * right - box.right;
      // Where it is too narrow it stands in the middle, else no side stays empty.
      const middle = (emptyLeft - emptyRight) / 2;
      const isNarrow = emptyLeft + emptyRight > 0;
      const way = isNarrow ? middle : Math.max(emptyLeft, 0) - Math.max(emptyRight, 0);
      const to = MathUtils.clamp(slid + (way * this.span * this.eye.aspect) / 2, -most, most);
      this.#slide(to - slid, 0);
      slid = to;
    }
  }

  #isAhead(point) {
    return point.clone().sub(this.eye.position).dot(this.direction) < 0;
  }

  /** The pose that comes of doing something from a pose; the camera stays where it is. */
  #tried(pose, act) {
    const before = this.pose();
    Object.assign(this, { ...pose, target: pose.target.clone() });
    act();
    const found = this.pose();
    Object.assign(this, before);
    this.place();
    return found;
  }

  /** A pose turned the same way that just holds some points, clear of the insets. */
  fitted(pose, points) {
    const { left, right, top, bottom } = this.inset;
    return this.#tried(pose, () => {
      for (let round = 0; round < 8; round++) {
        this.place();
        const box = this.#bounds(points);
        const across = (box.right - box.left) / (2 - 2 * left - 2 * right);
        const tall = (box.top - box.bottom) / (2 - 2 * top - 2 * bottom);
        const x = (box.left + box.right) / 2 - (left - right);
        const y = (box.top + box.bottom) / 2 - (bottom - top);
        this.#slide((x * this.span * this.eye.aspect) / 2, (y * this.span) / 2);
        this.span *= Math.max(across, tall, 1e-3);
      }
    });
  }

  #bounds(points) {
    const box = { left: 9, right: -9, bottom: 9, top: -9 };
    for (const point of points) {
      const seen = point.clone().project(this.eye);
      box.left = Math.min(box.left, seen.x);
      box.right = Math.max(box.right, seen.x);
      box.bottom = Math.min(box.bottom, seen.y);
      box.top = Math.max(box.top, seen.y);
    }
    return box;
  }

  pose() {
    const { target, azimuth, elevation, angle, span } = this;
    return { target: target.clone(), azimuth, elevation, angle, span };
  }

  /** Glide to a pose; resolves at once for people who want no motion. */
  fly(pose) {
    const from = this.pose();
    const to = this.#nearTurn(from, pose);
    this.isFree = false;
    this.flight = { from, to, start: performance.now(), time: prefersStill() ? 0 : FLIGHT };
  }

  /** Be at a pose, or get there where a flight is under way. */
  aim(pose) {
    if (this.flight) this.flight.to = this.#nearTurn(this.flight.from, pose);
    else Object.assign(this, pose);
  }

  // The short way round.
  #nearTurn(from, pose) {
    const turn = MathUtils.euclideanModulo(pose.azimuth - from.azimuth + Math.PI, 2 * Math.PI);
    return { ...pose, azimuth: from.azimuth + turn - Math.PI };
  }

  /** Go on with a flight; tells whether the camera has moved. */
  advance(now) {
    if (!this.flight) return false;
    const { from, to, start, time } = this.flight;
    const part = time ? Math.min((now - start) / time, 1) : 1;
    const eased = part < 0.5 ? 4 * part ** 3 : 1 - (2 - 2 * part) ** 3 / 2;
    this.target.lerpVectors(from.target, to.target, eased);
    for (const name of ["azimuth", "elevation"]) {
      this[name] = MathUtils.lerp(from[name], to[name], eased);
    }
    for (const name of ["angle", "span"]) {
      this[name] = Math.exp(MathUtils.lerp(Math.log(from[name]), Math.log(to[name]), eased));
    }
    if (part === 1) this.flight = null;
    return true;
  }

  #free() {
    this.flight = null;
    this.isFree = true;
  }

  turn(right, up) {
    this.#free();
    this.azimuth -= right;
    this.elevation = MathUtils.clamp(this.elevation + up, LOWEST, STEEPEST);
  }

  /** Move the picture by pixels. */
  pan(right, down, height) {
    this.#free();
    const metres = this.span / height;
    this.#slide(-right * metres, down * metres);
  }

  #slide(right, up) {
    const towards = this.direction;
    const across = new Vector3(-Math.sin(this.azimuth), Math.cos(this.azimuth), 0);
    const upwards = towards.clone().cross(across);
    this.target.addScaledVector(across, right).addScaledVector(upwards, up);
  }

  /** Come nearer; what is at a place of the picture (-1 to 1) stays there. */
  zoom(factor, x = 0, y = 0) {
    this.#free();
    const span = MathUtils.clamp(this.span * factor, 0.05, this.room.radius * 8);
    const change = (this.span - span) / 2;
    this.#slide(x * change * this.eye.aspect, y * change);
    this.span = span;
  }
}
