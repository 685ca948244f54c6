// The list of findings, and what is known of the one that is picked.

import { VERDICTS, nameOf } from "./data.js";
import { make, ownUnits } from "./dom.js";

const GROUPS = [
  ["not-met", "Not met"],
  ["open", "Open"],
  ["met", "Met"],
];
const NOTHING = "No requirement applies to anything in this scene.";
const ABOUT = {
  open: "Something is missing, or a person must decide.",
};

export class Findings {
  /** @param does what a click does, see App. */
  constructor(holder, does) {
    this.holder = holder;
    this.does = does;
    this.isMetOpen = null; // until somebody folds or unfolds it
    this.waiting = new Set(); // indices of findings that are being checked
    this.rows = new WeakMap(); // what is shown of a finding, as long as it stays the same
    holder.addEventListener("keydown", (event) => this.#walk(event));
  }

  /** Show all findings of a stage; the picked one with its details.
   *
   * @param item that is picked, or null. @param isWhole whether everything that the item
   *   has to do with is listed as well.
   */
  show(stage, picked, item, isWhole) {
    const { activeElement: active } = document;
    const name = this.holder.contains(active) ? active.dataset.name : null;
    const { scrollTop } = this.holder;
    this.hasCard = Boolean(item) && (isWhole || this.does.canMove(item));
    this.holder.replaceChildren();
    if (this.hasCard) this.holder.append(this.#about(stage, picked, item, isWhole));
    for (const [verdict, title] of GROUPS) {
      const rows = [...stage.findings.entries()].filter(([, one]) => one.verdict === verdict);
      if (rows.length) this.holder.append(this.#group(stage, verdict, title, rows, picked));
    }
    if (!stage.findings.length) this.holder.append(make("p", { class: "quiet" }, NOTHING));
    this.holder.scrollTop = scrollTop;
    if (this.holder.contains(active)) active.focus({ preventScroll: true });
    else if (name) this.#rowOf(name)?.focus({ preventScroll: true });
    const isNew = picked !== this.picked;
    this.picked = picked;
    if (isNew) this.holder.querySelector(".row.picked")?.scrollIntoView({ block: "nearest" });
  }

  #rowOf(name) {
    return [...this.holder.querySelectorAll("button.row")].find((row) => row.dataset.name === name);
  }

  #group(stage, verdict, title, rows, picked) {
    const list = make("ul", { class: "rows" });
    for (const [index, finding] of rows)
      list.append(this.#row(stage, index, finding, index === picked));
    const heading = `${title} (${rows.length})`;
    if (verdict !== "met") {
      const about = ABOUT[verdict];
      return make(
        "section",
        { class: `group ${verdict}` },
        make("h3", {}, heading),
        about && make("p", { class: "quiet" }, about),
        list,
      );
    }
    const isAll = rows.length === stage.findings.length;
    const isOpen = (this.isMetOpen ?? isAll) || rows.some(([index]) => index === picked);
    const fold = make(
      "details",
      { class: "group met", open: isOpen },
      make("summary", {}, heading),
      list,
    );
    fold.firstChild.addEventListener("click", () => (this.isMetOpen = !fold.open));
    return fold;
  }

  #row(stage, index, finding, isPicked) {
    const isWaiting = this.waiting.has(index);
    const key = `${index} ${isWaiting}`;
    const known = this.rows.get(finding);
    if (known?.key === key && !isPicked) return known.item;
    const row = make(
      "button",
      {
        type: "button",
        class: `row${isPicked ? " picked" : ""}${isWaiting ? " waiting" : ""}`,
        "aria-expanded": isPicked,
        "data-finding": index,
        "data-name": nameOf(finding),
        onclick: () => this.does.pick(isPicked ? null : index),
      },
      sign(finding),
      make(
        "span",
        { class: "what" },
        make("span", { class: "title" }, make("b", {}, finding.subject), ` ${titleOf(finding)}`),
        make("span", { class: "brief" }, briefOf(finding)),
      ),
    );
    const item = make("li", {}, row);
    if (isPicked) item.append(this.#detail(stage, finding));
    else this.rows.set(finding, { key, item });
    return item;
  }

  #detail(stage, finding) {
    const label = stage.shapes.get(finding.subject)?.label;
    const detail = make(
      "div",
      { class: "detail" },
      label && !this.hasCard && make("p", { class: "quiet" }, label),
    );
    if (finding.sizes.length) detail.append(sizeTable(finding.sizes));
    if (finding.in_the_way.length) {
      const chips = finding.in_the_way.map((item, n) => this.#chip(finding.named[n], item));
      detail.append(
        make("p", { class: "way" }, make("span", { class: "quiet" }, "In the way "), ...chips),
      );
    }
    detail.append(make("p", { class: "reason" }, finding.reason));
    if (finding.exception) {
      detail.append(make("p", { class: "reason" }, `By an exception: ${finding.exception}`));
    }
    detail.append(make("p", { class: "cite" }, finding.citation));
    for (const leaf of leavesOf(stage, finding)) detail.append(this.#door(leaf, finding));
    return detail;
  }

  #chip(text, item) {
    return make(
      "button",
      { type: "button", class: "chip", onclick: () => this.does.pickItem(item) },
      text,
    );
  }

  /** A button that opens a leaf until it is stopped, and a slider for its angle. */
  #door(leaf, finding) {
    const { reached } = leaf.pivot;
    const said = make("output", {}, "");
    const slider = make("input", {
      type: "range",
      min: 0,
      max: reached,
      step: "any",
      value: this.does.angle(leaf),
      "aria-label": `Angle of ${leaf.label}`,
      oninput: () => this.does.turn(leaf, Number(slider.value)),
    });
    const follow = (degrees) => {
      slider.value = degrees;
      said.textContent = `${Math.round(degrees * 10) / 10}°`;
    };
    follow(this.does.angle(leaf));
    this.does.follow(leaf.id, follow);
    const stops = finding.verdict === "not-met" ? "Open it until it is stopped" : "Open it";
    const play = make(
      "button",
      { type: "button", class: "play", "data-leaf": leaf.id, onclick: () => this.does.play(leaf) },
      stops,
    );
    return make("div", { class: "door" }, play, slider, said);
  }

  /** The item that is picked, and every requirement it has to do with. */
  #about(stage, picked, item, isWhole) {
    const label = stage.shapes.get(item)?.label ?? item;
    const [, ...rest] = label.split(", ");
    const card = make(
      "section",
      { class: "about", "aria-label": `Picked: ${label}` },
      make(
        "div",
        { class: "about-head" },
        make("h3", {}, item, make("span", { class: "quiet" }, ` ${rest.join(", ")}`)),
        make(
          "button",
          {
            type: "button",
            class: "close",
            "aria-label": "Pick nothing",
            onclick: () => this.does.pick(null),
          },
          "\u00d7",
        ),
      ),
    );
    if (isWhole) card.append(this.#allOf(stage, picked, item));
    const extra = this.does.more(item);
    if (extra) card.append(extra);
    return card;
  }

  #allOf(stage, picked, item) {
    const own = [...stage.findings.entries()].filter(
      ([, finding]) => finding.subject === item || finding.in_the_way.includes(item),
    );
    if (!own.length) return make("p", { class: "quiet" }, "No requirement applies to it.");
    const chips = own.map(([index, finding]) =>
      this.#verdictChip(index, finding, item, index === picked),
    );
    return make("div", { class: "chips" }, ...chips);
  }

  #verdictChip(index, finding, item, isPicked) {
    const text = finding.subject === item ? titleOf(finding) : `in the way of ${finding.subject}`;
    return make(
      "button",
      {
        type: "button",
        class: `chip ${finding.verdict}`,
        "aria-pressed": isPicked,
        title: `${titleOf(finding)}: ${VERDICTS[finding.verdict]}`,
        onclick: () => this.does.pick(index, item),
      },
      sign(finding),
      text,
    );
  }

  #walk(event) {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!step || !event.target.matches?.("button.row, summary")) return;
    const all = [...this.holder.querySelectorAll("button.row, summary")].filter(
      (one) => one.offsetParent,
    );
    const next = all[all.indexOf(event.target) + step];
    if (!next) return;
    event.preventDefault();
    next.focus();
  }
}

/** The number or mark of a finding; its verdict is said in words as well. */
export function sign(finding) {
  const text = finding.number ?? "\u2713";
  const words = make("span", { class: "unseen" }, `${VERDICTS[finding.verdict]}, `);
  return make("span", { class: `sign ${finding.verdict}` }, words, String(text));
}

export function titleOf(finding) {
  const title = finding.title.charAt(0).toLowerCase() + finding.title.slice(1);
  return finding.part ? `${title}, ${finding.part}` : title;
}

/** What is short, in the scene's own units; or what is missing and what was measured. */
export function briefOf(finding) {
  if (finding.verdict === "met") return "";
  if (finding.verdict === "open") {
    const asked = firstSentence(finding.missing || finding.reason);
    return ownUnits(finding.measured ? `${asked} Measured: ${finding.measured}.` : asked);
  }
  const short = finding.sizes.find((size) => size.short);
  return short ? `${short.name} ${short.brief}` : firstSentence(finding.reason);
}

/** The first sentence, which does not end after "No." before a number. */
function firstSentence(text) {
  return text.split(/(?<=\.) +(?=[A-Z])|(?<=;)\s/u)[0];
}

function sizeTable(sizes) {
  const rows = sizes.map((size) =>
    make(
      "tr",
      { class: size.short ? "short" : "" },
      make("th", { scope: "row" }, size.name),
      make("td", {}, ...bothUnits(size.required)),
      make("td", {}, ...bothUnits(size.provided)),
    ),
  );
  const heads = ["", "Required", "There is"].map((text) => make("th", { scope: "col" }, text));
  return make("table", {}, make("thead", {}, make("tr", {}, ...heads)), make("tbody", {}, ...rows));
}

function bothUnits(text) {
  const [own, other] = text.split(" (");
  return other ? [make("span", {}, own), make("small", {}, ` (${other}`)] : [text || "\u2013"];
}

/** The leaves a finding is about: the one it names, or all of its item. */
export function leavesOf(stage, finding) {
  if (finding.requirement !== "door-swing") return [];
  const own = [...stage.shapes.values()].filter(
    (shape) => shape.pivot && shape.item === finding.subject,
  );
  const number = /^leaf (\d+)$/u.exec(finding.part)?.[1];
  return number ? own.filter((shape) => shape.id.endsWith(`/leaf-${number - 1}`)) : own;
}
