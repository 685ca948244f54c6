// What puts a judgement right, as the check has proved it: shown in the room, and put back.

import { byId, make } from "../dom.js";
import { changed } from "../scene/data.js";

export class Remedies {
  /** @param does {{show(stage, before), idle(): whether nothing else has changed the room}} */
  constructor(does) {
    this.does = does;
    this.rows = {};
    this.stage = null;
    this.played = null;
    byId("put-back").addEventListener("click", () => this.putBack());
  }

  /** Take what may be done about the judgements of a stage. */
  take(stage, rows) {
    this.#end();
    this.stage = stage;
    this.rows = rows ?? {};
  }

  /** What may be done about a judgement of the stage that is shown; null where it is another. */
  listed(stage, index) {
    const found = this.rows[index];
    if (stage !== this.stage || !found || !this.does.idle()) return null;
    if (!found.remedies.length) return make("p", { class: "quiet" }, `No remedy was found. ${found.why}`);
    const items = found.remedies.map((remedy, n) => {
      const label = `Show it: ${remedy.text}`;
      const play = () => this.play(index, n);
      // What would make the page too large is told, and not played.
      const shown = remedy.change
        ? [make("button", { type: "button", class: "try", "aria-label": label, onclick: play }, "Show it")]
        : [];
      return make("li", {}, make("span", {}, remedy.text), ...shown);
    });
    const head = make("h4", {}, "What puts it right, proved by a check of the whole room");
    return make("div", { class: "remedies" }, head, make("ul", {}, ...items));
  }

  play(index, n) {
    const { text, change } = this.rows[index].remedies[n];
    this.played = { index, n };
    byId("played-text").textContent = text;
    byId("played").hidden = false;
    this.does.show(changed(this.stage, change), this.stage);
    byId("put-back").focus();
  }

  putBack() {
    if (!this.played) return;
    const { index } = this.played;
    const { stage } = this;
    this.#end();
    this.does.show(stage, null);
    this.does.pick(index);
  }

  #end() {
    this.played = null;
    byId("played").hidden = true;
  }
}
