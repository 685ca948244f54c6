// Where the picked item may stand, as the program has found it: drawn on the floor; a drag
// snaps to its edge.

import { BufferAttribute, BufferGeometry, Mesh, ShapeUtils, Vector2 } from "three";
import { wideLines } from "./batches.js";
import { faceMaterial, lineMaterial } from "./materials.js";

const LEVEL = 0.008; // metres above the floor
const SNAP = 0.06; // metres within which a drag snaps to the edge of the map
const METRES = { mm: 0.001, m: 1, in: 0.0254, ft: 0.3048 };

export class Maps {
  constructor(palette) {
    this.palette = palette;
    this.item = null;
    this.map = null;
  }

  /** Take the map of an item: {regions: [{outer, holes}], bands: [{ring, ends}]}, in
   * metres; null where there is none. */
  take(item, map) {
    this.item = item;
    this.map = map;
  }

  /** What there is to say of the map. */
  get words() {
    const { regions, bands, why } = this.map;
    if (why) return "its places cannot be told";
    return regions.length || bands.length ? "where it may stand; ways out are not asked" : "no place is free for it";
  }

  /** Objects to be drawn while an item is picked. */
  parts(item) {
    if (!item || item !== this.item || !this.map) return [];
    const parts = [];
    const lines = [];
    for (const { outer, holes } of this.map.regions) {
      const [rim, ...inner] = [outer, ...holes].map((ring) => ring.map(([x, y]) => new Vector2(x, y)));
      const faces = ShapeUtils.triangulateShape(rim, inner).flat();
      parts.push(this.#surface([outer, ...holes].flat(), faces));
      for (const ring of [outer, ...holes]) lines.push(...ringLines(ring));
    }
    for (const band of this.map.bands) {
      const { ring } = band;
      parts.push(this.#surface(ring, [0, 1, 2, 0, 2, 3]));
      lines.push(...ringLines(ring));
    }
    if (lines.length) {
      const colour = this.palette.space_edge;
      const style = { opacity: 0.9, lift: 2, through: false, uncut: false, width: 1.6 };
      parts.push(wideLines(lines, lineMaterial({ ...style, colour })));
    }
    return parts;
  }

  #surface(points, faces) {
    const geometry = new BufferGeometry();
    const flat = points.flatMap(([x, y]) => [x, y, LEVEL]);
    const colours = points.flatMap(() => hex(this.palette.space));
    for (const [name, values] of Object.entries({ position: flat, color: colours })) {
      geometry.setAttribute(name, new BufferAttribute(Float32Array.from(values), 3));
    }
    geometry.setIndex(faces);
    geometry.computeVertexNormals();
    return new Mesh(
      geometry,
      faceMaterial({ opacity: 0.3, oneSided: false, lift: 1, flat: true, facets: false }),
    );
  }
}

function hex(colour) {
  return [1, 3, 5].map((n) => Number.parseInt(colour.slice(n, n + 2), 16) / 255);
}

function ringLines(ring) {
  return ring.flatMap(([x, y], n) => {
    const [toX, toY] = ring[(n + 1) % ring.length];
    return [x, y, LEVEL, toX, toY, LEVEL];
  });
}

/** A place at the edge of the map near to one that is asked for; null where none is near. */
export function snapped(maps, item, to, unit) {
  if (!maps?.map || maps.item !== item) return null;
  const here = [to[0] * METRES[unit], to[1] * METRES[unit]];
  let best = null;
  const rings = maps.map.regions.flatMap(({ outer, holes }) => [outer, ...holes]);
  for (const ring of rings) {
    ring.forEach((a, n) => {
      const at = nearestOn(a, ring[(n + 1) % ring.length], here);
      const far = Math.hypot(at[0] - here[0], at[1] - here[1]);
      if (far <= SNAP && (!best || far < best.far)) best = { at, far };
    });
  }
  for (const { ends = [] } of maps.map.bands) {
    for (const at of ends) {
      const far = Math.hypot(at[0] - here[0], at[1] - here[1]);
      if (far <= SNAP && (!best || far < best.far)) best = { at, far };
    }
  }
  if (!best) return null;
  // Rounded to a tenth of a millimetre: what is drawn touches, and touching is free.
  return [...best.at.map((value) => Number((value / METRES[unit]).toFixed(4))), to[2]];
}

function nearestOn([ax, ay], [bx, by], [x, y]) {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const part = square ? Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / square, 0), 1) : 0;
  return [ax + part * dx, ay + part * dy];
}
