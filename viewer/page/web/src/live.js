// Live: items are moved here, the program checks them again, and the page follows.

import { byId, make } from "./dom.js";
import { placeForm } from "./placing.js";

const RETRY = 1500; // milliseconds until the next try where the program does not answer
const SILENT = "The program does not answer. Is it still running?";

export class Live {
  /** @param does {{receive(reply), refused()}} */
  constructor(live, does) {
    this.state = live;
    this.does = does;
    this.version = live.version;
    this.waiting = null;
    this.busy = false;
    this.tab = Math.random().toString(36).slice(2);
    this.gesture = 0;
    this.poll = null;
    this.isPaused = false; // while a lesson is played nothing is moved
  }

  setPaused(isPaused) {
    this.isPaused = isPaused;
    this.#status();
  }

  start() {
    byId("live").hidden = false;
    byId("undo").addEventListener("click", () => this.undo());
    byId("save").addEventListener("click", () => this.save());
    this.#status();
    this.#listen();
  }

  #status() {
    const { undo, unsaved, message, mistake, checking } = this.state;
    byId("undo").disabled = !undo || this.isPaused;
    byId("save").disabled = !unsaved || this.isPaused;
    byId("busy").hidden = !checking || this.isPaused;
    byId("state").textContent = unsaved ? "Not saved" : "Saved";
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
    this.version = reply.version;
    this.state = reply.live;
    this.does.receive(reply);
    this.#status();
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

  remedies() {
    return null;
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
