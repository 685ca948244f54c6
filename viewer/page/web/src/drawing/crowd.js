// Very many shapes, in pieces of the room. Triangles that lie along the axes, as those of
// most boxes do, are sorted by where they lie: then the half of them that looks away from
// the eye need not be drawn at all. Edges are drawn where they are far enough apart to be
// told from one another; elsewhere they would only be a grey veil.

import {
  BufferAttribute,
  BufferGeometry,
  Color,
  Group,
  LineSegments,
  MathUtils,
  Mesh,
  Sphere,
  Vector3,
} from "three";
import { isFlat } from "./batches.js";
import { extentOf } from "../scene/geometry.js";
import { faceMaterial, thinLineMaterial } from "./materials.js";

export const MANY = 1500; // shapes; above it they are a crowd
const IN_A_PIECE = 1500; // shapes
const READABLE = 9; // pixels of a thing whose edges can be told from one another
const QUICK = 40000; // lines that may be drawn while the camera moves

/** How large the pieces of a room are, in metres: the same while little changes. */
export function pieceSize(shapes) {
  let [low, high] = [Infinity, -Infinity];
  for (const shape of shapes.values()) {
    const extent = extentOf(shape);
    low = Math.min(low, extent[0], extent[1]);
    high = Math.max(high, extent[3], extent[4]);
  }
  const across = Math.max(1, Math.sqrt(shapes.size / IN_A_PIECE));
  return 2 ** Math.ceil(Math.log2(Math.max(high - low, 1) / across));
}

/** The piece a shape is in. */
export function pieceOf(shape, size) {
  const extent = extentOf(shape);
  const at = (axis) => Math.floor((extent[axis] + extent[axis + 3]) / 2 / size);
  return `${at(0)} ${at(1)}`;
}

export class Crowd {
  constructor(shapes) {
    this.shapes = shapes;
    this.isAlone = false;
    [this.first] = shapes;
    this.group = new Group();
    this.group.matrixAutoUpdate = false;
    const extents = shapes.map(extentOf);
    this.sphere = sphereOf(extents);
    this.grain = middle(extents.map((one) => Math.max(one[3] - one[0], one[4] - one[1])));
    this.#build();
  }

  #build() {
    const { first, shapes, sphere, group } = this;
    const { opacity, lift, one_sided: oneSided } = first;
    const { points, faces, colour, lines } = joined(shapes);
    const position = new BufferAttribute(points, 3);
    if (faces.length && opacity > 0) {
      const geometry = new BufferGeometry();
      geometry.setAttribute("position", position);
      geometry.setAttribute("color", new BufferAttribute(colour, 3, true));
      const isClosed = opacity === 1 || oneSided;
      const sorted = isClosed ? sortedFaces(points, faces) : { order: faces, sides: [] };
      this.sides = sorted.sides;
      geometry.setIndex(new BufferAttribute(sorted.order, 1));
      geometry.boundingSphere = sphere;
      const style = { opacity, oneSided, lift, flat: isFlat(first), facets: true };
      this.mesh = new Mesh(geometry, isClosed ? [faceMaterial(style)] : faceMaterial(style));
      this.mesh.renderOrder = opacity < 1 ? 2 + lift : lift;
      group.add(this.mesh);
    }
    if (!lines.length || first.edge_opacity === 0) return;
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", position);
    geometry.setIndex(new BufferAttribute(lines, 1));
    geometry.boundingSphere = sphere;
    const style = { colour: first.edge_colour, opacity: first.edge_opacity };
    this.lines = new LineSegments(geometry, thinLineMaterial(style));
    this.lines.renderOrder = first.edge_opacity < 1 ? 3 + lift : lift;
    group.add(this.lines);
  }

  get isPickable() {
    return Boolean(this.mesh) && this.first.pickable;
  }

  setDim() {}

  setFaint() {}

  setMatrix() {}

  /** Draw what a camera sees of it.
   *
   * @param eye of the library. @param height of the picture, pixels.
   * @param isMoving lines that take long wait until the camera rests.
   */
  aim(eye, height, isMoving) {
    if (this.mesh && this.sides.length) this.mesh.geometry.groups = seen(this.sides, eye.position);
    if (!this.lines) return;
    const far = Math.max(eye.position.distanceTo(this.sphere.center) - this.sphere.radius, 0.1);
    const pixel = (2 * far * Math.tan(MathUtils.degToRad(eye.fov) / 2)) / height;
    const isQuick = this.lines.geometry.index.count / 2 < QUICK / 8;
    this.lines.visible = this.grain / pixel > READABLE && (isQuick || !isMoving);
  }

  dispose() {
    for (const part of this.group.children) part.geometry.dispose();
  }
}

/** All corners, triangles, colours and lines of some shapes. */
function joined(shapes) {
  const total = (count) => shapes.reduce((sum, shape) => sum + count(shape), 0);
  const own = (shape) => (shape.ends ? 0 : shape.edges.length);
  const points = new Float32Array(total((shape) => shape.vertices.length + own(shape)));
  const colour = new Uint8Array(points.length);
  const faces = new Uint32Array(total((shape) => shape.faces.length));
  const lines = new Uint32Array(total((shape) => shape.edges.length / 3));
  const at = { point: 0, corner: 0, end: 0 };
  const tint = new Color();
  for (const shape of shapes) {
    const first = at.point;
    points.set(shape.vertices, first * 3);
    at.point += shape.vertices.length / 3;
    const bytes = tint
      .set(shape.colour)
      .toArray()
      .map((value) => Math.round(value * 255));
    for (let n = first; n < at.point; n++) colour.set(bytes, n * 3);
    for (const corner of shape.faces) faces[at.corner++] = first + corner;
    if (shape.ends) for (const end of shape.ends) lines[at.end++] = first + end;
    else {
      points.set(shape.edges, at.point * 3);
      for (let n = 0; n < shape.edges.length / 3; n++) lines[at.end++] = at.point++;
    }
  }
  return { points, faces, colour, lines };
}

/** Triangles by the way they look: six ways along the axes, and the rest.
 *
 * @returns {{order: Uint32Array, sides: {start, axis, sign, levels}[]}} levels: where the
 *   triangles of a side lie, ascending; the rest has none.
 */
function sortedFaces(points, faces) {
  const sides = [0, 1, 2].flatMap((axis) => [1, -1].map((sign) => ({ axis, sign, found: [] })));
  const rest = [];
  for (let n = 0; n < faces.length; n += 3) {
    const side = sides[sideOf(points, faces[n], faces[n + 1], faces[n + 2])];
    if (side) side.found.push({ n, level: points[faces[n] * 3 + side.axis] });
    else rest.push(n);
  }
  const order = new Uint32Array(faces.length);
  let start = 0;
  const take = (n) => {
    order.set(faces.subarray(n, n + 3), start);
    start += 3;
  };
  const sorted = sides.map(({ axis, sign, found }) => {
    found.sort((a, b) => a.level - b.level);
    const side = { start, axis, sign, levels: Float32Array.from(found, (one) => one.level) };
    for (const { n } of found) take(n);
    return side;
  });
  const others = { start, axis: 0, sign: 0, levels: rest };
  for (const n of rest) take(n);
  return { order, sides: [...sorted, others].filter((side) => side.levels.length) };
}

/** Two for each axis, the positive way first; -1 of a triangle that lies across them. */
function sideOf(points, a, b, c) {
  for (let axis = 0; axis < 3; axis++) {
    const level = points[a * 3 + axis];
    if (points[b * 3 + axis] !== level || points[c * 3 + axis] !== level) continue;
    const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
    const along = (point, way) => points[point * 3 + way] - points[a * 3 + way];
    const area = along(b, u) * along(c, v) - along(b, v) * along(c, u);
    if (area !== 0) return axis * 2 + (area > 0 ? 0 : 1);
  }
  return -1;
}

/** The parts of the sides that look towards an eye, as groups of the library. */
function seen(sides, eye) {
  const groups = [];
  for (const { start, axis, sign, levels } of sides) {
    const count = levels.length;
    const split = sign ? below(levels, eye.getComponent(axis)) : count;
    const [from, to] = sign < 0 ? [split, count] : [0, split];
    if (to > from) groups.push({ start: start + from * 3, count: (to - from) * 3, materialIndex: 0 });
  }
  return groups;
}

/** How many of some ascending numbers are below a limit. */
function below(numbers, limit) {
  let [low, high] = [0, numbers.length];
  while (low < high) {
    const half = (low + high) >> 1;
    if (numbers[half] < limit) low = half + 1;
    else high = half;
  }
  return low;
}

function sphereOf(extents) {
  const low = new Vector3(Infinity, Infinity, Infinity);
  const high = new Vector3(-Infinity, -Infinity, -Infinity);
  const corner = new Vector3();
  for (const extent of extents) {
    low.min(corner.fromArray(extent, 0));
    high.max(corner.fromArray(extent, 3));
  }
  return new Sphere(low.clone().add(high).multiplyScalar(0.5), low.distanceTo(high) / 2);
}

function middle(numbers) {
  return numbers.sort((a, b) => a - b)[numbers.length >> 1];
}
