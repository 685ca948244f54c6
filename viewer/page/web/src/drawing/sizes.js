// Dimension lines in the room: what is required, and beside it what is there.

import { Vector3 } from "three";
import { wideLines } from "./batches.js";
import { lineMaterial } from "./materials.js";
import { ASIDE } from "./marks.js";

const TICK = 0.06; // metres
const NEARER = 0.06; // metres the line of what is there lies nearer to the space

/** The lines of some dimensions, ready to be drawn in front of everything. */
export function sizeLines(dimensions, palette) {
  const required = [];
  const own = []; // of the author of a lesson
  const provided = [];
  for (const size of dimensions) {
    const aside = new Vector3(...size.aside);
    const lines = size.judgement === null ? own : required;
    lines.push(...line(size.start, size.end, aside, ASIDE, true));
    if (!size.short) continue;
    provided.push(...line(size.reached_start, size.reached_end, aside, ASIDE - NEARER, false));
  }
  const found = [];
  const style = { opacity: 1, lift: 0, through: true, uncut: false };
  if (required.length) {
    found.push(
      wideLines(required, lineMaterial({ ...style, colour: palette.space_edge, width: 2 })),
    );
  }
  if (own.length) {
    found.push(wideLines(own, lineMaterial({ ...style, colour: palette.ink, width: 2 })));
  }
  if (provided.length) {
    found.push(
      wideLines(provided, lineMaterial({ ...style, colour: palette.intrusion, width: 4 })),
    );
  }
  for (const lines of found) lines.renderOrder = 10;
  return found;
}

/** A line with a tick at each end, and thin lines back to what it measures. */
function line(from, to, aside, off, isMeasure) {
  const start = new Vector3(...from).addScaledVector(aside, off);
  const end = new Vector3(...to).addScaledVector(aside, off);
  const found = [start, end];
  for (const [tip, foot] of [
    [start, from],
    [end, to],
  ]) {
    found.push(tip.clone().addScaledVector(aside, TICK / 2));
    found.push(isMeasure ? new Vector3(...foot) : tip.clone().addScaledVector(aside, -TICK / 2));
  }
  return found.flatMap((point) => point.toArray());
}
