// Moving the picked item with the mouse, in plan; with Shift, up and down.

import { Plane, Raycaster, Vector2, Vector3 } from "three";

const UP = new Vector3(0, 0, 1);
const METRES = { mm: 0.001, m: 1, in: 0.0254, ft: 0.3048 };

export class Dragging {
  constructor(app) {
    this.app = app;
    this.held = null;
  }

  /** Tells whether a drag from here moves the picked item. */
  grab(x, y) {
    const { live, item, picture } = this.app;
    const place = live?.state.places[item];
    if (!place || live.isPaused) return false;
    const found = picture.pick(x, y);
    if (found?.shape.item !== item) return false;
    live.gesture += 1;
    this.held = { item, from: place, point: found.point, moved: new Vector3() };
    return true;
  }

  drag(x, y, isUp) {
    const { live, camera } = this.app;
    const { item, from, point } = this.held;
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2(x, y), camera.eye);
    const plane = isUp
      ? this.#upright(point)
      : new Plane().setFromNormalAndCoplanarPoint(UP, point);
    const hit = ray.ray.intersectPlane(plane, new Vector3());
    if (!hit) return;
    const way = hit.sub(point);
    // What was gained the other way before stays.
    const { moved } = this.held;
    if (isUp) moved.z = way.z;
    else moved.set(way.x, way.y, moved.z);
    const { unit, step } = live.state;
    const to = from.map(
      (value, axis) => value + snapped(moved.getComponent(axis) / METRES[unit], step),
    );
    this.held.to = to;
    this.lead();
    live.move(item, to);
  }

  /** Draw what is dragged where the hand is: its check follows. */
  lead() {
    const { picture, live } = this.app;
    let ahead = null;
    const here = live.state.places[this.held?.item];
    if (this.held?.to && here) {
      const { item, to } = this.held;
      const by = to.map((value, axis) => (value - here[axis]) * METRES[live.state.unit]);
      ahead = { item, by: new Vector3(...by) };
    }
    picture.setAhead(ahead);
    if (ahead) this.app.movedAt = performance.now();
    this.app.redraw();
  }

  #upright(point) {
    const towards = this.app.camera.direction.setZ(0).normalize();
    return new Plane().setFromNormalAndCoplanarPoint(towards, point);
  }

  /** Let go: it stays where the hand left it until the last check has answered. */
  drop() {
    if (!this.held) return;
    this.held.isLoose = true;
    if (!this.app.live.busy) this.settle();
  }

  /** After an answer: what was let go stands where the check has put it. */
  settle() {
    if (this.held?.isLoose && !this.app.live.waiting) this.held = null;
    this.lead();
  }
}

function snapped(value, step) {
  return Number((Math.round(value / step) * step).toFixed(6));
}
