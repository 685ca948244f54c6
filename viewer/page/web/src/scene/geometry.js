// Surfaces and lines of shapes as buffers for the graphics card.

import { BufferAttribute, BufferGeometry, Color, Matrix4, Vector3 } from "three";

const SMOOTH = Math.cos((30 * Math.PI) / 180); // faces that meet at less are one surface
const LARGE = 4000; // faces; a scan that large is drawn flat

/** One geometry of the triangles of several shapes, each in its colour. */
export function surfaceOf(shapes, colourOf, matrixOf = () => null) {
  const corners = shapes.reduce((sum, shape) => sum + shape.faces.length, 0);
  const position = new Float32Array(corners * 3);
  const normal = new Float32Array(corners * 3);
  const colour = new Float32Array(corners * 3);
  const tint = new Color();
  let next = 0;
  for (const shape of shapes) {
    const from = next;
    const vertices = placed(shape.vertices, matrixOf(shape));
    tint.set(colourOf(shape));
    for (const vertex of shape.faces) {
      position[next] = vertices[vertex * 3];
      position[next + 1] = vertices[vertex * 3 + 1];
      position[next + 2] = vertices[vertex * 3 + 2];
      colour[next] = tint.r;
      colour[next + 1] = tint.g;
      colour[next + 2] = tint.b;
      next += 3;
    }
    setNormals(shape, position, normal, from, next);
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(position, 3));
  geometry.setAttribute("normal", new BufferAttribute(normal, 3));
  geometry.setAttribute("color", new BufferAttribute(colour, 3));
  return geometry;
}

function setNormals(shape, position, normal, from, to) {
  for (let n = from; n < to; n += 9) {
    const [ax, ay, az] = [position[n], position[n + 1], position[n + 2]];
    const [ux, uy, uz] = [position[n + 3] - ax, position[n + 4] - ay, position[n + 5] - az];
    const [vx, vy, vz] = [position[n + 6] - ax, position[n + 7] - ay, position[n + 8] - az];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const length = Math.hypot(x, y, z) || 1;
    for (let corner = n; corner < n + 9; corner += 3) {
      normal[corner] = x / length;
      normal[corner + 1] = y / length;
      normal[corner + 2] = z / length;
    }
  }
  if (isRound(shape)) share(shape.faces, normal, from);
}

/** Whether a shape may have round faces: a box has none; a pipe of 24 sides looks round once its
 * normals are shared. */
export function isRound({ faces }) {
  return faces.length > 24 * 3 && faces.length < LARGE * 3;
}

function share(faces, normal, from) {
  const around = new Map();
  faces.forEach((vertex, n) => {
    if (!around.has(vertex)) around.set(vertex, []);
    around.get(vertex).push(from + n * 3);
  });
  const flat = normal.slice(from, from + faces.length * 3);
  const at = (place) => flat.subarray(place - from, place - from + 3);
  for (const places of around.values()) {
    for (const place of places) {
      const own = at(place);
      const sum = [0, 0, 0];
      for (const other of places) {
        const near = at(other);
        if (own[0] * near[0] + own[1] * near[1] + own[2] * near[2] < SMOOTH) continue;
        for (let axis = 0; axis < 3; axis++) sum[axis] += near[axis];
      }
      const length = Math.hypot(...sum) || 1;
      for (let axis = 0; axis < 3; axis++) normal[place + axis] = sum[axis] / length;
    }
  }
}

/** The edges of several shapes, one after the other: x, y, z of both ends. */
export function edgesOf(shapes, matrixOf = () => null) {
  const total = shapes.reduce((sum, shape) => sum + shape.edges.length, 0);
  const found = new Float32Array(total);
  let next = 0;
  for (const shape of shapes) {
    found.set(placed(shape.edges, matrixOf(shape)), next);
    next += shape.edges.length;
  }
  return found;
}

/** Points moved by a matrix; without one, the same points. */
export function placed(points, matrix) {
  if (!matrix) return points;
  const found = new Float32Array(points.length);
  const point = new Vector3();
  for (let n = 0; n < points.length; n += 3) {
    point.fromArray(points, n).applyMatrix4(matrix).toArray(found, n);
  }
  return found;
}

/** The matrix that turns a leaf about its hinge, from closed, by degrees. */
export function turn(pivot, degrees) {
  const hinge = new Vector3(...pivot.hinge);
  const matrix = new Matrix4().makeRotationAxis(
    new Vector3(...pivot.axis),
    (degrees * Math.PI) / 180,
  );
  const back = hinge.clone().sub(hinge.clone().applyMatrix4(matrix));
  return matrix.setPosition(back);
}

/** The lowest and the highest corner of some points, or null of none. */
export function boundsOf(arrays) {
  const low = new Vector3(Infinity, Infinity, Infinity);
  const high = new Vector3(-Infinity, -Infinity, -Infinity);
  const point = new Vector3();
  for (const array of arrays) {
    for (let n = 0; n < array.length; n += 3) {
      point.fromArray(array, n);
      low.min(point);
      high.max(point);
    }
  }
  return low.x <= high.x ? { low, high } : null;
}

const extents = new WeakMap();

/** The least and the greatest x, y, z of a shape where it is not turned. */
export function extentOf(shape) {
  let found = extents.get(shape);
  if (found) return found;
  found = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  const { vertices } = shape;
  for (let n = 0; n < vertices.length; n++) {
    const axis = n % 3;
    if (vertices[n] < found[axis]) found[axis] = vertices[n];
    if (vertices[n] > found[axis + 3]) found[axis + 3] = vertices[n];
  }
  extents.set(shape, found);
  return found;
}

export function cornersOf(low, high) {
  const found = [];
  for (const x of [low.x, high.x])
    for (const y of [low.y, high.y])
      for (const z of [low.z, high.z]) found.push(new Vector3(x, y, z));
  return found;
}
