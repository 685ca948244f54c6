// What is picked, filled with the selection's colour, and an outline of what is in its way.

import { Mesh } from "three";
import { wideLines } from "./batches.js";
import { edgesOf, surfaceOf } from "../scene/geometry.js";
import { faceMaterial, lineMaterial } from "./materials.js";

const LINE = { width: 2.2, opacity: 1, lift: 1, through: false, uncut: false };

/** Objects to be drawn with the room.
 *
 * @param {{shapes: Map, picked: Set, outlined: Set, palette, matrixOf}} picture
 *   picked and outlined: ids of items.
 */
export function markedParts({ shapes, picked, outlined, palette, matrixOf }) {
  if (!picked.size && !outlined.size) return [];
  const solids = [...shapes.values()].filter(isThing);
  const parts = [];
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

export function isThing(shape) {
  return shape.role === "solid" || shape.role === "leaf";
}
