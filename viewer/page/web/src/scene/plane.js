// Convex rings in plan: clipped, measured, parted. Numbers are tenths of a millimetre; a
// ring is a flat list x, y, x, y and so on.

/** A ring as it is in a frame [x, y, right, out] after a move, points [u, v]. */
export function inFrame(ring, [x, y, rx, ry, ox, oy], east, north) {
  const found = [];
  for (let n = 0; n < ring.length; n += 2) {
    const [dx, dy] = [ring[n] + east - x, ring[n + 1] + north - y];
    found.push([dx * rx + dy * ry, dx * ox + dy * oy]);
  }
  return found;
}

/** The part of a convex ring of points between two values of one coordinate. */
export function between(points, axis, low, high) {
  return above(above(points, axis, low, 1), axis, -high, -1);
}

function above(points, axis, least, sign) {
  const found = [];
  for (let n = 0; n < points.length; n++) {
    const one = points[n];
    const next = points[(n + 1) % points.length];
    const [a, b] = [sign * one[axis] - least, sign * next[axis] - least];
    if (a >= 0) found.push(one);
    if (a >= 0 !== b >= 0) {
      const part = a / (a - b);
      found.push([one[0] + part * (next[0] - one[0]), one[1] + part * (next[1] - one[1])]);
    }
  }
  return found;
}

/** The least and the greatest value of one coordinate. */
export function span(points, axis) {
  let [low, high] = [Infinity, -Infinity];
  for (const point of points) {
    if (point[axis] < low) low = point[axis];
    if (point[axis] > high) high = point[axis];
  }
  return [low, high];
}

/** How far one ring would have to be moved to part two convex rings; not above 0 where
 * they are apart. By the theorem of the separating axis. */
export function overlap(one, other) {
  let least = Infinity;
  for (const ring of [one, other]) {
    for (let n = 0; n < ring.length; n++) {
      const [ax, ay] = ring[n];
      const [bx, by] = ring[(n + 1) % ring.length];
      const long = Math.hypot(bx - ax, by - ay);
      if (!long) continue;
      const normal = [(by - ay) / long, (ax - bx) / long];
      const [low, high] = along(one, normal);
      const [from, to] = along(other, normal);
      least = Math.min(least, to - low, high - from);
      if (least <= 0) return least;
    }
  }
  return least;
}

function along(points, [x, y]) {
  let [low, high] = [Infinity, -Infinity];
  for (const [px, py] of points) {
    const value = px * x + py * y;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}

/** The least angle, in degrees, of a convex ring within a radius; null where it is not. */
export function leastAngle(points, radius) {
  let least = null;
  const meet = (u, v) => {
    const angle = (Math.atan2(v, u) * 180) / Math.PI;
    if (least === null || angle < least) least = angle;
  };
  for (let n = 0; n < points.length; n++) {
    const [u, v] = points[n];
    const [toU, toV] = points[(n + 1) % points.length];
    if (u * u + v * v <= radius * radius) meet(u, v);
    const [du, dv] = [toU - u, toV - v];
    // |start + t step| = radius, a quadratic in t.
    const a = du * du + dv * dv;
    const b = u * du + v * dv;
    const root = b * b - a * (u * u + v * v - radius * radius);
    if (!a || root < 0) continue;
    for (const sign of [-1, 1]) {
      const t = (-b + sign * Math.sqrt(root)) / a;
      if (t >= 0 && t <= 1) meet(u + t * du, v + t * dv);
    }
  }
  return least;
}

/** Whether some intervals together cover a length, without a gap. */
export function coverRun(intervals, length) {
  let [from, to] = [NaN, NaN];
  for (const [low, high] of [...intervals].sort((a, b) => a[0] - b[0])) {
    if (low <= to) to = Math.max(to, high);
    else [from, to] = [low, high];
    if (to - from >= length) return true;
  }
  return false;
}

/** The place from first to last nearest to the one wanted that is in none of some open
 * intervals; null where there is none. */
export function freePlace(shut, first, last, wanted) {
  const here = Math.min(Math.max(wanted, first), last);
  const places = [here, first, last, ...shut.flat()].filter((p) => p >= first && p <= last);
  let best = null;
  for (const place of places) {
    if (best !== null && Math.abs(place - here) >= Math.abs(best - here)) continue;
    if (!shut.some(([low, high]) => low < place && place < high)) best = place;
  }
  return best;
}
