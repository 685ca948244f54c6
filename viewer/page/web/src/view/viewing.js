// How the page is seen: light or dark, large for a projector, the whole screen, and its keys.

import { make } from "../dom.js";

const KEYS = [
  ["In the room", [
    ["\u2190 \u2191 \u2192 \u2193", "turn it; what is picked moves"],
    ["Shift + arrows", "shift it; what is picked moves up and down"],
    ["+ \u2212", "nearer, farther"],
    ["Home", "the whole room"],
    ["Esc", "pick nothing"],
  ]],
  ["In a lesson", [
    ["\u2192 or Page down", "on: from a question to its answer, then to the next step"],
    ["\u2190 or Page up", "back"],
    ["T", "what only the trainer reads"],
  ]],
  ["Everywhere", [
    ["Tab, Enter", "go to a control, use it"],
    ["\u2191 \u2193", "in the list of judgements: the one before, the next"],
    ["L", "large text, for a projector"],
    ["D", "dark or light"],
    ["F", "full screen"],
    ["?", "these keys"],
  ]],
];
const NOTE =
  "The arrow keys are the room's once Tab has brought you there; otherwise, after a drag too, " +
  "they lead through the lesson.";

export class Viewing {
  /** @param lessonOf gives the lesson that is played, if there is one. */
  constructor(holder, lessonOf) {
    const button = (text, key, act, more = {}) =>
      make("button", { type: "button", title: `${text} (key ${key})`, onclick: act, ...more }, text);
    const isOff = { "aria-pressed": false };
    this.lessonOf = lessonOf;
    this.dark = button("Dark", "D", () => this.setDark(!this.isDark), isOff);
    this.large = button("Large text", "L", () => this.setLarge(!this.isLarge), isOff);
    this.full = button("Full screen", "F", () => this.toggleFull(), isOff);
    this.full.hidden = !document.fullscreenEnabled;
    this.keys = button("Keys", "?", () => this.dialog.showModal());
    this.dialog = keysDialog();
    document.body.append(this.dialog);
    holder.append(this.large, this.dark, this.full, this.keys);
    // It follows the system until somebody has chosen.
    const system = matchMedia("(prefers-color-scheme: dark)");
    system.addEventListener("change", () => this.isChosen || this.#shade(system.matches));
    this.#shade(system.matches);
    document.addEventListener("fullscreenchange", () =>
      this.full.setAttribute("aria-pressed", Boolean(document.fullscreenElement)),
    );
  }

  setDark(isDark) {
    this.isChosen = true;
    this.#shade(isDark);
  }

  #shade(isDark) {
    this.isDark = isDark;
    document.documentElement.dataset.theme = isDark ? "dark" : "light";
    this.dark.setAttribute("aria-pressed", isDark);
  }

  setLarge(isLarge) {
    this.isLarge = isLarge;
    document.documentElement.classList.toggle("large", isLarge);
    this.large.setAttribute("aria-pressed", isLarge);
    dispatchEvent(new Event("resize"));
  }

  toggleFull() {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen?.().catch(() => {});
  }

  /** Do what a key asks for; tells whether it asks for something. */
  take(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    const act = {
      d: () => this.setDark(!this.isDark),
      l: () => this.setLarge(!this.isLarge),
      f: () => this.toggleFull(),
      t: () => this.lessonOf()?.toggleNotes(),
      "?": () => this.dialog.showModal(),
    }[event.key.toLowerCase()];
    act?.();
    return Boolean(act);
  }
}

function keysDialog() {
  const parts = KEYS.map(([title, rows]) =>
    make(
      "div",
      {},
      make("h3", {}, title),
      make(
        "dl",
        {},
        ...rows.flatMap(([key, words]) => [make("dt", {}, make("kbd", {}, key)), make("dd", {}, words)]),
      ),
    ),
  );
  const close = make("button", { type: "submit", class: "primary" }, "Close");
  return make(
    "dialog",
    { id: "keys", "aria-labelledby": "keys-title" },
    make("h2", { id: "keys-title" }, "Keys"),
    ...parts,
    make("p", { class: "quiet" }, NOTE),
    make("form", { method: "dialog" }, close),
  );
}
