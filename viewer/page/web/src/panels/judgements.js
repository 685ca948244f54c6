// The list of judgements, and what is known of the one that is picked.

import { VERDICTS, nameOf } from "../scene/data.js";
import { make } from "../dom.js";

const GROUPS = [
  ["not-met", "Not met"],
  ["open", "Open"],
  ["unjudged", "Open: not judged here"],
  ["met", "Met"],
];
const FOLDED = new Set(["unjudged", "met"]);
const NOTHING = "No requirement applies to anything in this scene.";
const HIDDEN = "Hidden until the answer is shown.";
const ABOUT = {
  open: "Something is missing, or a person must decide.",
};

export class Judgements {
  /** @param does what a click does, see App. */
  constructor(holder, does) {
    this.holder = holder;
    this.does = does;
    this.unfolded = {}; // by group, once somebody has folded or unfolded it
    this.waiting = new Set(); // indices of judgements that are being checked
    this.rows = new WeakMap(); // what is shown of a judgement, as long as it stays the same
    holder.addEventListener("keydown", (event) => this.#walk(event));
  }

  /** Show all judgements of a stage; the picked one with its details.
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
      const rows = [...stage.judgements.entries()].filter(([, one]) => groupOf(one) === verdict);
      if (rows.length) this.holder.append(this.#group(stage, verdict, title, rows, picked));
    }
    if (!stage.judgements.length) {
      this.holder.append(make("p", { class: "quiet nothing" }, stage.isMasked ? HIDDEN : NOTHING));
    }
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
    for (const [index, judgement] of rows)
      list.append(this.#row(stage, index, judgement, index === picked));
    const heading = `${title} (${rows.length})`;
    if (!FOLDED.has(verdict)) {
      const about = ABOUT[verdict];
      return make(
        "section",
        { class: `group ${verdict}` },
        make("h3", {}, heading),
        about && make("p", { class: "quiet" }, about),
        list,
      );
    }
    const isAll = rows.length === stage.judgements.length;
    const isOpen = (this.unfolded[verdict] ?? isAll) || rows.some(([index]) => index === picked);
    const fold = make(
      "details",
      { class: `group ${verdict}`, open: isOpen },
      make("summary", {}, heading),
      list,
    );
    fold.firstChild.addEventListener("click", () => (this.unfolded[verdict] = !fold.open));
    return fold;
  }

  #row(stage, index, judgement, isPicked) {
    const isWaiting = this.waiting.has(index);
    const key = `${index} ${isWaiting}`;
    const known = this.rows.get(judgement);
    if (known?.key === key && !isPicked) return known.item;
    const row = make(
      "button",
      {
        type: "button",
        class: `row${isPicked ? " picked" : ""}${isWaiting ? " waiting" : ""}${judgement.isProvisional ? " provisional" : ""}`,
        "aria-expanded": isPicked,
        "data-judgement": index,
        "data-name": nameOf(judgement),
        onclick: () => this.does.pick(isPicked ? null : index),
      },
      sign(judgement),
      make(
        "span",
        { class: "what" },
        make("span", { class: "title" }, make("b", {}, judgement.subject), ` ${titleOf(judgement)}`),
        make("span", { class: "brief" }, judgement.brief),
        judgement.isProvisional && !judgement.isUnjudged && make("span", { class: "tag" }, tagOf(judgement)),
      ),
    );
    const item = make("li", {}, row);
    if (isPicked) item.append(this.#detail(stage, judgement));
    else this.rows.set(judgement, { key, item });
    return item;
  }

  #detail(stage, judgement) {
    const label = stage.shapes.get(judgement.subject)?.label;
    const detail = make(
      "div",
      { class: "detail" },
      label && !this.hasCard && make("p", { class: "quiet" }, label),
    );
    if (judgement.sizes.length) detail.append(sizeTable(judgement.sizes));
    if (judgement.in_the_way.length) {
      const chips = judgement.in_the_way.map((item, n) => this.#chip(judgement.named[n], item));
      detail.append(
        make("p", { class: "way" }, make("span", { class: "quiet" }, "In the way "), ...chips),
      );
    }
    detail.append(make("p", { class: "reason" }, judgement.reason));
    if (judgement.exception) {
      detail.append(make("p", { class: "reason" }, `By an exception: ${judgement.exception}`));
    }
    detail.append(make("p", { class: "cite" }, judgement.citation));
    const isShort = judgement.verdict === "not-met";
    const remedies = isShort && this.does.remedies(stage.judgements.indexOf(judgement));
    if (remedies) detail.append(remedies);
    for (const leaf of leavesOf(stage, judgement)) detail.append(this.#door(leaf, judgement));
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
  #door(leaf, judgement) {
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
    const stops = judgement.verdict === "not-met" ? "Open it until it is stopped" : "Open it";
    const play = make(
      "button",
      { type: "button", class: "play", "data-leaf": leaf.id, onclick: () => this.does.play(leaf) },
      stops,
    );
    return make("div", { class: "door" }, play, slider, said);
  }

  /** The item that is picked, and every requirement it has to do with. */
  #about(stage, picked, item, isWhole) {
    const { label = item, about = "" } = stage.shapes.get(item) ?? {};
    const card = make(
      "section",
      { class: "about", "aria-label": `Picked: ${label}` },
      make(
        "div",
        { class: "about-head" },
        make("h3", {}, item, make("span", { class: "quiet" }, ` ${about}`)),
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
    const own = [...stage.judgements.entries()].filter(
      ([, judgement]) =>
        !judgement.isUnjudged &&
        (judgement.subject === item || judgement.in_the_way.includes(item)),
    );
    if (!own.length && (stage.provisional || stage.isMasked)) return "";
    if (!own.length) return make("p", { class: "quiet" }, "No requirement applies to it.");
    const chips = own.map(([index, judgement]) =>
      this.#verdictChip(index, judgement, item, index === picked),
    );
    return make("div", { class: "chips" }, ...chips);
  }

  #verdictChip(index, judgement, item, isPicked) {
    const text = judgement.subject === item ? titleOf(judgement) : `in the way of ${judgement.subject}`;
    return make(
      "button",
      {
        type: "button",
        class: `chip ${judgement.verdict}`,
        "aria-pressed": isPicked,
        title: `${titleOf(judgement)}: ${VERDICTS[judgement.verdict]}`,
        onclick: () => this.does.pick(index, item),
      },
      sign(judgement),
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

function groupOf(judgement) {
  return judgement.isUnjudged ? "unjudged" : judgement.verdict;
}

function tagOf({ was, verdict }) {
  const turned = was && was !== verdict ? `, was ${VERDICTS[was]}` : "";
  return `provisional${turned}`;
}

/** The number or mark of a judgement; its verdict is said in words as well. */
export function sign(judgement) {
  const text = judgement.number ?? (judgement.isUnjudged ? "?" : "\u2713");
  const words = make("span", { class: "unseen" }, `${VERDICTS[judgement.verdict]}, `);
  return make("span", { class: `sign ${judgement.verdict}` }, words, String(text));
}

export function titleOf(judgement) {
  const title = judgement.title.charAt(0).toLowerCase() + judgement.title.slice(1);
  return judgement.part ? `${title}, ${judgement.part}` : title;
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

function bothUnits([own, other]) {
  return other ? [make("span", {}, own), make("small", {}, ` (${other})`)] : [own || "\u2013"];
}

/** The leaves a judgement is about: the one it names, or all of its item. */
export function leavesOf(stage, judgement) {
  if (judgement.requirement !== "door-swing") return [];
  const own = [...stage.shapes.values()].filter(
    (shape) => shape.pivot && shape.item === judgement.subject,
  );
  const { leaf, subject } = judgement;
  return leaf === null ? own : own.filter((shape) => shape.id === `${subject}/leaf-${leaf}`);
}
