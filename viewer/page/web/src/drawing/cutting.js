// The faces and outlines that a section shows, as objects to be drawn and picked.

import { BufferAttribute, BufferGeometry, Color, Mesh } from "three";
import { wideLines } from "./batches.js";
import { isThing } from "./marking.js";
import { cutMaterial, lineMaterial } from "./materials.js";
import { cut } from "../scene/slicing.js";

const TINT = 0.35; // share of ink in the colour of a cut face

/** Objects in the plane where one coordinate (0, 1 or 2) has a value.
 *
 * @param shapes that are shown. @param {{picked: Set, palette, matrixOf}} picture
 */
export function cutParts(shapes, axis, at, { picked, palette, matrixOf }) {
  const solid = shapes.filter(
    (shape) => shape.faces.length && shape.opacity > 0 && shape.role !== "footprint",
  );
  const found = cut(solid, axis, at, matrixOf);
  const colourOf = (shape) => colour(shape, picked, palette);
  const parts = [];
  // All lies in one plane: what stands in a space wins over the solids.
  const levels = grouped(found.fills, levelOf);
  for (const [lift, fills] of levels) {
    const mesh = new Mesh(filled(fills, colourOf), cutMaterial(lift, palette.ink));
    mesh.userData = { shapes: fills.map((fill) => fill.shape) };
    parts.push(mesh);
  }
  for (const [edge, lines] of grouped(found.lines, (shape) => shape.edge_colour)) {
    const style = { colour: edge, width: 2.2, opacity: 1, lift: 3, through: false, uncut: true };
    const points = lines.flatMap((line) => line.points);
    parts.push(wideLines(points, lineMaterial(style)));
  }
  return parts;
}

/** What was cut, by something of its shape. */
function grouped(pieces, keyOf) {
  const found = new Map();
  for (const piece of pieces) {
    const key = keyOf(piece.shape);
    if (!found.has(key)) found.set(key, []);
    found.get(key).push(piece);
  }
  return found;
}

function levelOf(shape) {
  if (shape.role === "intrusion") return 2;
  return shape.opacity < 0.5 ? 0 : 1;
}

function colour(shape, picked, palette) {
  if (isThing(shape) && picked.has(shape.item)) return new Color(palette.selection);
  const own = new Color(shape.colour);
  if (shape.role === "intrusion" || shape.role === "space") return own;
  return own.lerp(new Color(palette.ink), TINT);
}

function filled(fills, colourOf) {
  const total = fills.reduce((sum, fill) => sum + fill.points.length, 0);
  const position = new Float32Array(total);
  const colours = new Float32Array(total);
  const starts = [];
  let next = 0;
  for (const { shape, points } of fills) {
    starts.push(next / 3);
    position.set(points, next);
    const tint = colourOf(shape);
    for (let n = next; n < next + points.length; n += 3) tint.toArray(colours, n);
    next += points.length;
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(position, 3));
  geometry.setAttribute("color", new BufferAttribute(colours, 3));
  geometry.userData.starts = starts;
  return geometry;
}

/** What a ray meets first: a cut face, or what was found behind it. */
export function nearerCut(caster, group, found) {
  const faces = group.children.filter((part) => part.isMesh);
  const [hit] = caster.intersectObjects(faces, false);
  if (!hit || hit.distance > (found?.far ?? Infinity)) return found;
  const { starts } = hit.object.geometry.userData;
  const number = starts.findLastIndex((start) => start <= hit.faceIndex * 3);
  const shape = hit.object.userData.shapes[number];
  return shape.pickable ? { shape, point: hit.point } : found;
}
