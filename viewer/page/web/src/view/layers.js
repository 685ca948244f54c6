// The list of layers, each shown or hidden.

import { make } from "../dom.js";

const OF_STEP = "This step shows layers of its own; yours are back after it.";

export class Layers {
  constructor(holder, onChange) {
    this.holder = holder;
    this.onChange = onChange;
    this.hidden = new Set();
    this.own = null; // what the viewer has hidden, while a step says what is shown
    this.named = null; // the layers of that step
    this.note = make("p", { class: "quiet", hidden: true }, OF_STEP);
  }

  /** List the layers that have something in them. */
  show(stage) {
    const used = new Set([...stage.shapes.values()].map((shape) => shape.layer));
    for (const [layer, marks] of Object.entries({
      badges: "badges",
      dimensions: "dimensions",
      labels: "labels",
    })) {
      if (stage[marks].length) used.add(layer);
    }
    const boxes = stage.layers.map((layer) => {
      const box = make("input", {
        type: "checkbox",
        "data-layer": layer.id,
        checked: !this.hidden.has(layer.id),
        onchange: () => this.set(layer.id, box.checked),
      });
      return make(
        "label",
        { class: "layer", title: layer.about, hidden: !used.has(layer.id) },
        box,
        layer.name,
      );
    });
    this.note.hidden = this.own === null;
    this.holder.replaceChildren(...boxes, this.note);
  }

  /** Start with what a stage hides at first. */
  reset(stage) {
    this.hidden = new Set(stage.layers.filter((layer) => !layer.shown).map((layer) => layer.id));
    this.own = null;
    this.named = null;
    this.show(stage);
  }

  /** Show the layers of a step of a lesson, and no others; of a step that names none again
   * the viewer's own. From a question to its answer it stays one step. */
  take(names, stage) {
    if (names === this.named) return;
    const own = this.own ?? this.hidden;
    const isOfStep = names.length > 0;
    const all = stage.layers.map((layer) => layer.id);
    this.named = names;
    this.own = isOfStep ? own : null;
    this.hidden = isOfStep ? new Set(all.filter((id) => !names.includes(id))) : own;
  }

  set(id, isShown) {
    if (isShown) this.hidden.delete(id);
    else this.hidden.add(id);
    const box = [...this.holder.querySelectorAll("input")].find((one) => one.dataset.layer === id);
    if (box) box.checked = isShown;
    this.onChange();
  }
}
