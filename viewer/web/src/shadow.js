// Soft shadows where things stand on the floor and where the floor meets the walls: a
// picture of the plan, blurred, laid on the floor. Without it things seem to float.

import { CanvasTexture, Mesh, MeshBasicMaterial, PlaneGeometry, SRGBColorSpace } from "three";
import { sectionPlane } from "./materials.js";

const DENSITY = 80; // pixels a metre
const LARGEST = 1400; // pixels
const SOFT = 0.13; // metres
const STRENGTH = 0.3;
const REACH = 0.9; // metres above the floor at which a thing casts no shadow any more
const CORNER = 0.13;
const ABOVE = 0.002; // metres above the floor

/** The shadow on the floor of a room, or null where there is no floor. */
export function floorShadow(shapes, outline, ink) {
  if (outline.length < 3) return null;
  const east = outline.map(([x]) => x);
  const north = outline.map(([, y]) => y);
  const low = [Math.min(...east), Math.min(...north)];
  const size = [Math.max(...east) - low[0], Math.max(...north) - low[1]];
  const density = Math.min(DENSITY, LARGEST / Math.max(...size));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(size[0] * density));
  canvas.height = Math.max(1, Math.round(size[1] * density));
  const context = canvas.getContext("2d");
  if (!context) return null;
  const place = (x, y) => [(x - low[0]) * density, canvas.height - (y - low[1]) * density];
  context.clip(path([outline], place));
  context.shadowColor = ink;
  context.shadowBlur = SOFT * density * 2;
  paintCorner(context, path([outline], place), canvas.width, density);
  for (const shape of shapes) paintShape(context, shape, place, canvas.width);
  return laid(canvas, low, size);
}

// Only the blurred shadow is wanted: what casts it is drawn beside the canvas.
function paint(context, width, act) {
  context.save();
  context.shadowOffsetX = width * 2;
  context.translate(-width * 2, 0);
  act();
  context.restore();
}

function paintCorner(context, outline, width, density) {
  context.globalAlpha = CORNER;
  paint(context, width, () => {
    context.lineWidth = SOFT * density;
    context.stroke(outline);
  });
}

function paintShape(context, shape, place, width) {
  let lowest = Infinity;
  for (let n = 2; n < shape.vertices.length; n += 3) lowest = Math.min(lowest, shape.vertices[n]);
  if (lowest > REACH || lowest < -0.05) return;
  context.globalAlpha = STRENGTH * (1 - Math.max(lowest, 0) / REACH);
  const { vertices, faces } = shape;
  const triangles = [];
  for (let n = 0; n < faces.length; n += 3) {
    const corners = [0, 1, 2].map((k) => [vertices[faces[n + k] * 3], vertices[faces[n + k] * 3 + 1]]);
    const [a, b, c] = corners;
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    // All the same way round: what overlaps must not cancel out.
    if (area > 0) triangles.push(corners);
  }
  paint(context, width, () => context.fill(path(triangles, place)));
}

function path(polygons, place) {
  const found = new Path2D();
  for (const polygon of polygons) {
    polygon.forEach(([x, y], n) => (n ? found.lineTo(...place(x, y)) : found.moveTo(...place(x, y))));
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
  mesh.position.set(low[0] + size[0] / 2, low[1] + size[1] / 2, ABOVE);
  mesh.renderOrder = 1;
  return mesh;
}
