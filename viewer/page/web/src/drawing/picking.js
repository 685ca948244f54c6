// Which shape a ray from the eye meets first. Boxes first, then triangles: among 50 000
// shapes few boxes are met, so that a click is answered at once.

import { Matrix4, Vector3 } from "three";
import { extentOf } from "../scene/geometry.js";

/** The first of some shapes that a ray meets, and where; or null.
 *
 * @param ray in the world. @param matrixOf where a shape is drawn, see Picture.
 * @param isGone tells whether a point is cut away.
 */
export function firstHit(shapes, ray, matrixOf, isGone) {
  let found = null;
  let nearest = Infinity;
  const back = new Matrix4();
  for (const shape of shapes) {
    const matrix = matrixOf(shape);
    const own = matrix ? ray.clone().applyMatrix4(back.copy(matrix).invert()) : ray;
    if (entry(extentOf(shape), own) >= nearest) continue;
    for (const { far, point } of meetings(shape, own)) {
      if (matrix) point.applyMatrix4(matrix);
      if (far >= nearest || isGone(point)) continue;
      nearest = far;
      found = { shape, point, far };
    }
  }
  return found;
}

/** How far along a ray it enters a box; infinite where it does not. */
function entry([lowX, lowY, lowZ, highX, highY, highZ], { origin, direction }) {
  let near = 0;
  let far = Infinity;
  const sides = [
    [lowX, highX, origin.x, direction.x],
    [lowY, highY, origin.y, direction.y],
    [lowZ, highZ, origin.z, direction.z],
  ];
  for (const [low, high, from, way] of sides) {
    if (way === 0) {
      if (from < low || from > high) return Infinity;
      continue;
    }
    const [one, other] = [(low - from) / way, (high - from) / way];
    near = Math.max(near, Math.min(one, other));
    far = Math.min(far, Math.max(one, other));
  }
  return near <= far ? near : Infinity;
}

// The back of a face is not met, as it is not drawn.
function* meetings({ vertices, faces }, ray) {
  const corners = [new Vector3(), new Vector3(), new Vector3()];
  for (let n = 0; n < faces.length; n += 3) {
    corners.forEach((corner, k) => corner.fromArray(vertices, faces[n + k] * 3));
    const point = ray.intersectTriangle(...corners, true, new Vector3());
    if (point) yield { point, far: point.distanceTo(ray.origin) };
  }
}
