// The lesson: steps forward and back; a question first, its answer when asked for.

import { VERDICTS, stagesOf, turned, withheld } from "./data.js";
import { make } from "./dom.js";
import { sign, titleOf } from "./findings.js";

const MOST_CHANGES = 4;

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
    this.#show();
  }

  #build() {
    const button = (text, act, name) =>
      make("button", { type: "button", class: name, onclick: act }, text);
    this.back = button("Back", () => this.go(-1), "back");
    this.next = button("Next", () => this.go(1), "next primary");
    this.words = make("div", { class: "words", "aria-live": "polite" });
    this.count = make("span", { class: "count" });
    this.bar = make(
      "div",
      { class: "bar", "aria-hidden": "true" },
      ...this.steps.map(() => make("i")),
    );
    this.holder.append(
      make(
        "div",
        { class: "lesson-head" },
        make("span", { class: "cap" }, "Lesson"),
        make("b", {}, this.title),
        this.bar,
        this.count,
      ),
      make(
        "div",
        { class: "lesson-body" },
        this.words,
        make("div", { class: "lesson-keys" }, this.back, this.next),
      ),
    );
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
    const now = steps[step - 1];
    this.count.textContent = step ? `Step ${step} of ${steps.length}` : `${steps.length} steps`;
    [...this.bar.children].forEach((part, n) => part.classList.toggle("done", n < step));
    this.back.disabled = step === 0;
    this.next.disabled = step === steps.length && answered;
    this.next.textContent = !step ? "Begin" : answered ? "Next" : "Show the answer";
    this.words.replaceChildren(
      ...(now
        ? this.#text(now)
        : [make("p", {}, "Go through it with the buttons, or with the arrow keys.")]),
    );
  }

  #text(now) {
    const found = [];
    if (now.ask) found.push(make("p", { class: "ask" }, now.ask));
    if (now.say && (this.answered || !now.ask)) found.push(make("p", { class: "say" }, now.say));
    if (this.answered) {
      const changes = turned(this.stages[this.step - 1], this.stages[this.step]);
      if (changes.length)
        found.push(
          make("ul", { class: "changes" }, ...changes.slice(0, MOST_CHANGES).map(changeText)),
        );
      else if (now.ask) found.push(make("p", { class: "quiet" }, "No verdict changes."));
    }
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
