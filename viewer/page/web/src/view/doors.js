// Door leaves and the angles they are shown at.

import { prefersStill } from "../dom.js";

const SPEED = 55; // degrees a second

export class Doors {
  constructor(onTurn) {
    this.onTurn = onTurn;
    this.angles = new Map();
    this.followers = new Map();
    this.moving = null;
  }

  /** Take over the leaves of a stage; an angle chosen here stays. */
  show(stage) {
    for (const id of [...this.angles.keys()]) {
      const pivot = stage.shapes.get(id)?.pivot;
      if (!pivot) this.angles.delete(id);
      else if (this.angles.get(id) > pivot.reached) this.angles.set(id, pivot.reached);
    }
  }

  /** Forget what was chosen here: a step of a lesson says how doors stand. */
  reset() {
    this.angles.clear();
    this.moving = null;
  }

  angleOf(leaf) {
    return this.angles.get(leaf.id) ?? leaf.pivot.shown;
  }

  follow(leaf, act) {
    this.followers.set(leaf, act);
  }

  set(leaf, degrees) {
    this.angles.set(leaf.id, Math.min(Math.max(degrees, 0), leaf.pivot.reached));
    this.followers.get(leaf.id)?.(this.angleOf(leaf));
    this.onTurn();
  }

  /** Open a leaf from closed until it is stopped. */
  play(leaf) {
    const { reached } = leaf.pivot;
    if (prefersStill()) {
      this.set(leaf, reached);
      return;
    }
    const start = performance.now();
    const token = {};
    this.moving = token;
    const step = (now) => {
      if (this.moving !== token) return;
      const degrees = ((now - start) / 1000) * SPEED;
      this.set(leaf, degrees);
      if (degrees < reached) requestAnimationFrame(step);
      else this.moving = null;
    };
    requestAnimationFrame(step);
  }
}
