// A lesson on paper: all its steps. The sheet for the class has the questions and room for
// answers; what only the trainer reads is on the trainer's, printed while that is shown.

import { VERDICTS, turned } from "../scene/data.js";
import { make } from "../dom.js";
import { titleOf } from "../panels/judgements.js";
import { LETTERS, amount } from "./question.js";

const LINES = 4; // room for an answer in words
const FEWER = 2; // for why, where the answer itself is ticked

/** All steps of a lesson, as a sheet for the class, or for its trainer. */
export function printedLesson({ name, steps, stages, isOfTrainer }) {
  const told = isOfTrainer ? answerOf : roomFor;
  return make(
    "article",
    { class: "sheet" },
    make("h2", {}, name),
    make("p", { class: "whose" }, isOfTrainer ? "Sheet for the trainer: not for the class" : "Sheet for the class"),
    !isOfTrainer && ruled("Name, date", 1),
    ...steps.map((step, n) =>
      make(
        "section",
        {},
        make("h3", {}, `Step ${n + 1} of ${steps.length}${isOfTrainer ? minutesOf(step) : ""}`),
        make("p", { class: step.ask ? "ask" : "say" }, step.ask || step.say),
        ...told(step, stages[n], stages[n + 1]),
      ),
    ),
  );
}

function minutesOf({ task }) {
  return task.minutes ? `, ${amount(task.minutes, "minute")}` : "";
}

/** Room for the answer of a question; a step that only tells needs none. */
function roomFor({ ask, task }) {
  if (!ask) return [];
  if (task.find.length) return [ruled("Found", task.find.length)];
  if (task.drag) return [ruled(`Where shall ${task.drag} stand, and why`, LINES)];
  if (!task.choices.length) return [ruled("Answer, and why", LINES)];
  const boxes = task.choices.map(({ text }, n) => make("li", {}, `\u2610 ${LETTERS[n]}) ${text}`));
  return [make("ul", { class: "answers" }, ...boxes), ruled("Why", FEWER)];
}

/** The answer, what becomes of the judgements, and the notes. */
function answerOf({ ask, say, task }, before, after) {
  const choices = task.choices.map(({ text, right, why }, n) =>
    make("li", {}, `${LETTERS[n]}) ${text}. ${right ? "Right" : "Wrong"}: ${why}`),
  );
  const changes = turned(before, after).map(({ judgement }) =>
    make("li", {}, `${judgement.subject} ${titleOf(judgement)}: ${VERDICTS[judgement.verdict]}. ${judgement.reason}`),
  );
  return [
    ask && say && make("p", { class: "say" }, `Answer: ${say}`),
    choices.length > 0 && make("ul", { class: "answers" }, ...choices),
    task.find.length > 0 && make("p", {}, `To be found: ${task.find.join(", ")}.`),
    changes.length > 0 && make("ul", { class: "changes" }, ...changes),
    task.notes && make("p", { class: "notes" }, make("b", {}, "For the trainer: "), task.notes),
  ].filter(Boolean);
}

function ruled(label, lines) {
  const rules = Array.from({ length: lines }, () => make("i"));
  return make("div", { class: "ruled" }, `${label}:`, ...rules);
}
