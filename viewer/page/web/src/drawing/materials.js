// Materials by what they look like, each made once. Every one is cut by the section.

import {
  DoubleSide,
  FrontSide,
  LineBasicMaterial,
  MeshBasicMaterial,
  MeshLambertMaterial,
  Plane,
  Vector3,
} from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";

/** The section: what lies on its back side is not drawn. At first that is nothing. */
export const sectionPlane = new Plane(new Vector3(1, 0, 0), 1e6);

const made = new Map();

function once(kind, style, build) {
  const key = kind + JSON.stringify(style);
  if (!made.has(key)) made.set(key, build());
  return made.get(key);
}

// Edges lie in the faces they bound, so that faces give way, and a lifted shape wins.
function offset(lift) {
  const steps = 1 - 1.5 * lift;
  return { polygonOffset: true, polygonOffsetFactor: steps, polygonOffsetUnits: steps };
}

/** Faces in the colours of their corners.
 *
 * @param {{opacity: number, oneSided: boolean, lift: number, flat: boolean, facets: boolean}} style
 *   flat: not lit, as of a required space; facets: the faces have no normals.
 */
export function faceMaterial(style) {
  return once("face", style, () => {
    const glass = style.opacity < 1;
    const Material = style.flat ? MeshBasicMaterial : MeshLambertMaterial;
    return new Material({
      vertexColors: true,
      ...(style.facets && !style.flat ? { flatShading: true } : {}),
      side: style.oneSided || !glass ? FrontSide : DoubleSide,
      transparent: glass,
      opacity: style.opacity,
      depthWrite: !glass,
      clippingPlanes: [sectionPlane],
      ...offset(style.lift),
    });
  });
}

/** Faces in the section itself, which are not cut by it; those not lifted are of glass. */
export function cutMaterial(lift) {
  return once("cut", { lift }, () => {
    const glass = lift === 0;
    return new MeshBasicMaterial({
      vertexColors: true,
      side: DoubleSide,
      transparent: glass,
      opacity: glass ? 0.2 : 1,
      depthWrite: !glass,
      ...offset(lift),
    });
  });
}

/** Lines some pixels wide.
 *
 * @param {{colour: string, width: number, opacity: number, lift: number,
 *   through: boolean, uncut: boolean}} style
 *   through: drawn in front of everything; uncut: not cut by the section.
 */
export function lineMaterial(style) {
  return once("line", style, () => {
    const material = new LineMaterial({
      color: style.colour,
      linewidth: style.width,
      transparent: style.opacity < 1 || style.through,
      opacity: style.opacity,
      depthTest: !style.through,
      depthWrite: style.opacity === 1 && !style.through,
      clippingPlanes: style.uncut ? [] : [sectionPlane],
      ...offset(style.lift + 0.8),
    });
    return material;
  });
}

/** Lines one pixel wide, for very many of them. */
export function thinLineMaterial(style) {
  return once("thin", style, () => {
    const { colour, opacity } = style;
    return new LineBasicMaterial({
      color: colour,
      transparent: opacity < 1,
      opacity,
      clippingPlanes: [sectionPlane],
    });
  });
}

/** Make lines as wide as the picture's height asks for, as the stage gives them. */
export function scaleLines(factor) {
  for (const material of made.values()) {
    if (!material.isLineMaterial) continue;
    material.userData.width ??= material.linewidth;
    material.linewidth = material.userData.width * factor;
  }
}
