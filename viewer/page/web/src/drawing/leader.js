// A line from a text to the point that it is about, where it does not lie beside it.

import { draw } from "../dom.js";

const BESIDE = 12; // pixels from its point within which a text needs no line
const DOT = 2; // pixels, radius of the line's end

/** A line of a kind of text, to be laid anew with every picture. */
export function leader(kind) {
  return draw("g", { class: `leader ${kind}` }, draw("line"), draw("circle", { r: DOT }));
}

/** Lay a line from a text's box to its point.
 *
 * @param {object|null} box where the text is; null where it is not shown.
 */
export function lead(element, box, at) {
  const x = box && Math.min(Math.max(at.x, box.left), box.right);
  const y = box && Math.min(Math.max(at.y, box.top), box.bottom);
  const isLed = Boolean(box) && Math.hypot(at.x - x, at.y - y) > BESIDE;
  element.style.visibility = isLed ? "visible" : "hidden";
  if (!isLed) return;
  const [line, dot] = element.children;
  setAll(line, { x1: x, y1: y, x2: at.x, y2: at.y });
  setAll(dot, { cx: at.x, cy: at.y });
}

function setAll(element, values) {
  for (const [name, value] of Object.entries(values)) element.setAttribute(name, value.toFixed(1));
}
