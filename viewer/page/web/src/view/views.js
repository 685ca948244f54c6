// Standard views: a small plan with the direction to stand in, as on a compass.

import { make } from "../dom.js";

const GRID = [
  ["north-west", "NW"],
  ["north", "N"],
  ["north-east", "NE"],
  ["west", "W"],
  ["above", "Top"],
  ["east", "E"],
  ["south-west", "SW"],
  ["south", "S"],
  ["south-east", "SE"],
];
const COMPASS = [
  "east",
  "north-east",
  "north",
  "north-west",
  "west",
  "south-west",
  "south",
  "south-east",
];

export class Views {
  constructor(holder, camera, onView) {
    this.holder = holder;
    this.camera = camera;
    this.onView = onView;
    this.buttons = new Map();
    for (const [name, text] of GRID) {
      const words = name === "above" ? "Top: view from above" : `${text}: view from the ${name}`;
      const button = make(
        "button",
        {
          type: "button",
          "aria-label": words,
          title: words,
          "data-view": name,
          onclick: () => this.#go(name),
        },
        text,
      );
      this.buttons.set(name, button);
      holder.append(button);
    }
  }

  setViews(views) {
    this.views = new Map(views.map((view) => [view.name, view]));
    for (const [name, button] of this.buttons) button.disabled = !this.views.has(name);
  }

  #go(name) {
    const view = this.views.get(name);
    if (view) this.onView(view);
  }

  /** Mark where the viewer stands now. */
  show() {
    const eighth = Math.round(this.camera.azimuth / (Math.PI / 4));
    const side = this.camera.elevation > 1.3 ? "above" : COMPASS[((eighth % 8) + 8) % 8];
    for (const [name, button] of this.buttons) {
      const isHere = name === side;
      button.classList.toggle("here", isHere);
      if (isHere) button.setAttribute("aria-current", "true");
      else button.removeAttribute("aria-current");
    }
  }
}
