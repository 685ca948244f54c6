// The section: which way it cuts, where, and which part is kept.

import { make } from "../dom.js";

const METRES = { mm: 0.001, m: 1, in: 0.0254, ft: 0.3048 };
const AXES = { x: 0, y: 1, z: 2 };
const NAMES = [
  ["off", "Off", "No section"],
  ["x", "East\u2013west", "Cut across the room, moved east and west"],
  ["y", "North\u2013south", "Cut across the room, moved north and south"],
  ["z", "Height", "Cut level, moved up and down"],
];
const LOOKING = {
  x: { low: "west", high: "east" },
  y: { low: "south", high: "north" },
  z: { low: "down", high: "up" },
};
const STEPS = 400;

export class Section {
  /** @param onChange takes {axis, at, keep} or null. @param middleOf gives the middle of what
   *   is picked as [x, y, z], null where nothing is. */
  constructor(holder, camera, onChange, middleOf = () => null) {
    this.camera = camera;
    this.middleOf = middleOf;
    this.onChange = onChange;
    this.axis = "off";
    this.keep = "high";
    this.buttons = NAMES.map(([axis, text, title]) =>
      make(
        "button",
        {
          type: "button",
          title,
          "data-axis": axis,
          "aria-pressed": axis === "off",
          onclick: () => this.choose(axis),
        },
        text,
      ),
    );
    this.slider = make("input", {
      type: "range",
      min: 0,
      max: STEPS,
      value: STEPS / 2,
      "aria-label": "Place of the section",
      oninput: () => this.#changed(),
    });
    this.said = make("output");
    this.flip = make(
      "button",
      { type: "button", title: "Show the other side of the section", onclick: () => this.turn() },
      "Other side",
    );
    this.place = make("div", { class: "place", hidden: true }, this.slider, this.said, this.flip);
    holder.append(
      make("div", { class: "choice", role: "group", "aria-label": "Section" }, ...this.buttons),
      this.place,
    );
  }

  setRoom(stage) {
    this.low = stage.low;
    this.high = stage.high;
    this.units = stage.units;
  }

  /** Cut along an axis, through what is picked or else in the middle of the room, and keep
   * what is farther from the viewer. */
  choose(axis) {
    this.axis = axis;
    for (const button of this.buttons)
      button.setAttribute("aria-pressed", button.dataset.axis === axis);
    this.place.hidden = axis === "off";
    if (axis !== "off") {
      const side = this.camera.direction.toArray()[AXES[axis]];
      this.keep = axis === "z" || side > 0 ? "low" : "high";
      const [low, high] = this.#range();
      const at = this.middleOf()?.[AXES[axis]] ?? (low + high) / 2;
      this.slider.value = Math.round(((at - low) / (high - low)) * STEPS);
    }
    this.#changed();
  }

  turn() {
    this.keep = this.keep === "low" ? "high" : "low";
    this.#changed();
  }

  /** Move the section to a coordinate, in metres. */
  move(at) {
    const [low, high] = this.#range();
    this.slider.value = Math.round(((at - low) / (high - low)) * STEPS);
    this.#changed();
  }

  get state() {
    if (this.axis === "off") return null;
    const [low, high] = this.#range();
    return {
      axis: this.axis,
      at: low + ((high - low) * this.slider.value) / STEPS,
      keep: this.keep,
    };
  }

  #range() {
    return [this.low[AXES[this.axis]], this.high[AXES[this.axis]]];
  }

  #changed() {
    const state = this.state;
    if (state) {
      const value = state.at / METRES[this.units];
      const digits = { mm: 0, m: 2, in: 1, ft: 2 }[this.units];
      const looking = LOOKING[state.axis][state.keep];
      this.said.textContent = `${value.toFixed(digits)} ${this.units}, looking ${looking}`;
      this.slider.setAttribute("aria-valuetext", this.said.textContent);
    }
    this.onChange(state);
  }
}
