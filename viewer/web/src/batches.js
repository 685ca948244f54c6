// Shapes as objects of the graphics library: each its own while there are few, so that
// each can be shown, dimmed and turned; merged per layer and look where there are many.

import { Group, LineSegments, Mesh } from "three";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { edgesOf, sharedSurfaceOf, surfaceOf } from "./geometry.js";
import { faceMaterial, lineMaterial, thinLineMaterial } from "./materials.js";

export const MANY = 3000; // shapes; above it a layer is drawn as one object
const FAINT = 0.12; // of a door in a wall that is not drawn
const DIM = 0.3; // of what belongs to another finding than the one picked

/** Wide lines of points: x, y, z of both ends. */
export function wideLines(points, material) {
  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(points);
  return new LineSegments2(geometry, material);
}

/** The key of the batch a shape goes to. */
export function batchOf(shape, many) {
  if (!many || shape.pivot || shape.through) return `one ${shape.id}`;
  const { layer, opacity, one_sided, lift, edge_colour, edge_opacity, through, pickable } = shape;
  const look = { layer, opacity, one_sided, lift, edge_colour, edge_opacity, through, pickable };
  return `many ${JSON.stringify(look)} ${isFlat(shape)}`;
}

function isFlat(shape) {
  return shape.role === "space" || shape.role === "footprint" || shape.role === "cut";
}

export class Batch {
  constructor(shapes, many) {
    this.shapes = shapes;
    this.many = many;
    this.dim = false;
    this.faint = false;
    [this.first] = shapes;
    this.group = new Group();
    this.group.matrixAutoUpdate = false;
    this.#build();
    this.#dress();
  }

  #build() {
    const { shapes, group, first } = this;
    if (this.many) {
      const shared = sharedSurfaceOf(shapes, (shape) => shape.colour);
      if (shared.faces.index.count && first.opacity > 0) this.mesh = new Mesh(shared.faces);
      if (shared.lines.index.count && first.edge_opacity > 0)
        this.lines = new LineSegments(shared.lines);
      group.add(...[this.mesh, this.lines].filter(Boolean));
      return;
    }
    if (shapes.some((shape) => shape.faces.length && shape.opacity > 0)) {
      this.mesh = new Mesh(surfaceOf(shapes, (shape) => shape.colour));
      group.add(this.mesh);
    }
    const edges = edgesOf(shapes);
    if (!edges.length || first.edge_opacity === 0) return;
    this.lines = wideLines(edges);
    group.add(this.lines);
    if (first.through) {
      this.xray = wideLines(edges);
      this.xray.renderOrder = 9;
      group.add(this.xray);
    }
  }

  #dress() {
    const { first, mesh, lines, xray } = this;
    const share = this.dim ? DIM : 1;
    const { lift, edge_colour: colour, edge_width: width } = first;
    if (mesh) {
      const opacity = first.opacity * (this.faint ? FAINT : share);
      const style = { opacity, oneSided: first.one_sided, lift, flat: isFlat(first) };
      mesh.material = faceMaterial({ ...style, facets: this.many });
      mesh.renderOrder = opacity < 1 ? 2 + lift : lift;
    }
    const opacity = first.edge_opacity * (this.faint ? 0.4 : share);
    if (lines) {
      lines.material = this.many
        ? thinLineMaterial({ colour, opacity })
        : lineMaterial({ colour, width, opacity, lift, through: false, uncut: false });
      lines.renderOrder = opacity < 1 ? 3 + lift : lift;
    }
    if (xray) {
      const seen = 0.85 * share;
      xray.material = lineMaterial({
        colour,
        width,
        opacity: seen,
        lift,
        through: true,
        uncut: false,
      });
    }
  }

  get isPickable() {
    return Boolean(this.mesh) && this.first.pickable && !this.faint;
  }

  setMoving(isMoving) {
    if (this.many && this.lines) this.lines.visible = !isMoving;
  }

  /** Draw faintly what belongs to another finding than the one picked. */
  setDim(dim) {
    if (dim === this.dim) return;
    this.dim = dim;
    this.#dress();
  }

  /** Draw a door so faintly that the room behind it is seen. */
  setFaint(faint) {
    if (faint === this.faint) return;
    this.faint = faint;
    this.#dress();
  }

  /** Turn a leaf, or shift an item that is dragged; null leaves it where it is. */
  setMatrix(matrix) {
    if (matrix) this.group.matrix.copy(matrix);
    else this.group.matrix.identity();
    this.group.matrixWorldNeedsUpdate = true;
  }

  dispose() {
    for (const part of this.group.children) part.geometry.dispose();
  }
}
