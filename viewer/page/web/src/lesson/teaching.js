// The room while it is live, and while its lesson is played.

import { changed, maskedOf, stageOf } from "../scene/data.js";
import { byId } from "../dom.js";
import { Lesson } from "./lesson.js";
import { Live } from "../panels/live.js";
import { WhatIf } from "../judge/whatif.js";

/** Have a lesson's steps shown; it is still to be taken. */
export function teach(app) {
  const onStep = (stage, look, question, told) => {
    app.motion.stop();
    app.doors.reset();
    // What is not told while a question hides it, or is moved, is not drawn either.
    app.told = question?.hidesAll || question?.trial ? null : told;
    if (!app.live) {
      const rows = app.lesson.step ? told.remedies : app.base.remedies;
      app.remedies.take(stage, question ? {} : rows);
    }
    app.dragging?.rest();
    end(app);
    app.mover?.setPaused(app.live ? stage !== null : app.lesson.step > 0);
    app.layers.take(told.layers, stage ?? app.base);
    app.show(question?.hidesAll ? maskedOf(stage) : (stage ?? app.base));
    if (question?.trial) begin(app, stage, question);
    else if (told.before) app.motion.play(told.before, stage);
    if (look) app.fly(() => app.camera.poseOf(look));
    else if (stage === null) app.fly(() => app.poseOf(app.firstView()));
  };
  const onEnd = () => app.course?.next();
  const endWords = () => app.course?.nextWords ?? "";
  const does = { isLive: Boolean(app.live), onStep, onEnd, endWords };
  app.lesson = new Lesson(byId("lesson"), does);
  return app.lesson;
}

/** Let the room before a step be changed, and judge what is moved there in the page. */
function begin(app, stage, question) {
  const show = (moved) => {
    if (app.trial !== trial) return;
    app.show(moved);
    app.dragging?.settle();
    question.judge(moved, trial.told.rows);
  };
  const trial = new WhatIf(question.trial, { stage, palette: app.palette, show });
  trial.held = question.drag;
  app.trial = trial;
  trial.enter();
  app.hold(question.drag);
}

function end(app) {
  if (!app.trial) return;
  const { held } = app.trial;
  app.trial = null;
  app.mover?.enter();
  if (app.item === held) app.pick(null); // the question picked it, not the class
}

/** Follow the program that serves the page. */
export function goLive(app, state) {
  app.live = new Live(state, {
    receive: (reply) => {
      app.base = reply.stage ? stageOf(reply.stage) : changed(app.base, reply.change);
      // While a lesson is played its step is shown; the room waits behind it.
      if (!app.live.isPaused) app.show(app.base);
      app.dragging?.settle();
      learn(app);
    },
    refused: () => app.dragging?.settle(),
    mapped: (id, map) => {
      app.maps?.take(id, map);
      app.again();
    },
  });
  app.live.start();
  learn(app);
}

/** Take over the lesson of the file where it is another one than the last. */
async function learn(app) {
  const number = app.live.state.lesson;
  if (number === (app.taught ?? 0)) return;
  app.taught = number;
  const stage = number ? await app.live.lesson() : null;
  if (app.taught !== number) return; // there is a newer one on its way
  if (stage) (app.lesson ?? teach(app)).take(stageOf(stage));
  else app.lesson?.end();
}

/** How many steps on a key goes in a lesson. */
export function stepOfKey(event, isField) {
  if (event.key === "PageDown") return 1;
  if (event.key === "PageUp") return -1;
  if (isField || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return 0;
  return { ArrowRight: 1, ArrowLeft: -1 }[event.key] ?? 0;
}
