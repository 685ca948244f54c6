// The list of layers, each shown or hidden.

import { make } from "../dom.js";

export class Layers {
  constructor(holder, onChange) {
    this.holder = holder;
    this.onChange = onChange;
    this.hidden = new Set();
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
    this.holder.replaceChildren(...boxes);
  }

  /** Start with what a stage hides at first. */
  reset(stage) {
    this.hidden = new Set(stage.layers.filter((layer) => !layer.shown).map((layer) => layer.id));
    this.show(stage);
  }

  set(id, isShown) {
    if (isShown) this.hidden.delete(id);
    else this.hidden.add(id);
    const box = [...this.holder.querySelectorAll("input")].find((one) => one.dataset.layer === id);
    if (box) box.checked = isShown;
    this.onChange();
  }
}
