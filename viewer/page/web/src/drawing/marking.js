// What is picked, filled with the selection's colour, and an outline of what is in its way.

import { Mesh } from "three";
import { wideLines } from "./batches.js";
import { edgesOf, isRound, surfaceOf } from "../scene/geometry.js";
import { faceMaterial, lineMaterial, rimMaterial } from "./materials.js";

const LINE = { width: 2.2, opacity: 1, lift: 1, through: false, uncut: false };

/** Objects to be drawn with the room.
 *
 * @param {{shapes: Map, picked: Set, outlined: Set, palette, matrixOf}} picture
 *   picked and outlined: ids of items.
 */
export function markedParts({ shapes, picked, outlined, palette, matrixOf }) {
  const solids = [...shapes.values()].filter(isThing);
  const parts = rimsOf(solids, { picked, outlined, palette, matrixOf });
  if (!picked.size && !outlined.size) return parts;
  const others = solids.filter((shape) => outlined.has(shape.item) && !picked.has(shape.item));
  if (others.length) {
    const material = lineMaterial({ ...LINE, colour: palette.intrusion });
    parts.push(wideLines(edgesOf(others, matrixOf), material));
  }
  const own = solids.filter((shape) => picked.has(shape.item));
  if (!own.length) return parts;
  for (const glass of [false, true]) {
    const some = own.filter((shape) => (shape.opacity < 0.5 && !shape.ghost) === glass);
    if (!some.length) continue;
    const faces = surfaceOf(some, () => palette.selection, matrixOf);
    const style = { opacity: glass ? 0.3 : 1, oneSided: false, lift: 0.5, flat: false };
    parts.push(new Mesh(faces, faceMaterial({ ...style, facets: false })));
  }
  const edges = edgesOf(own, matrixOf);
  const style = { ...LINE, colour: palette.selection_edge };
  const xray = wideLines(edges, lineMaterial({ ...style, opacity: 0.35, through: true }));
  xray.renderOrder = 8;
  return [...parts, wideLines(edges, lineMaterial(style)), xray];
}

/** Rims of what is round and outlined: its edges outline its ends alone. */
function rimsOf(solids, { picked, outlined, palette, matrixOf }) {
  const colours = { [palette.selection_edge]: [], [palette.intrusion]: [] };
  for (const shape of solids.filter(isRound)) {
    if (picked.has(shape.item)) colours[palette.selection_edge].push(shape);
    else if (outlined.has(shape.item) || shape.through) colours[palette.intrusion].push(shape);
  }
  return Object.entries(colours)
    .filter(([, shapes]) => shapes.length)
    .map(([colour, some]) => new Mesh(surfaceOf(some, () => colour, matrixOf), rimMaterial(LINE.width)));
}

export function isThing(shape) {
  return shape.role === "solid" || shape.role === "leaf";
}
