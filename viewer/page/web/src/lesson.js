// The lesson: steps forward and back; a question first, its answer when asked for. Until
// then nothing of the answer is on the page: what is shown is the room before the step.

import { VERDICTS, stagesOf, turned } from "./data.js";
import { make } from "./dom.js";
import { sign, titleOf } from "./judgements.js";

const HOW = "Go through it with the buttons, or with the arrow keys.";
const HOW_LIVE =
  "It is played in the room as the file has it. Meanwhile nothing can be moved; leave it to go on.";
const BEFORE = "Shown is the room before this change.";
const MOST_CHANGES = 4;
const MOST_HEIGHT = 0.3; // share of the window that the words may take

export class Lesson {
  /** @param {{isLive: boolean, onStep: function}} does onStep takes the stage to show, null
   *   where no step is shown, and the view to fly to or null. */
  constructor(holder, does) {
    this.holder = holder;
    this.does = does;
    this.steps = [];
    this.step = 0; // 0: not begun; n: the n-th step
    this.answered = true;
    this.#build();
    addEventListener("resize", () => this.steps.length && this.#fit());
  }

  #build() {
    const button = (text, act, name) =>
      make("button", { type: "button", class: name, onclick: act }, text);
    this.back = button("Back", () => this.go(-1), "back");
    this.next = button("Next", () => this.go(1), "next primary");
    this.leaving = button("Leave the lesson", () => this.leave(), "leave");
    this.words = make("div", { class: "words", "aria-live": "polite", tabindex: 0 });
    this.count = make("span", { class: "count" });
    this.name = make("b");
    this.bar = make("div", { class: "bar", "aria-hidden": "true" });
    const keys = make("div", { class: "lesson-keys" }, this.leaving, this.back, this.next);
    const name = make(
      "h2",
      { class: "lesson-name" },
      make("span", { class: "cap" }, "Lesson "),
      this.name,
    );
    const head = make("div", { class: "lesson-head" }, name, this.bar, this.count, keys);
    this.holder.append(head, this.words);
  }

  /** Take a lesson, or what has become of it: the step that is shown stays. */
  take(stage) {
    this.steps = stage.steps;
    this.stages = stagesOf(stage);
    this.step = Math.min(this.step, this.steps.length);
    this.answered = this.answered || !this.#asks(this.step);
    this.name.textContent = stage.lesson;
    this.name.title = stage.lesson;
    this.bar.replaceChildren(...this.steps.map(() => make("i")));
    this.holder.hidden = false;
    this.#show();
    this.#fit();
    if (this.step) this.#tell(null);
  }

  /** There is no lesson any more. */
  end() {
    this.holder.hidden = true;
    this.steps = [];
    if (this.step) this.#set(0, true);
  }

  /** Give the words the height that the longest step needs, so that nothing jumps. */
  #fit() {
    // Beside the page: what is measured is not to be read out.
    const probe = make("div", { class: "words probe", "aria-hidden": "true" });
    probe.style.width = `${this.words.clientWidth}px`;
    this.holder.append(probe);
    let tallest = 0;
    for (const step of this.steps.keys()) {
      probe.replaceChildren(...this.#question(step + 1, true), ...this.#answer(step + 1));
      tallest = Math.max(tallest, probe.scrollHeight);
    }
    probe.remove();
    this.words.style.height = `${Math.min(tallest, innerHeight * MOST_HEIGHT)}px`;
  }

  #asks(step) {
    return step > 0 && this.steps[step - 1].ask !== "";
  }

  /** One on or one back: from a question on to its answer first. */
  go(by) {
    if (!this.steps.length) return undefined;
    if (by > 0 && !this.answered) return this.#set(this.step, true);
    const step = this.step + by;
    if (step < 0 || step > this.steps.length) return undefined;
    return this.#set(step, by < 0 || !this.#asks(step));
  }

  leave() {
    this.#set(0, true);
    this.next.focus();
  }

  #set(step, answered) {
    const isAnswer = step === this.step && answered && !this.answered;
    this.step = step;
    this.answered = answered;
    this.#show(isAnswer);
    this.#tell(step > 0 ? this.steps[step - 1].look : null);
  }

  #tell(look) {
    const { step, answered, stages, does } = this;
    const shown = answered ? stages[step] : stages[step - 1];
    does.onStep(step || !does.isLive ? shown : null, look);
  }

  /** @param isAnswer whether only the answer is new: then only that is read out. */
  #show(isAnswer = false) {
    const { step, steps, answered } = this;
    this.count.textContent = step ? `Step ${step} of ${steps.length}` : `${steps.length} steps`;
    [...this.bar.children].forEach((part, n) => part.classList.toggle("done", n < step));
    this.back.disabled = step === 0;
    this.leaving.hidden = step === 0 || !this.does.isLive;
    this.next.disabled = step === steps.length && answered;
    this.next.textContent = !step ? "Begin" : answered ? "Next" : "Show the answer";
    if (isAnswer) {
      this.words.querySelector(".ask").className = "asked";
      this.words.querySelector(".before")?.remove();
      this.words.append(...this.#answer(step));
    } else if (step) {
      const answer = answered ? this.#answer(step) : [];
      this.words.replaceChildren(...this.#question(step, answered), ...answer);
    } else this.words.replaceChildren(make("p", {}, this.does.isLive ? HOW_LIVE : HOW));
    this.words.scrollTop = 0;
  }

  #question(step, answered) {
    const { ask, change } = this.steps[step - 1];
    if (!ask) return [];
    const found = [make("p", { class: answered ? "asked" : "ask" }, ask)];
    const isChanged = change.put.length > 0 || change.drop.length > 0;
    if (!answered && isChanged) found.push(make("p", { class: "quiet before" }, BEFORE));
    return found;
  }

  #answer(step) {
    const now = this.steps[step - 1];
    const found = now.say ? [make("p", { class: "say" }, now.say)] : [];
    const changes = turned(this.stages[step - 1], this.stages[step]).slice(0, MOST_CHANGES);
    if (changes.length) found.push(make("ul", { class: "changes" }, ...changes.map(changeText)));
    else if (now.ask) found.push(make("p", { class: "quiet" }, "No verdict changes."));
    return found;
  }
}

function changeText({ judgement, was }) {
  const words = was
    ? `${VERDICTS[was]} \u2192 ${VERDICTS[judgement.verdict]}`
    : VERDICTS[judgement.verdict];
  return make(
    "li",
    {},
    sign(judgement),
    make("b", {}, judgement.subject),
    ` ${titleOf(judgement)}: ${words}`,
  );
}
