// "What if": in a page that was sent, things are moved and judged on the spot. What is said
// then is provisional: no check has seen it.

import { byId, make } from "../dom.js";
import { Judge } from "./judge.js";
import { TENTHS } from "../scene/lengths.js";
import { placeForm } from "../panels/placing.js";
import { provisionalStage } from "./provisional.js";
import { Solids } from "./solids.js";

const MOST_UNDO = 500;
const PROVISIONAL =
  "Provisional. This page has judged on the spot the spaces, doors and overlaps that the move " +
  "bears on. Ways out, volumes, light and whatever else may depend on it are not judged here: " +
  "they are open. Only a check of the changed room counts.";

export class WhatIf {
  /** @param does {{show(stage)}} */
  constructor({ record, places, unit, step, digits, rows }, { stage, palette, show }) {
    this.told = { record, unit, digits, places, rows };
    this.base = stage;
    this.palette = palette;
    this.show = show;
    this.judge = new Judge(record);
    this.solids = new Solids(record); // where the hand has things, ahead of the judge
    this.state = { places: { ...places }, unit, step };
    this.undos = [];
    this.gesture = 0;
    this.isPaused = false;
    this.busy = false;
    this.waiting = null;
  }

  /** Be what moves things from now on. */
  enter() {
    byId("live").hidden = false;
    byId("live").className = "whatif";
    byId("save").hidden = true;
    byId("back").hidden = false;
    byId("busy").hidden = true;
    byId("trial").hidden = true;
    byId("provisional").textContent = PROVISIONAL;
    this.#status();
  }

  setPaused(isPaused) {
    this.isPaused = isPaused;
    this.#status();
  }

  #status() {
    const { moved, ids } = this.judge.solids;
    const names = [...moved].map((n) => ids[n]);
    const told = names.length > 2 ? `${names.length} things` : names.join(" and ");
    byId("state").textContent = moved.size ? `Moved: ${told}` : "";
    byId("live").hidden = !moved.size && !this.undos.length;
    byId("undo").disabled = !this.undos.length || this.isPaused;
    byId("back").disabled = !moved.size || this.isPaused;
    byId("provisional").hidden = !moved.size || this.isPaused;
    document.body.classList.toggle("moved", moved.size > 0);
  }

  /** Put an item where the hand has it, to see what is near there; nothing is judged. */
  place(id, to) {
    this.solids.put(this.solids.number.get(id), this.#way(id, to));
  }

  #way(id, to) {
    const from = this.told.places[id];
    return to.map((value, axis) => Math.round((value - from[axis]) * TENTHS[this.told.unit]));
  }

  /** Move an item to a place in the scene's units; it is judged with the next frame. */
  move(id, to) {
    const before = this.#ways();
    const way = this.#way(id, to);
    const { solids } = this.judge;
    if (String(way) === String(solids.ways[solids.number.get(id)])) return;
    if (this.undos.at(-1)?.gesture !== this.gesture) {
      this.undos = [...this.undos.slice(-MOST_UNDO), { gesture: this.gesture, ways: before }];
    }
    this.judge.put(id, way);
    this.#follow();
  }

  undo() {
    const last = this.undos.pop();
    if (!last) return;
    this.gesture += 1;
    this.#setWays(last.ways);
  }

  /** Put one item back, or everything. */
  putBack(id = null) {
    this.gesture += 1;
    if (id !== null) return this.move(id, this.told.places[id]);
    if (!this.judge.solids.moved.size) return undefined;
    this.undos.push({ gesture: this.gesture, ways: this.#ways() });
    return this.#setWays(new Map());
  }

  #ways() {
    const { moved, ways } = this.judge.solids;
    return new Map([...moved].map((n) => [n, ways[n]]));
  }

  #setWays(wanted) {
    const { solids } = this.judge;
    solids.ways = solids.ways.map((_, n) => wanted.get(n) ?? [0, 0, 0]);
    solids.moved = new Set(wanted.keys());
    this.#follow();
  }

  /** Take over where things are now, and judge before the next picture. */
  #follow() {
    const { places, unit, digits } = this.told;
    const { ids, ways, moved } = this.judge.solids;
    this.solids.ways = [...ways];
    this.solids.moved = new Set(moved);
    ids.forEach((id, n) => {
      if (!places[id]) return;
      this.state.places[id] = places[id].map((value, axis) =>
        ways[n][axis] ? Number((value + ways[n][axis] / TENTHS[unit]).toFixed(digits)) : value,
      );
    });
    this.#status();
    if (this.isDue) return;
    this.isDue = true;
    requestAnimationFrame(() => {
      this.isDue = false;
      this.#judge();
    });
  }

  #judge() {
    const start = performance.now();
    const { judge, palette, base: stage, told } = this;
    this.answers = judge.solids.moved.size ? judge.answers() : [];
    this.took = performance.now() - start;
    this.show(provisionalStage({ stage, judge, unit: told.unit, palette, names: told.rows }));
  }

  form(id) {
    if (!this.state.places[id]) return null;
    if (this.isPaused) {
      const isPlayed = !byId("played").hidden;
      const words = isPlayed ? "Put the remedy back to move it." : "Go to the lesson's beginning to move it.";
      return make("p", { class: "quiet" }, words);
    }
    this.shown = placeForm(this, id, this.shown);
    const { number, moved } = this.judge.solids;
    this.shown.back.hidden = !moved.has(number.get(id));
    return this.shown.form;
  }
}
