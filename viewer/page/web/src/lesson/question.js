// What a question asks of the class: to choose an answer, to find things, to move one until
// it is met. What was chosen stays; what came of it counts once the answer is shown.

import { make } from "../dom.js";

export const LETTERS = "abcdefgh";
const NOT_HERE = "This page cannot judge that by itself: the answer shows it.";

export class Question {
  /** @param told a step of the lesson. @param onScore is called when the score may change. */
  constructor({ ask, task, trial }, onScore) {
    Object.assign(this, { ask, ...task, onScore });
    this.trial = trial ?? null;
    this.isClosed = false;
    this.tried = []; // numbers of the choices that were tried, the first one counts
    this.names = new Set(); // ids of what is named
    this.isSolved = false;
    this.element = make("div", { class: "task" });
    this.#show();
  }

  /** Whether nothing of the check may be seen until the answer. */
  get hidesAll() {
    return this.find.length > 0 && !this.isClosed;
  }

  /** How many points there are to be had. */
  get of() {
    return this.find.length || (this.choices.length || this.trial ? 1 : 0);
  }

  get points() {
    if (this.find.length) {
      const found = this.find.filter((id) => this.names.has(id)).length;
      return Math.max(0, 2 * found - this.names.size);
    }
    if (this.choices.length) return Number(this.choices[this.tried[0]]?.right ?? false);
    return Number(this.isSolved);
  }

  /** The answer is shown: what was done until now counts. */
  close() {
    if (this.isClosed) return;
    this.isClosed = true;
    this.#show();
  }

  /** Name a thing, or take that back; tells whether it can be named. */
  name(id) {
    if (!this.hidesAll || !this.things.some(([one]) => one === id)) return false;
    if (!this.names.delete(id)) this.names.add(id);
    this.#show();
    return true;
  }

  /** See what the page's own judge says of what is to be met. */
  judge(stage, rows) {
    const goals = this.goals.map((goal) => stage.judgements[rows.indexOf(goal)]);
    const isNew = (row) => row.isProvisional && row.was === "met" && row.verdict === "not-met";
    const worse = stage.judgements.filter((row) => isNew(row) || row.requirement === "as-drawn" && row.isProvisional);
    const left = [...goals.filter((row) => row.verdict !== "met"), ...worse];
    this.said = left.map((row) => `${row.subject}: ${row.isUnjudged ? NOT_HERE : row.brief}`);
    this.isMet = !left.length;
    if (this.isMet && !this.isClosed) this.isSolved = true;
    this.#show();
    this.onScore();
  }

  #show() {
    const { activeElement: active } = document;
    const focused = this.element.contains(active) ? active.dataset.name : null;
    const parts = this.find.length ? this.#found() : this.choices.length ? this.#chosen() : [];
    if (this.trial && !this.isClosed) parts.push(this.#moved());
    this.element.replaceChildren(...parts);
    this.element.hidden = !parts.length;
    if (focused) this.element.querySelector(`[data-name="${CSS.escape(focused)}"]`)?.focus();
  }

  #chosen() {
    const rows = this.choices.map((choice, n) => {
      const isTried = this.tried.includes(n);
      const isTold = isTried || this.isClosed;
      const mark = isTold && make("b", { class: choice.right ? "right" : "wrong" }, choice.right ? "\u2713 Right" : "\u2717 Wrong");
      const text = make(
        "button",
        {
          type: "button",
          "data-name": n,
          class: `answer${isTried ? " tried" : ""}`,
          "aria-disabled": isTold,
          onclick: () => this.#try(n),
        },
        make("span", { class: "letter" }, `${LETTERS[n]}) `),
        choice.text,
      );
      const why = isTold && make("p", { class: "why" }, mark, ` ${choice.why}`);
      return make("li", {}, text, why);
    });
    return [make("ul", { class: "answers" }, ...rows)];
  }

  #try(n) {
    if (this.isClosed || this.tried.includes(n)) return;
    this.tried.push(n);
    this.#show();
    this.onScore();
  }

  #found() {
    const chips = this.things.map(([id, words]) => {
      const isNamed = this.names.has(id);
      if (!this.isClosed) {
        return make(
          "button",
          { type: "button", class: "chip thing", "data-name": id, "aria-pressed": isNamed, onclick: () => this.name(id) },
          make("b", {}, id),
          ` ${words}`,
        );
      }
      const isFault = this.find.includes(id);
      if (!isNamed && !isFault) return null;
      const said = isFault ? (isNamed ? "found" : "missed") : "no fault";
      return make("span", { class: `chip thing ${said.replace(" ", "-")}` }, make("b", {}, id), ` ${words}: ${said}`);
    });
    const how = this.isClosed
      ? `${this.points} of ${this.of}: each thing that is found counts one, each other that is named takes one off.`
      : `Named: ${this.names.size}. Name them here, or by a click in the room; once more takes it back.`;
    return [make("p", { class: "how" }, how), make("div", { class: "chips" }, ...chips)];
  }

  #moved() {
    const how = `Drag ${this.drag} in the room, or type its place in the list. With Shift it goes up and down.`;
    const said = this.isMet
      ? make("p", { class: "right" }, "\u2713 Met, as far as this page can judge. Ways out are not judged here.")
      : make("p", { class: "not-yet" }, this.said ? `Not yet. ${this.said.join(" ")}` : how);
    return make("div", { class: "moved-task", role: "status" }, said);
  }
}

/** A number of things: "1 step", "9 steps". */
export function amount(count, name) {
  return `${count} ${name}${count === 1 ? "" : "s"}`;
}
