// The lesson: steps forward and back; a question first, its answer when asked for.

import { VERDICTS, stagesOf, turned, withheld } from "./data.js";
import { make } from "./dom.js";
import { sign, titleOf } from "./findings.js";

const HOW = "Go through it with the buttons, or with the arrow keys.";
const MOST_CHANGES = 4;
const MOST_HEIGHT = 0.3; // share of the window that the words may take

export class Lesson {
  /** @param onStep takes the stage to show, the view to fly to or null, and whether the
   *   result is withheld. */
  constructor(holder, stage, onStep) {
    this.holder = holder;
    this.title = stage.lesson;
    this.steps = stage.steps;
    this.stages = stagesOf(stage);
    this.onStep = onStep;
    this.step = 0; // 0: not begun; n: the n-th step
    this.answered = true;
    holder.hidden = false;
    this.#build();
    this.#refit();
    addEventListener("resize", () => this.#refit());
  }

  #build() {
    const button = (text, act, name) =>
      make("button", { type: "button", class: name, onclick: act }, text);
    this.back = button("Back", () => this.go(-1), "back");
    this.next = button("Next", () => this.go(1), "next primary");
    this.words = make("div", { class: "words", "aria-live": "polite", tabindex: 0 });
    this.count = make("span", { class: "count" });
    const parts = this.steps.map(() => make("i"));
    this.bar = make("div", { class: "bar", "aria-hidden": "true" }, ...parts);
    const name = [make("span", { class: "cap" }, "Lesson "), make("b", {}, this.title)];
    const keys = make("div", { class: "lesson-keys" }, this.back, this.next);
    const head = [make("div", { class: "lesson-name" }, ...name), this.bar, this.count, keys];
    this.holder.append(make("div", { class: "lesson-head" }, ...head), this.words);
  }

  #refit() {
    this.#fit();
    this.#show();
  }

  /** Give the words the height that the longest step needs, so that nothing jumps. */
  #fit() {
    this.words.style.height = "auto";
    let tallest = 0;
    for (const step of this.steps.keys()) {
      this.words.replaceChildren(...this.#text(step + 1, true));
      tallest = Math.max(tallest, this.words.scrollHeight);
    }
    this.words.style.height = `${Math.min(tallest, innerHeight * MOST_HEIGHT)}px`;
  }

  /** One on or one back: from a question on to its answer first. */
  go(by) {
    if (by > 0 && !this.answered) return this.#set(this.step, true);
    const step = this.step + by;
    if (step < 0 || step > this.steps.length) return undefined;
    const asks = step > 0 && this.steps[step - 1].ask !== "";
    return this.#set(step, by < 0 || !asks);
  }

  #set(step, answered) {
    this.step = step;
    this.answered = answered;
    this.#show();
    const [before, after] = [this.stages[Math.max(step - 1, 0)], this.stages[step]];
    const look = step > 0 ? this.steps[step - 1].look : null;
    this.onStep(answered ? after : withheld(before, after), look, !answered);
  }

  #show() {
    const { step, steps, answered } = this;
    this.count.textContent = step ? `Step ${step} of ${steps.length}` : `${steps.length} steps`;
    [...this.bar.children].forEach((part, n) => part.classList.toggle("done", n < step));
    this.back.disabled = step === 0;
    this.next.disabled = step === steps.length && answered;
    this.next.textContent = !step ? "Begin" : answered ? "Next" : "Show the answer";
    const words = step ? this.#text(step, answered) : [make("p", {}, HOW)];
    this.words.replaceChildren(...words);
    this.words.scrollTop = 0;
  }

  #text(step, answered) {
    const now = this.steps[step - 1];
    const found = [];
    if (now.ask) found.push(make("p", { class: answered ? "asked" : "ask" }, now.ask));
    if (now.say && (answered || !now.ask)) found.push(make("p", { class: "say" }, now.say));
    if (!answered) return found;
    const changes = turned(this.stages[step - 1], this.stages[step]).slice(0, MOST_CHANGES);
    if (changes.length) found.push(make("ul", { class: "changes" }, ...changes.map(changeText)));
    else if (now.ask) found.push(make("p", { class: "quiet" }, "No verdict changes."));
    return found;
  }
}

function changeText({ finding, was }) {
  const words = was
    ? `${VERDICTS[was]} \u2192 ${VERDICTS[finding.verdict]}`
    : VERDICTS[finding.verdict];
  return make(
    "li",
    {},
    sign(finding),
    make("b", {}, finding.subject),
    ` ${titleOf(finding)}: ${words}`,
  );
}
