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
    if (!place) return false;
    const found = picture.pick(x, y);
    if (found?.shape.item !== item) return false;
    live.gesture += 1;
    this.held = { item, from: place, point: found.point, moved: new Vector3(), y };
    return true;
  }

  drag(x, y, isUp) {
    const { live, camera } = this.app;
    const { item, from, point } = this.held;
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2(x, y), camera.eye);
    const plane = isUp ? this.#upright(point) : new Plane().setFromNormalAndCoplanarPoint(UP, point);
    const hit = ray.ray.intersectPlane(plane, new Vector3());
    if (!hit) return;
    const way = hit.sub(point);
    // What was gained the other way before stays.
    const { moved } = this.held;
    if (isUp) moved.z = way.z;
    else moved.set(way.x, way.y, moved.z);
    const { unit, step } = live.state;
    const to = from.map((value, axis) => snapped(value + moved.toArray()[axis] / METRES[unit], step));
    live.move(item, to);
  }

  #upright(point) {
    const towards = this.app.camera.direction.setZ(0).normalize();
    return new Plane().setFromNormalAndCoplanarPoint(towards, point);
  }

  drop() {
    this.held = null;
  }
}

function snapped(value, step) {
  return Number((Math.round(value / step) * step).toFixed(6));
}
