// What is printed, and read where there is no picture: a still and all judgements.

import { VERDICTS } from "../scene/data.js";
import { byId, make } from "../dom.js";

const PAPER = { width: 1000, height: 600 }; // pixels of the screen
const SHARP = 2; // pixels of the still for one of the screen

/** The judgements as a table, every one with its sizes, its reason and its citation. */
export function judgementTable(stage) {
  const heads = ["", "Item", "Requirement", "Sizes", "Why"];
  const rows = stage.judgements.map((judgement) =>
    make(
      "tr",
      { class: judgement.verdict },
      make(
        "td",
        { class: "verdict" },
        judgement.number ? `${judgement.number} ` : "",
        VERDICTS[judgement.verdict],
      ),
      make("td", {}, judgement.subject),
      make("td", {}, judgement.part ? `${judgement.title}, ${judgement.part}` : judgement.title),
      make(
        "td",
        {},
        ...judgement.sizes.map((size) =>
          make("div", { class: size.short ? "short" : "" }, sizeWords(size)),
        ),
      ),
      make(
        "td",
        {},
        `${judgement.reason} `,
        judgement.exception && `By an exception: ${judgement.exception}. `,
        make("cite", {}, judgement.citation),
      ),
    ),
  );
  return make(
    "table",
    { class: "all" },
    make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
    make("tbody", {}, ...rows),
  );
}

function sizeWords(size) {
  const [required, provided] = [size.required, size.provided].map(bracketed);
  const needed = size.most ? required : required && `required ${required}`;
  const parts = [provided, needed].filter(Boolean);
  return `${size.name} ${parts.join(", ")}`;
}

function bracketed([own, other]) {
  return other ? `${own} (${other})` : own;
}

/** The counts in words: "2 not met, 1 open, 14 met". */
export function countsOf(stage) {
  return Object.entries(VERDICTS).map(([verdict, words]) => {
    const count = stage.judgements.filter((judgement) => judgement.verdict === verdict).length;
    return { verdict, words, count };
  });
}

/** Draw the still that stands on paper, in the shape that paper asks for. */
export function printStill(app) {
  const { picture, camera, marks } = app;
  const pose = camera.pose();
  picture.resize(PAPER.width, PAPER.height, SHARP);
  camera.eye.aspect = PAPER.width / PAPER.height;
  if (!camera.isFree) Object.assign(camera, app.goal());
  picture.draw();
  marks.place(PAPER.width, PAPER.height, []);
  byId("still").src = stillOf(byId("room"), marks.shown, PAPER, app.palette);
  Object.assign(camera, pose);
  app.resize();
}

/** The picture with its texts as one PNG: a data address. */
function stillOf(canvas, texts, size, palette) {
  const still = document.createElement("canvas");
  [still.width, still.height] = [size.width * SHARP, size.height * SHARP];
  const context = still.getContext("2d");
  context.fillStyle = palette.paper;
  context.fillRect(0, 0, still.width, still.height);
  context.drawImage(canvas, 0, 0, still.width, still.height);
  context.scale(SHARP, SHARP);
  context.textAlign = "center";
  context.textBaseline = "middle";
  for (const text of texts) (text.number ? paintBadge : paintText)(context, text, palette);
  return still.toDataURL("image/png");
}

function paintBadge(context, { box, at, number, verdict, isAimed }, palette) {
  const isOpen = verdict === "open";
  const [x, y] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  const colour = isOpen ? palette.faint : palette.not_met;
  context.strokeStyle = colour;
  context.lineWidth = 1.5;
  context.beginPath();
  if (isAimed) {
    context.moveTo(at.x, at.y);
    context.lineTo(x, y);
    context.stroke();
  }
  context.beginPath();
  context.font = "bold 13px system-ui, sans-serif";
  const half = Math.max(context.measureText(number).width / 2 + 6, 11.5);
  context.roundRect(x - half, y - 11.5, 2 * half, 23, 11.5);
  context.fillStyle = isOpen ? palette.paper : colour;
  context.fill();
  context.stroke();
  context.fillStyle = isOpen ? palette.ink : palette.paper;
  context.fillText(number, x, y + 1);
}

function paintText(context, { box, lines }, palette) {
  context.fillStyle = palette.paper;
  context.globalAlpha = 0.85;
  context.fillRect(box.left, box.top, box.right - box.left, box.bottom - box.top);
  context.globalAlpha = 1;
  context.fillStyle = palette.ink;
  context.font = "12px system-ui, sans-serif";
  const tall = (box.bottom - box.top) / lines.length;
  lines.forEach((line, n) =>
    context.fillText(line, (box.left + box.right) / 2, box.top + tall * (n + 0.5)),
  );
}
