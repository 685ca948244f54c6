// Shapes as objects of the graphics library. Each object costs time in every picture, so
// things that look alike are one object; only what turns, moves, or may be shown and
// dimmed by itself is an object of its own. Very many are drawn more plainly, see crowd.js.

import {
  BufferAttribute,
  BufferGeometry,
  Float32BufferAttribute,
  Group,
  LineSegments,
  Mesh,
} from "three";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { isResult } from "../scene/data.js";
import { edgesOf, surfaceOf } from "../scene/geometry.js";
import { faceMaterial, hatchOf, lineMaterial, thinLineMaterial } from "./materials.js";

const FAINT = 0.12; // of a door in a wall that is not drawn
const HIDDEN = 0.4; // of what is in the way, where other things hide it
const DIM = 0.3; // of what belongs to another judgement than the one picked

// A line as a strip with square ends, so that corners are closed: two triangles for the six
// of the library's round ends.
const STRIP = [-1, 2, 0, 1, 2, 0, -1, -1, 0, 1, -1, 0];
const ACROSS = [-1, 1, 1, 1, -1, -1, 1, -1];

/** Wide lines of points: x, y, z of both ends. */
export function wideLines(points, material) {
  const geometry = new LineSegmentsGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(STRIP, 3));
  geometry.setAttribute("uv", new Float32BufferAttribute(ACROSS, 2));
  geometry.setIndex([0, 2, 1, 2, 3, 1]);
  geometry.setPositions(points);
  return new LineSegments2(geometry, material);
}

/** Whether a shape is an object of its own; else shapes of one look are one object. */
export function isSingle(shape) {
  return Boolean(shape.pivot) || shape.through || isResult(shape);
}

/** What shapes must have in common to be one object. */
export function lookOf(shape) {
  const { layer, opacity, one_sided, lift, edge_colour, edge_width, edge_opacity } = shape;
  return [
    layer,
    opacity,
    one_sided,
    lift,
    edge_colour,
    edge_width,
    edge_opacity,
    shape.pickable,
    isFlat(shape),
  ].join(" ");
}

/** Whether a shape is not lit. */
export function isFlat(shape) {
  return shape.role === "space" || shape.role === "footprint" || shape.role === "cut";
}

export class Batch {
  constructor(shapes, palette) {
    this.shapes = shapes;
    this.palette = palette;
    this.dim = false;
    this.faint = false;
    [this.first] = shapes;
    this.isAlone = shapes.length === 1;
    this.group = new Group();
    this.group.matrixAutoUpdate = false;
    this.#build();
    this.#dress();
  }

  #build() {
    const { shapes, group, first } = this;
    if (shapes.some((shape) => shape.faces.length && shape.opacity > 0)) {
      this.mesh = new Mesh(surfaceOf(shapes, (shape) => shape.colour));
      group.add(this.mesh);
      // What is in the way is told without colour too, and where it stands in another thing.
      if (first.role === "intrusion") {
        this.hatched = { step: hatchOf(first.vertices), colour: first.edge_colour };
        this.hidden = new Mesh(this.mesh.geometry);
        this.hidden.renderOrder = 8;
        group.add(this.hidden);
      }
    }
    const edges = edgesOf(shapes);
    this.edges = edges;
    if (!edges.length || first.edge_opacity === 0) return;
    this.lines = wideLines(edges);
    group.add(this.lines);
    if (first.through) {
      this.xray = wideLines(edges);
      this.xray.renderOrder = 9;
      group.add(this.xray);
    }
    // In grey print the colour of an outline is that of gear: a wider dark line lies below.
    if (first.through && (first.role === "solid" || first.role === "mark")) {
      this.casing = wideLines(edges);
      this.casing.renderOrder = 8;
      group.add(this.casing);
    }
  }

  #dress() {
    const { first, mesh, hidden, hatched, lines, xray, casing } = this;
    const share = this.dim ? DIM : 1;
    const { lift, edge_colour: colour, edge_width: width } = first;
    if (mesh) {
      const opacity = first.opacity * (this.faint ? FAINT : share);
      const style = { opacity, oneSided: first.one_sided, lift, flat: isFlat(first) };
      mesh.material = faceMaterial({ ...style, facets: false, hatched });
      mesh.renderOrder = opacity < 1 ? 2 + lift : lift;
      if (hidden) {
        const seen = { ...style, opacity: HIDDEN * opacity, flat: true };
        hidden.material = faceMaterial({ ...seen, facets: false, hatched, isBehind: true });
      }
    }
    const style = { colour, width, lift, uncut: false };
    if (lines) {
      const opacity = first.edge_opacity * (this.faint ? 0.4 : share);
      lines.material = lineMaterial({ ...style, opacity, through: false });
      lines.renderOrder = opacity < 1 ? 3 + lift : lift;
      if (this.thin) this.#dressThin();
    }
    if (xray) xray.material = lineMaterial({ ...style, opacity: 0.85 * share, through: true });
    if (casing) {
      const below = { ...style, colour: this.palette.intrusion_edge, width: width + 3 };
      casing.material = lineMaterial({ ...below, opacity: 0.7 * share, through: true });
    }
  }

  // Lines some pixels wide are triangles, and take forty times as long without a card.
  #makeThin() {
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(this.edges, 3));
    this.thin = new LineSegments(geometry);
    this.group.add(this.thin);
    this.#dressThin();
  }

  #dressThin() {
    const { thin, lines, first } = this;
    const { opacity } = lines.material;
    thin.material = thinLineMaterial({ colour: first.edge_colour, opacity });
    thin.renderOrder = lines.renderOrder;
  }

  get isPickable() {
    return Boolean(this.mesh) && this.first.pickable && !this.faint;
  }

  /** Draw faintly what belongs to another judgement than the one picked. */
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

  /** Make ready to be seen by a camera.
   *
   * @param isHurried lines must not take long.
   */
  aim(eye, height, isMoving, isHurried) {
    if (!this.lines || this.lines.visible === !isHurried) return;
    if (isHurried && !this.thin) this.#makeThin();
    this.lines.visible = !isHurried;
    this.thin.visible = isHurried;
  }

  dispose() {
    for (const part of this.group.children) part.geometry.dispose();
  }
}
