// Fields in which the place of an item is typed: the same ones as long as it is the same
// item, so that they stay under the hand.

import { make } from "../dom.js";

const WAYS = ["East", "North", "Up"];
const HOW = "Drag it in the picture; with Shift, up and down. Arrow keys move it by the step.";

/** @param mover {{state, gesture, move(id, to), putBack?(id)}} @param shown what was
 *   returned last. */
export function placeForm(mover, id, shown) {
  const found = shown?.id === id ? shown : { id, ...fields(mover, id) };
  found.fields.forEach((field, axis) => (field.value = mover.state.places[id][axis]));
  return found;
}

function fields(mover, id) {
  const { step, unit } = mover.state;
  const inputs = WAYS.map((_, axis) =>
    make("input", {
      type: "number",
      step,
      "data-way": axis,
      onchange: (event) => typed(mover, id, axis, event.target),
    }),
  );
  const labels = WAYS.map((way, axis) => make("label", {}, make("span", {}, way), inputs[axis]));
  const back = make(
    "button",
    { type: "button", class: "put-back", hidden: true, onclick: () => mover.putBack?.(id) },
    "Put back",
  );
  const form = make(
    "form",
    {
      class: "move",
      "aria-label": `Place of ${id}`,
      onsubmit: (event) => event.preventDefault(),
    },
    ...labels,
    make("span", { class: "unit" }, unit),
    make("p", { class: "quiet" }, HOW),
    back,
  );
  return { form, fields: inputs, back };
}

function typed(mover, id, axis, field) {
  const to = [...mover.state.places[id]];
  if (!Number.isFinite(field.valueAsNumber)) {
    field.value = to[axis];
    return;
  }
  to[axis] = field.valueAsNumber;
  mover.gesture += 1;
  mover.move(id, to);
}
