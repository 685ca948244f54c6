// Points by which things are named where other things hide them. The rule is that of the
// stills: see in_sight in viewer/stage/looking/names.py.

import { Vector3 } from "three";
import { boundsOf } from "../scene/geometry.js";

const BELOW = 0.02; // metres below the top: what lies on a thing hides that, but not the top
const MANY = 400; // bodies; among more of them a name stands where it stands
const SIDES = [-1, 0, 1].flatMap((x) => [-1, 0, 1].map((y) => [x, y]));

/** The bounds of what is drawn in full, by the thing's id.
 *
 * @param {{shapes: Map, isShown: function}} picture
 */
export function bodiesOf(picture) {
  const found = [...picture.shapes.values()].filter(
    (shape) => shape.role === "solid" && shape.vertices.length && picture.isShown(shape),
  );
  if (found.length > MANY) return [];
  return found.map(({ item, ghost, vertices }) => ({ item, ghost, ...boundsOf([vertices]) }));
}

/** Where a thing is named, and whether that is another point than its own. */
export function spotOf({ item, anchor }, bodies, eye) {
  const own = bodies.filter((body) => body.item === item);
  const others = bodies.filter((body) => body.item !== item && !body.ghost);
  if (!own.length || !others.length) return { anchor, isMoved: false };
  const low = own.reduce((least, body) => least.clone().min(body.low), own[0].low);
  const high = own.reduce((most, body) => most.clone().max(body.high), own[0].high);
  const above = low.clone().add(high).multiplyScalar(0.5).setZ(high.z + BELOW);
  const sides = sidesOf(low, high, eye);
  const top = anchor.clone().setZ(anchor.z - BELOW);
  const middle = anchor.clone().setZ((low.z + anchor.z) / 2);
  const spots = others.some((body) => isIn(above, body)) ? sides : [top, middle, ...sides];
  const spot = spots.find((point) => !others.some((body) => isBefore(body, point, eye)));
  return spot && spot !== top ? { anchor: spot, isMoved: true } : { anchor, isMoved: false };
}

/** The middles of the upright sides and edges of a box that an eye may see, the nearest first. */
function sidesOf(low, high, eye) {
  const middle = low.clone().add(high).multiplyScalar(0.5);
  const half = high.clone().sub(middle);
  const ahead = (axis) => {
    const off = eye[axis] - middle[axis];
    return Math.abs(off) > half[axis] ? Math.sign(off) : 0;
  };
  const [east, north] = [ahead("x"), ahead("y")];
  return SIDES.filter(([x, y]) => (x && x === east) || (y && y === north))
    .map(([x, y]) => new Vector3(middle.x + half.x * x, middle.y + half.y * y, middle.z))
    .sort((a, b) => a.distanceToSquared(eye) - b.distanceToSquared(eye));
}

function isIn(point, { low, high }) {
  return ["x", "y", "z"].every((axis) => low[axis] < point[axis] && point[axis] < high[axis]);
}

/** Whether a body lies between a point and the eye; what the point lies in does not. */
function isBefore({ low, high }, point, eye) {
  let [enter, leave] = [-Infinity, Infinity];
  for (const axis of ["x", "y", "z"]) {
    const way = eye[axis] - point[axis] || 1e-9;
    const one = (low[axis] - point[axis]) / way;
    const two = (high[axis] - point[axis]) / way;
    enter = Math.max(enter, Math.min(one, two));
    leave = Math.min(leave, Math.max(one, two));
  }
  return leave > enter && enter > 0 && enter < 1;
}
