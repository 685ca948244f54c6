// What a section plane cuts: a filled face for each solid, and its outline. Cutting the
// triangles themselves gives every cut face the colour of its own solid, and an outline.

import { ShapeUtils, Vector2 } from "three";
import { extentOf, placed } from "./geometry.js";

const NUDGE = 1.7e-5; // metres: a plane never passes exactly through a corner
const WELD = 1e-4; // metres: ends that near are one point, in files that repeat corners

/** The faces and outlines of shapes on the plane where one coordinate has a value.
 *
 * @returns {{fills: {shape, points: number[]}[], lines: {shape, points: number[]}[]}}
 *   points: x, y, z of the corners of triangles, and of the ends of lines.
 */
export function cut(shapes, axis, at, matrixOf) {
  const fills = [];
  const lines = [];
  const level = at + NUDGE;
  for (const shape of shapes) {
    const matrix = matrixOf(shape);
    const extent = extentOf(shape);
    if (!matrix && (extent[axis] > level || extent[axis + 3] < level)) continue;
    const segments = crossing(shape, axis, level, matrix);
    if (!segments.length) continue;
    lines.push({ shape, points: segments.flatMap((one) => [...one.from, ...one.to]) });
    const points = fill(segments, axis, level);
    if (points.length) fills.push({ shape, points });
  }
  return { fills, lines };
}

/** The lines in which the triangles of a shape meet the plane.
 *
 * Each runs so that the solid is on its left, seen from where the axis points to.
 */
function crossing(shape, axis, level, matrix) {
  const vertices = placed(shape.vertices, matrix);
  const { faces } = shape;
  const found = [];
  for (let n = 0; n < faces.length; n += 3) {
    const corners = [faces[n], faces[n + 1], faces[n + 2]];
    const heights = corners.map((corner) => vertices[corner * 3 + axis] - level);
    if (Math.min(...heights) > 0 || Math.max(...heights) < 0) continue;
    const ends = { up: null, down: null };
    for (let side = 0; side < 3; side++) {
      const next = (side + 1) % 3;
      if (heights[side] < 0 === heights[next] < 0) continue;
      const end = between(vertices, corners[side], corners[next], heights[side], heights[next]);
      ends[heights[side] < 0 ? "up" : "down"] = end;
    }
    if (!ends.up || !ends.down) continue;
    found.push({
      start: ends.down.name,
      end: ends.up.name,
      from: ends.down.point,
      to: ends.up.point,
    });
  }
  return found;
}

function between(vertices, a, b, heightA, heightB) {
  const part = heightA / (heightA - heightB);
  const point = [0, 1, 2].map(
    (k) => vertices[a * 3 + k] + part * (vertices[b * 3 + k] - vertices[a * 3 + k]),
  );
  return { name: a < b ? `${a} ${b}` : `${b} ${a}`, point };
}

/** Triangles that fill the loops of some lines; none where they do not close. */
function fill(segments, axis, level) {
  const loops = looped(segments) ?? looped(segments.map(welded));
  if (!loops) return [];
  const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
  const flat = loops
    .map((loop) => loop.map((point) => new Vector2(point[u], point[v])))
    .filter((loop) => loop.length > 2);
  const solid = flat.filter((loop) => ShapeUtils.area(loop) > 0);
  const holes = flat.filter((loop) => ShapeUtils.area(loop) < 0);
  const found = [];
  for (const outer of solid) {
    const inner = holes.filter((hole) => smallestAround(hole, solid) === outer);
    const all = [outer, ...inner].flat();
    for (const corners of ShapeUtils.triangulateShape(outer, inner)) {
      for (const corner of corners) {
        const point = [0, 0, 0];
        point[axis] = level;
        point[u] = all[corner].x;
        point[v] = all[corner].y;
        found.push(...point);
      }
    }
  }
  return found;
}

function welded(segment) {
  const name = (point) => point.map((value) => Math.round(value / WELD)).join(" ");
  return { ...segment, start: name(segment.from), end: name(segment.to) };
}

/** Lines joined to closed loops of points, or null where an end is left over. */
function looped(segments) {
  const after = new Map();
  for (const segment of segments) {
    if (segment.start === segment.end) continue;
    if (!after.has(segment.start)) after.set(segment.start, []);
    after.get(segment.start).push(segment);
  }
  const loops = [];
  for (const waiting of after.values()) {
    while (waiting.length) {
      const first = waiting.pop();
      const loop = [first.from];
      let end = first.end;
      while (end !== first.start) {
        const next = after.get(end)?.pop();
        if (!next) return null;
        loop.push(next.from);
        end = next.end;
      }
      loops.push(loop);
    }
  }
  return loops;
}

function smallestAround(hole, loops) {
  const around = loops.filter((loop) => holds(loop, hole[0]));
  return around.sort((a, b) => ShapeUtils.area(a) - ShapeUtils.area(b))[0];
}

function holds(loop, point) {
  let inside = false;
  for (let n = 0, m = loop.length - 1; n < loop.length; m = n++) {
    const [a, b] = [loop[n], loop[m]];
    if (a.y > point.y === b.y > point.y) continue;
    if (point.x < ((b.x - a.x) * (point.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}
