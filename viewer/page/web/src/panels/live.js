// Live: items are moved here, the program checks them again, and the page follows.

import { byId, make } from "../dom.js";
import { placeForm } from "./placing.js";
import { Solids } from "../judge/solids.js";
import { TENTHS } from "../scene/lengths.js";

const RETRY = 1500; // milliseconds until the next try where the program does not answer
const PATIENCE = 250; // milliseconds that something is picked until its places are asked for
const SILENT = "The program does not answer. Is it still running?";

export class Live {
  /** @param does {{receive(reply), refused(), mapped(id, map)}} */
  constructor(live, does) {
    this.state = live;
    this.does = does;
    this.version = live.version;
    this.waiting = null;
    this.busy = false;
    this.tab = Math.random().toString(36).slice(2);
    this.gesture = 0;
    this.poll = null;
    this.change = 0; // how often more has changed than the place of what is picked
    this.seen = live.version;
    this.isPaused = false; // while a lesson is played nothing is moved
  }

  setPaused(isPaused) {
    this.isPaused = isPaused;
    this.#status();
  }

  /** Be what moves things from now on. */
  enter() {
    byId("live").hidden = false;
    byId("live").className = "";
    byId("save").hidden = false;
    byId("back").hidden = true;
    byId("provisional").hidden = true;
    document.body.classList.remove("moved");
    this.#status();
  }

  start() {
    this.enter();
    byId("save").addEventListener("click", () => this.save());
    byId("keep").addEventListener("click", () => this.keep());
    byId("take-back").addEventListener("click", () => this.undo());
    this.#listen();
  }

  #status() {
    const { undo, unsaved, message, mistake, checking, trial } = this.state;
    byId("undo").disabled = !undo || this.isPaused;
    byId("save").disabled = !unsaved || this.isPaused;
    byId("busy").hidden = !checking || this.isPaused;
    byId("state").textContent = unsaved ? "Not saved" : "Saved";
    byId("trial").hidden = !trial || this.isPaused;
    byId("trial-text").textContent = trial;
    tell(message, mistake);
  }

  /** Move an item to a place in the scene's units; while one move is on its way only
   * the newest of the others waits. */
  move(id, to) {
    this.waiting = { path: "move", body: { id, to, gesture: `${this.tab} ${this.gesture}` } };
    return this.#send();
  }

  undo() {
    this.waiting = { path: "undo", body: {} };
    return this.#send();
  }

  save() {
    this.waiting = { path: "save", body: {} };
    return this.#send();
  }

  async #send() {
    if (this.busy) return;
    this.busy = true;
    this.poll?.abort();
    while (this.waiting) {
      const { path, body } = this.waiting;
      this.sent = path;
      this.waiting = null;
      await this.#post(path, body);
    }
    this.busy = false;
  }

  async #post(path, body) {
    try {
      const answer = await fetch(path, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ ...body, version: this.version }),
      });
      const reply = await answer.json();
      if (answer.ok) this.#receive(reply);
      else this.#refused(reply.message);
    } catch {
      this.#refused(SILENT);
    }
  }

  /** The lesson of the file, or null where it cannot be played. */
  async lesson() {
    try {
      const answer = await fetch("lesson");
      const reply = await answer.json();
      if (answer.ok) return reply.stage;
      tell(reply.message, true);
    } catch {
      tell(SILENT, true);
    }
    return null;
  }

  #refused(message) {
    tell(message, true);
    this.does.refused();
  }

  #receive(reply) {
    // A change fits only what it is a change of; the next poll asks for what is missed.
    if (reply.since !== this.version && !reply.stage) return;
    const before = this.state;
    this.version = reply.version;
    this.state = reply.live;
    this.#follow(before);
    this.does.receive(reply);
    this.#status();
  }

  /** Put the bodies where they are now; ask again where more than a place has changed. */
  #follow(before) {
    const { places } = this.state;
    const others = Object.keys(places).filter((id) => String(places[id]) !== String(before.places[id]));
    for (const id of others) this.place(id, places[id]);
    const isMove = this.sent === "move" && others.every((id) => id === this.asked);
    if (this.version === this.seen || (isMove && others.length)) return void (this.seen = this.version);
    this.seen = this.version;
    if (!others.length && this.sent === "move") return;
    this.change += 1;
    this.told = null;
    if (this.asked) this.picked(this.asked);
  }

  /** Follow the scene file: wait for the next version, again and again. */
  async #listen() {
    for (;;) {
      if (this.busy) {
        await pause(60);
        continue;
      }
      this.poll = new AbortController();
      try {
        const seen = `events?version=${this.version}&notice=${this.state.notice}`;
        const answer = await fetch(seen, { signal: this.poll.signal });
        if (answer.status === 200) this.#receive(await answer.json());
        else if (!answer.ok) await pause(RETRY);
      } catch (error) {
        if (error.name === "AbortError") continue;
        tell(SILENT, true);
        await pause(RETRY);
      }
    }
  }

  /** Put an item where the hand has it, to see what is near there. */
  place(id, to) {
    const { solids, told } = this;
    // Nothing is told while the bodies are asked for again; they come as things stand then.
    if (!solids || !told?.places[id]) return;
    const way = to.map((value, axis) =>
      Math.round((value - told.places[id][axis]) * TENTHS[this.state.unit]),
    );
    solids.put(solids.number.get(id), way);
  }

  /** An item is picked: ask for the bodies about it, and for where it may stand. */
  picked(id) {
    this.asked = this.state.places[id] ? id : null;
    clearTimeout(this.asking);
    if (!this.asked) return;
    this.#fetchBodies();
    this.asking = setTimeout(() => this.#fetchMap(id), PATIENCE);
  }

  async #fetchBodies() {
    if (this.told?.version === this.version || this.isFetching) return;
    this.isFetching = true;
    const told = await this.#get("bodies");
    this.isFetching = false;
    if (!told) return;
    this.told = told;
    this.solids = new Solids(told.record);
    // Meanwhile something may have been moved.
    for (const [id, place] of Object.entries(this.state.places)) {
      if (String(place) !== String(told.places[id])) this.place(id, place);
    }
  }

  async #fetchMap(id) {
    if (this.mapped?.id === id && this.mapped.change === this.change) return;
    const map = await this.#get(`map?item=${encodeURIComponent(id)}`);
    if (!map || this.asked !== id) return;
    this.mapped = { id, change: this.change };
    this.does.mapped(id, map);
  }

  async #get(path) {
    try {
      const answer = await fetch(path);
      return answer.ok ? await answer.json() : null;
    } catch {
      return null;
    }
  }

  /** What may be done about a judgement: try, then keep or undo; null where it is met. */
  remedies(index) {
    const { advice } = this.state;
    if (this.isPaused) return null;
    const found = advice.rows[index];
    if (!found) return advice.done ? null : make("p", { class: "quiet" }, "Looking for remedies\u2026");
    if (!found.texts.length) return make("p", { class: "quiet" }, `No remedy was found. ${found.why}`);
    const items = found.texts.map((text, number) =>
      make(
        "li",
        {},
        make("span", {}, text),
        make("button", { type: "button", class: "try", onclick: () => this.try(index, number) }, "Try"),
      ),
    );
    const head = make("h4", {}, "What puts it right, proved by a check of the whole room");
    return make("div", { class: "remedies" }, head, make("ul", {}, ...items));
  }

  try(row, number) {
    this.waiting = { path: "try", body: { row, number } };
    return this.#send();
  }

  keep() {
    this.waiting = { path: "keep", body: {} };
    return this.#send();
  }

  /** Fields for the place of an item, or null where it cannot be moved. */
  form(id) {
    if (!this.state.places[id]) return null;
    if (this.isPaused) return make("p", { class: "quiet" }, "Leave the lesson to move it.");
    this.shown = placeForm(this, id, this.shown);
    return this.shown.form;
  }
}

/** Say something over the picture; no text takes it away. */
function tell(text, isMistake) {
  const notice = byId("notice");
  notice.hidden = !text;
  notice.className = isMistake ? "mistake" : "";
  notice.replaceChildren(...text.split("\n").map((line) => make("p", {}, line)));
}

function pause(milliseconds) {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
