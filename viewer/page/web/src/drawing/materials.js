// Materials by what they look like, each made once. Every one is cut by the section.

import {
  BackSide,
  Color,
  DoubleSide,
  FrontSide,
  GreaterDepth,
  LineBasicMaterial,
  MeshBasicMaterial,
  MeshLambertMaterial,
  Plane,
  Vector3,
} from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";

/** The section: what lies on its back side is not drawn. At first that is nothing. */
export const sectionPlane = new Plane(new Vector3(1, 0, 0), 1e6);

const USUAL_HEIGHT = 1000; // pixels of a picture that widths of lines are given for

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

// Hatching lies where planes across this way cut a body, as in the stills: no upright or
// level face lies along them, and no two walls of a box are hatched alike.
const ACROSS = new Vector3(1, 0.62, 1.37).normalize();
const DENSER = 1.25; // from one distance between two lines to the next that there is
const LEAST = 0.012;
const WIDE = 0.09;
const LINES = 9; // a small body has about so many,
const MOST = 90; // and a large one no more
const SLENDER = 0.45; // share of the thickness of a pipe or a bar

/** Metres between two lines on a body, of its corners' coordinates. */
export function hatchOf(vertices) {
  const ends = new Array(4).fill(0).map(() => [Infinity, -Infinity]); // x, y, z, across
  for (let n = 0; n < vertices.length; n += 3) {
    const [x, y, z] = vertices.subarray(n, n + 3);
    for (const [way, at] of [x, y, z, ACROSS.x * x + ACROSS.y * y + ACROSS.z * z].entries()) {
      ends[way][0] = Math.min(ends[way][0], at);
      ends[way][1] = Math.max(ends[way][1], at);
    }
  }
  const [far, ...sides] = ends.map(([low, high]) => high - low).reverse();
  const thick = sides.sort((a, b) => a - b)[1];
  const step = Math.max(Math.min(WIDE, far / LINES, SLENDER * thick), far / MOST, LEAST);
  // Each distance is a material: there are few, however often a body changes.
  return LEAST * DENSER ** Math.round(Math.log(step / LEAST) / Math.log(DENSER));
}

/** Draw dark lines on the faces of a material. */
function hatch(material, { step, colour }) {
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, {
      hatchAcross: { value: ACROSS },
      hatchStep: { value: step },
      hatchColour: { value: new Color(colour) },
    });
    shader.vertexShader = `uniform vec3 hatchAcross;\nvarying float hatchLevel;\n${shader.vertexShader}`
      .replace(
        "#include <project_vertex>",
        `#include <project_vertex>
        hatchLevel = dot((modelMatrix * vec4(transformed, 1.0)).xyz, hatchAcross);`,
      );
    // A line of about a pixel and a half; where lines are nearer than that they blend.
    shader.fragmentShader = `uniform float hatchStep;\nuniform vec3 hatchColour;\nvarying float hatchLevel;\n${shader.fragmentShader}`
      .replace(
        "#include <color_fragment>",
        `#include <color_fragment>
        float hatchPixels = hatchStep / max(fwidth(hatchLevel), 1e-6);
        float hatchShare = fract(hatchLevel / hatchStep);
        float hatchOff = min(hatchShare, 1.0 - hatchShare) * hatchPixels;
        float hatchInk = mix(0.4, 1.0 - smoothstep(0.5, 1.5, hatchOff), smoothstep(2.0, 6.0, hatchPixels));
        diffuseColor.rgb = mix(diffuseColor.rgb, hatchColour, hatchInk);`,
      );
  };
  material.customProgramCacheKey = () => "hatched";
  return material;
}

/** Faces in the colours of their corners.
 *
 * @param {{opacity: number, oneSided: boolean, lift: number, flat: boolean, facets: boolean,
 *   hatched: ?{step: number, colour: string}, isBehind: ?boolean}} style flat: not lit, as of
 *   a required space; facets: the faces have no normals; isBehind: only what other things hide.
 */
export function faceMaterial(style) {
  return once("face", style, () => {
    const glass = style.opacity < 1;
    const Material = style.flat ? MeshBasicMaterial : MeshLambertMaterial;
    const material = new Material({
      vertexColors: true,
      ...(style.facets && !style.flat ? { flatShading: true } : {}),
      side: style.oneSided || !glass ? FrontSide : DoubleSide,
      transparent: glass,
      opacity: style.opacity,
      depthWrite: !glass,
      clippingPlanes: [sectionPlane],
      ...(style.isBehind ? { depthFunc: GreaterDepth, side: FrontSide } : {}),
      ...offset(style.lift),
    });
    return style.hatched ? hatch(material, style.hatched) : material;
  });
}

/** What stands out about a body, as wide as a line of so many pixels would be. */
export function rimMaterial(width) {
  return once("rim", { width }, () => {
    const material = new MeshBasicMaterial({
      vertexColors: true,
      side: BackSide,
      clippingPlanes: [sectionPlane],
    });
    material.onBeforeCompile = (shader) => {
      shader.vertexShader = shader.vertexShader.replace(
        "#include <project_vertex>",
        `#include <project_vertex>
        vec2 rimWay = (normalMatrix * normal).xy;
        rimWay *= ${(2 * width) / USUAL_HEIGHT} / max(length(rimWay), 1e-4);
        rimWay.x *= projectionMatrix[0][0] / projectionMatrix[1][1];
        gl_Position.xy += rimWay * gl_Position.w;`,
      );
    };
    material.customProgramCacheKey = () => `rim ${width}`;
    return material;
  });
}

/** Faces in the section itself, hatched and not cut by it; those not lifted are of glass. */
export function cutMaterial(lift, colour) {
  return once("cut", { lift, colour }, () => {
    const glass = lift === 0;
    const material = new MeshBasicMaterial({
      vertexColors: true,
      side: DoubleSide,
      transparent: glass,
      opacity: glass ? 0.2 : 1,
      depthWrite: !glass,
      ...offset(lift),
    });
    return glass ? material : hatch(material, { step: WIDE, colour });
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
