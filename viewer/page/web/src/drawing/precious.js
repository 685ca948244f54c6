// Where things in the way are seen: words keep off them. The rule is that of the stills: see
// _precious in viewer/sheet/signs.py.

import { Vector3 } from "three";
import { cornersOf, extentOf } from "../scene/geometry.js";

const MANY = 400; // things in the way; among more of them words stand where there is room
const FINE = 120; // numbers of a body; of a finer one its bounds are looked at

/** The boxes in the picture of what is in the way.
 *
 * @param {{shapes: Map, isShown: function}} picture
 * @param {function(Vector3)} seenAt where a point is seen, or null.
 */
export function preciousOf(picture, seenAt) {
  const found = [...picture.shapes.values()].filter(
    (shape) => shape.role === "intrusion" && shape.vertices.length && picture.isShown(shape),
  );
  if (found.length > MANY) return [];
  return found.map((shape) => boxOf(pointsOf(shape), seenAt)).filter(Boolean);
}

function pointsOf(shape) {
  const { vertices } = shape;
  if (vertices.length > FINE) {
    const extent = extentOf(shape);
    return cornersOf(new Vector3(...extent.slice(0, 3)), new Vector3(...extent.slice(3)));
  }
  const found = [];
  for (let n = 0; n < vertices.length; n += 3) found.push(new Vector3().fromArray(vertices, n));
  return found;
}

function boxOf(points, seenAt) {
  const spots = points.map(seenAt).filter(Boolean);
  if (!spots.length) return null;
  const [x, y] = [spots.map((spot) => spot.x), spots.map((spot) => spot.y)];
  return { left: Math.min(...x), top: Math.min(...y), right: Math.max(...x), bottom: Math.max(...y) };
}
