// Soft shadows where things stand on the floor and where the floor meets the walls: a
// picture of the plan, blurred, laid on the floor. Without it things seem to float.

import { CanvasTexture, Mesh, MeshBasicMaterial, PlaneGeometry, SRGBColorSpace } from "three";
import { boundsOf } from "../scene/geometry.js";
import { sectionPlane } from "./materials.js";

const DENSITY = 80; // pixels a metre
const LARGEST = 1400; // pixels
const SOFT = 0.13; // metres
const STRENGTH = 0.3;
const REACH = 0.9; // metres above the floor at which a thing casts no shadow any more
const CORNER = 0.13;
const ABOVE = 0.002; // metres above the floor

/** Whether a shape has to do with the shadow: floor, walls, and what stands there. */
export function casts(shape) {
  return shape.role === "surface" || (shape.role === "solid" && !shape.ghost);
}

/** The shadow on the floor, or null where there is none.
 *
 * @param shapes See ``casts``.
 */
export function floorShadow(shapes, ink) {
  const floors = shapes.filter((shape) => shape.role === "surface" && shape.kind === "floor");
  const bounds = boundsOf(floors.map((shape) => shape.vertices));
  if (!bounds) return null;
  const { low, high } = bounds;
  const size = [high.x - low.x, high.y - low.y];
  const density = Math.min(DENSITY, LARGEST / Math.max(...size));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(size[0] * density));
  canvas.height = Math.max(1, Math.round(size[1] * density));
  const context = canvas.getContext("2d");
  if (!context) return null;
  const place = (x, y) => [(x - low.x) * density, canvas.height - (y - low.y) * density];
  context.clip(
    path(
      floors.flatMap((floor) => trianglesOf(floor)),
      place,
    ),
  );
  context.shadowColor = ink;
  context.shadowBlur = SOFT * density * 2;
  for (const shape of shapes) {
    if (shape.role === "surface" && shape.kind !== "floor")
      paintCorner(context, shape, place, density);
    else if (shape.role === "solid") paintShape(context, shape, place);
  }
  return laid(canvas, [low.x, low.y, high.z], size);
}

// Only the blurred shadow is wanted: what casts it is drawn beside the canvas.
function paint(context, act) {
  const { width } = context.canvas;
  context.save();
  context.shadowOffsetX = width * 2;
  context.translate(-width * 2, 0);
  act();
  context.restore();
}

// Seen from above a wall is a line, with a gap where its door is.
function paintCorner(context, shape, place, density) {
  context.globalAlpha = CORNER;
  paint(context, () => {
    context.lineWidth = SOFT * density;
    context.stroke(path(trianglesOf(shape, true), place));
  });
}

function paintShape(context, shape, place) {
  let lowest = Infinity;
  for (let n = 2; n < shape.vertices.length; n += 3) lowest = Math.min(lowest, shape.vertices[n]);
  if (lowest > REACH || lowest < -0.05) return;
  context.globalAlpha = STRENGTH * (1 - Math.max(lowest, 0) / REACH);
  paint(context, () => context.fill(path(trianglesOf(shape), place)));
}

/** The triangles of a shape in plan: those that look up, so that what overlaps does not
 * cancel out; or those that stand on the floor, upright ones too. */
function trianglesOf({ vertices, faces }, isUpright = false) {
  const found = [];
  for (let n = 0; n < faces.length; n += 3) {
    const isLow = [0, 1, 2].some((k) => vertices[faces[n + k] * 3 + 2] < 0.01);
    if (isUpright && !isLow) continue;
    const corners = [0, 1, 2].map((k) => [
      vertices[faces[n + k] * 3],
      vertices[faces[n + k] * 3 + 1],
    ]);
    const [a, b, c] = corners;
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if (area > 0 || isUpright) found.push(corners);
  }
  return found;
}

function path(polygons, place) {
  const found = new Path2D();
  for (const polygon of polygons) {
    polygon.forEach(([x, y], n) =>
      n ? found.lineTo(...place(x, y)) : found.moveTo(...place(x, y)),
    );
    found.closePath();
  }
  return found;
}

function laid(canvas, low, size) {
  const texture = new CanvasTexture(canvas);
  texture.colorSpace = SRGBColorSpace;
  const material = new MeshBasicMaterial({
    map: texture,
    transparent: true,
    depthWrite: false,
    polygonOffset: true,
    polygonOffsetFactor: -1,
    polygonOffsetUnits: -1,
    clippingPlanes: [sectionPlane],
  });
  const mesh = new Mesh(new PlaneGeometry(...size), material);
  mesh.position.set(low[0] + size[0] / 2, low[1] + size[1] / 2, low[2] + ABOVE);
  mesh.renderOrder = 1;
  return mesh;
}
