// The lesson: steps forward and back; a question first, its answer when asked for. Until
// then nothing of the answer is on the page: what is shown is the room before the step.

import { VERDICTS, changed, stagesOf, turned } from "../scene/data.js";
import { make } from "../dom.js";
import { sign, titleOf } from "../panels/judgements.js";
import { Question, amount } from "./question.js";

const HOW = "Go through it with the buttons, or with the arrow keys.";
const HOW_LIVE =
  "It is played in the room as the file has it. Meanwhile nothing can be moved; leave it to go on.";
const BEFORE = "Shown is the room before this change.";
const AFTER = "The judgements of this room are hidden.";
const NARROW = "(max-width: 720px)"; // there the whole page goes by, as in style.css
const LOW = "(min-width: 721px) and (max-width: 1100px), (min-width: 721px) and (max-height: 820px)"; // as there
const NONE = []; // layers that a step names
const MOST_CHANGES = 4;
const MOST_HEIGHT = 0.36; // share of the window that the words may take
const LEAST_PICTURE = 0.42; // share of it that is left to the picture in a low window

export class Lesson {
  /** @param {{isLive: boolean, onStep, onEnd, endWords}} does onStep takes the stage to show,
   *   null where no step is shown, the view to fly to or null, the question that is open, and
   *   what is told of the stage: sizes, item, remedies, layers, and the stage before, to move from;
   *   onEnd is what comes after the last step, endWords its name or "". */
  constructor(holder, does) {
    this.holder = holder;
    this.does = does;
    this.steps = [];
    this.step = 0; // 0: not begun; n: the n-th step
    this.answered = true;
    this.questions = new Map(); // by the number of their step, from 1
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
    this.points = make("span", { class: "count score", role: "status" });
    this.notes = make("p", { class: "notes", hidden: true });
    this.trainer = button("Trainer", () => this.toggleNotes(), "trainer");
    this.trainer.title = "What only the trainer reads (key T); the sheet for the trainer is printed then";
    this.trainer.setAttribute("aria-pressed", false);
    this.name = make("b");
    this.bar = make("div", { class: "bar", "aria-hidden": "true" });
    const keys = make("div", { class: "lesson-keys" }, this.leaving, this.trainer, this.back, this.next);
    const name = make(
      "h2",
      { class: "lesson-name" },
      make("span", { class: "cap" }, "Lesson "),
      this.name,
    );
    const head = make("div", { class: "lesson-head" }, name, this.bar, this.count, this.points, keys);
    this.holder.append(head, this.words, this.notes);
  }

  /** Take a lesson, or what has become of it: the step that is shown stays.
   *
   * @param memory of another lesson: where it was left, kept up to date from now on.
   */
  take(stage, memory = null) {
    this.steps = stage.steps;
    this.stages = stagesOf(stage);
    if (memory) Object.assign(this, memory);
    else this.questions.clear();
    this.memory = memory;
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
    const isLow = matchMedia(LOW).matches;
    for (const [step, { task }] of this.steps.entries()) {
      if (isLow && task.find.length) continue; // its long list may go by, for the picture's sake
      probe.replaceChildren(...this.#question(step + 1, false), ...this.#answer(step + 1));
      probe.append(...this.#probed(step + 1));
      tallest = Math.max(tallest, probe.scrollHeight);
    }
    probe.remove();
    if (matchMedia(NARROW).matches || this.#isAside) return void (this.words.style.height = "");
    this.words.style.height = "0"; // else long words push what is below out of the window
    const both = this.words.clientHeight + document.getElementById("stage").clientHeight;
    const most = Math.min(innerHeight * MOST_HEIGHT, both - innerHeight * LEAST_PICTURE);
    this.words.style.height = `${Math.min(tallest, most)}px`;
  }

  /** Whether the question stands beside the picture, in place of the judgements it hides. */
  get #isAside() {
    return document.body.classList.contains("finding") && matchMedia(LOW).matches;
  }

  /** What a question takes up, without being one. */
  #probed(step) {
    const { task } = this.steps[step - 1];
    const { choices, find, drag } = task;
    if (!choices.length && !find.length && !drag) return [];
    const probe = new Question({ ask: "", task, trial: drag ? {} : null }, () => {});
    if (choices.length) probe.close();
    return [probe.element];
  }

  /** The question of a step; made once, so that what was answered stays. */
  #questionOf(step) {
    if (!this.#asks(step)) return null;
    if (!this.questions.has(step)) {
      this.questions.set(step, new Question(this.steps[step - 1], () => this.#showScore()));
    }
    return this.questions.get(step);
  }

  /** Name a thing that was picked in the room, where things are to be found. */
  named(id) {
    if (this.step && !this.answered) this.#questionOf(this.step).name(id);
  }

  /** Points that were made, of those that were to be had until now; null where none were. */
  get score() {
    const asked = [...this.questions.values()].filter((one) => one.isClosed || one.points);
    const of = asked.reduce((sum, one) => sum + one.of, 0);
    return of ? { points: asked.reduce((sum, one) => sum + one.points, 0), of } : null;
  }

  #showScore() {
    const { score } = this;
    this.points.textContent = score ? `Score ${score.points} of ${score.of}` : "";
  }

  /** What of it is printed; null where there is no lesson. */
  get printed() {
    const { steps, stages } = this;
    const name = this.name.textContent;
    return steps.length ? { name, steps, stages, isOfTrainer: this.#isOfTrainer } : null;
  }

  toggleNotes() {
    this.trainer.setAttribute("aria-pressed", !this.#isOfTrainer);
    this.#showNotes();
  }

  get #isOfTrainer() {
    return this.trainer.getAttribute("aria-pressed") === "true";
  }

  #showNotes() {
    const isOn = this.#isOfTrainer;
    const { notes, minutes, find } = this.steps[this.step - 1]?.task ?? { find: [] };
    const time = minutes && `${amount(minutes, "minute")}.`;
    const told = [time, notes].filter(Boolean).join(" ") || "No notes for this step.";
    this.notes.replaceChildren(make("b", {}, "For the trainer: "), this.step ? told : this.#whole());
    if (isOn && find.length) this.notes.append(` To be found: ${find.join(", ")}.`);
    this.notes.hidden = !isOn;
  }

  /** How long the lesson takes. */
  #whole() {
    const minutes = this.steps.reduce((sum, { task }) => sum + (task.minutes ?? 0), 0);
    const time = minutes ? `about ${amount(minutes, "minute")}` : "";
    return [amount(this.steps.length, "step"), time].filter(Boolean).join(", ") + ".";
  }

  #asks(step) {
    return step > 0 && this.steps[step - 1].ask !== "";
  }

  /** One on or one back: from a question on to its answer first. */
  go(by) {
    if (!this.steps.length) return undefined;
    if (by > 0 && !this.answered) return this.#set(this.step, true);
    const step = this.step + by;
    if (step > this.steps.length) return this.does.endWords() ? this.does.onEnd() : undefined;
    if (step < 0) return undefined;
    return this.#set(step, by < 0 || !this.#asks(step) || this.#questionOf(step).isClosed);
  }

  leave() {
    this.#set(0, true);
    this.next.focus();
  }

  #set(step, answered) {
    const isAnswer = step === this.step && answered && !this.answered;
    this.step = step;
    this.answered = answered;
    if (answered) this.#questionOf(step)?.close();
    if (this.memory) Object.assign(this.memory, { step, answered });
    this.#show(isAnswer);
    this.#tell(step > 0 ? this.steps[step - 1].look : null);
    // With what is shown the legend grows and shrinks: in a low window the picture comes first.
    if (matchMedia(LOW).matches && this.steps.length) this.#fit();
  }

  #tell(look) {
    const { step, answered, stages, does } = this;
    const question = answered ? null : this.#questionOf(step);
    const at = answered || question.hidesAll ? step : step - 1; // the step whose room is shown
    const stage = step || !does.isLive ? this.#seen(at) : null;
    const layers = this.steps[step - 1]?.layers ?? NONE;
    const told = { stage, sizes: [], item: null, remedies: null, before: null, layers };
    if (!question?.hidesAll && at) Object.assign(told, this.#toldAt(at));
    if (answered && step) told.before = stages[step - 1];
    does.onStep(stage, look, question, told);
  }

  /** The room after a step; while a question is open what stands before it is faint. */
  #seen(at) {
    const room = this.stages[at];
    const faint = at < this.step ? this.steps[this.step - 1].faint : [];
    return faint.length ? changed(room, { drop: [], put: [], alike: faint }) : room;
  }

  /** What a step tells of its room: its sizes, what it looks at, what may be done. */
  #toldAt(step) {
    const { sizes, item, remedies } = this.steps[step - 1];
    const { dimensions } = this.stages[step];
    const drawn = sizes.map((size) => (typeof size === "number" ? dimensions[size] : size));
    return { sizes: drawn, item, remedies };
  }

  /** @param isAnswer whether only the answer is new: then only that is read out. */
  #show(isAnswer = false) {
    const { step, steps, answered } = this;
    this.count.textContent = step ? `Step ${step} of ${steps.length}` : `${steps.length} steps`;
    [...this.bar.children].forEach((part, n) => part.classList.toggle("done", n < step));
    this.back.disabled = step === 0;
    this.leaving.hidden = step === 0 || !this.does.isLive;
    const isEnd = step === steps.length && answered;
    const end = this.does.endWords();
    this.next.disabled = isEnd && !end;
    this.next.textContent = !step ? "Begin" : !answered ? "Show the answer" : isEnd && end ? end : "Next";
    this.#showScore();
    this.#showNotes();
    const isFinding = !answered && this.#questionOf(step).hidesAll;
    document.body.classList.toggle("finding", isFinding);
    const task = step ? this.#questionOf(step)?.element : null;
    if (isAnswer) {
      const asked = this.words.querySelector(".ask");
      asked.className = "asked";
      this.words.querySelector(".before")?.remove();
      asked.after(...this.#answer(step));
    } else if (step) {
      const answer = answered ? this.#answer(step) : [];
      this.words.replaceChildren(...this.#question(step, answered), ...answer, ...(task ? [task] : []));
    } else this.words.replaceChildren(make("p", {}, this.does.isLive ? HOW_LIVE : HOW));
    this.words.scrollTop = 0;
  }

  #question(step, answered) {
    const { ask, change, task } = this.steps[step - 1];
    if (!ask) return [];
    const found = [make("p", { class: answered ? "asked" : "ask" }, ask)];
    const isChanged = change.put.length > 0 || change.drop.length > 0;
    const shown = task.find.length ? AFTER : isChanged ? BEFORE : "";
    if (!answered && shown && !task.drag) found.push(make("p", { class: "quiet before" }, shown));
    return found;
  }

  #answer(step) {
    const now = this.steps[step - 1];
    const found = now.say ? [make("p", { class: "say" }, now.say)] : [];
    // Where faults were to be found, every one is told.
    const most = now.task.find.length ? Infinity : MOST_CHANGES;
    const changes = turned(this.stages[step - 1], this.stages[step]).slice(0, most);
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
