// Several lessons on one page: their index, and what has become of each.

import { byId, make } from "../dom.js";
import { amount } from "./question.js";

export class Course {
  /** @param lessons as the page's data has them. @param open shows one of them. */
  constructor(holder, lessons, open) {
    this.holder = holder;
    this.lessons = lessons.map((one) => ({ ...one, memory: { step: 0, answered: true, questions: new Map() } }));
    this.open = open;
    this.number = null; // of the lesson that is shown, from 0
    this.button = make("button", { type: "button", id: "all-lessons", onclick: () => this.show() }, "All lessons");
    byId("tools").prepend(this.button);
    this.list = make("ol", { class: "lessons" });
    const steps = lessons.reduce((sum, one) => sum + one.stage.steps.length, 0);
    const asked = lessons.reduce((sum, one) => sum + one.questions, 0);
    this.about = `${amount(lessons.length, "lesson")}, ${amount(steps, "step")}, ${amount(asked, "question")}. Nothing you do here leaves this page.`;
    this.score = make("p", { class: "course-score" });
    const { caution, rules } = lessons[0].stage;
    holder.append(
      make("h1", {}, "Lessons"),
      make("p", { class: "lead" }, this.about),
      this.score,
      this.list,
      make("p", { class: "course-caution" }, caution),
    );
    this.rules = rules;
    this.show();
  }

  get isShown() {
    return !this.holder.hidden;
  }

  /** Show the index; the focus goes to the lesson that was shown. */
  show() {
    const { lessons, number } = this;
    this.list.replaceChildren(...lessons.map((one, n) => this.#entry(one, n)));
    const all = lessons.map(scoreOf);
    const of = all.reduce((sum, one) => sum + one.of, 0);
    const points = all.reduce((sum, one) => sum + one.points, 0);
    this.score.textContent = of ? `Score so far: ${points} of ${of}.` : "";
    this.score.hidden = !of;
    this.holder.hidden = false;
    this.button.hidden = true;
    document.body.classList.add("indexed");
    document.title = "Lessons";
    scrollTo(0, 0);
    if (number !== null) this.list.children[number].querySelector("button").focus();
  }

  #entry(one, n) {
    const { stage, place, questions, minutes, memory } = one;
    const count = stage.steps.length;
    const facts = [amount(count, "step"), amount(questions, "question")];
    if (minutes) facts.push(`about ${Math.round(minutes)} min`);
    const { points, of } = scoreOf(one);
    const isDone = memory.step === count && memory.answered;
    const state = isDone ? "Done" : memory.step ? `Step ${memory.step} of ${count}` : "";
    const done = [state, of ? `score ${points} of ${of}` : ""].filter(Boolean).join(", ");
    const button = make(
      "button",
      { type: "button", onclick: () => this.#go(n) },
      make("span", { class: "lesson-title" }, stage.lesson),
      make("span", { class: "lesson-place" }, place),
      make("span", { class: "lesson-facts" }, facts.join(" \u00b7 ")),
      done && make("span", { class: "lesson-done" }, done),
    );
    return make("li", {}, button);
  }

  #go(number) {
    this.number = number;
    this.holder.hidden = true;
    this.button.hidden = false;
    document.body.classList.remove("indexed");
    scrollTo(0, 0);
    this.open(this.lessons[number]);
    byId("lesson").querySelector(".next").focus();
  }

  /** What comes after the end of a lesson. */
  get nextWords() {
    return this.number + 1 < this.lessons.length ? "Next lesson" : "All lessons";
  }

  next() {
    if (this.number + 1 < this.lessons.length) this.#go(this.number + 1);
    else this.show();
  }
}

function scoreOf({ memory }) {
  const asked = [...memory.questions.values()].filter((one) => one.isClosed);
  return {
    points: asked.reduce((sum, one) => sum + one.points, 0),
    of: asked.reduce((sum, one) => sum + one.of, 0),
  };
}
