// Lengths in words, in both systems, as model3d/units.py and model3d/wording.py write them.

export const TENTHS = { mm: 10, m: 10_000, in: 254, ft: 3048 }; // of a millimetre

const INCH = 254; // tenths of a millimetre
const SIXTEENTHS = 16;
const INCH_POUND = new Set(["in", "ft"]);

/** A length given in tenths of a millimetre: the scene's own system first. */
export function lengthWords(tenths, unit) {
  const texts = bothLengths(tenths, unit);
  return `${texts[0]} (${texts[1]})`;
}

export function bothLengths(tenths, unit) {
  const texts = [millimetres(tenths), feetInches(tenths)];
  return INCH_POUND.has(unit) ? texts.reverse() : texts;
}

function millimetres(tenths) {
  const value = Math.round(tenths);
  if (!value) return tenths > 0.01 ? "under 0.1 mm" : "0 mm";
  return `${value % 10 ? (value / 10).toFixed(1) : value / 10} mm`;
}

function feetInches(tenths) {
  const steps = Math.round((Math.abs(tenths) / INCH) * SIXTEENTHS);
  if (!steps) return tenths > 0.01 ? "under 1/16 in" : "0 in";
  const feet = Math.floor(steps / (12 * SIXTEENTHS));
  const rest = steps % (12 * SIXTEENTHS);
  let [whole, part, of] = [Math.floor(rest / SIXTEENTHS), rest % SIXTEENTHS, SIXTEENTHS];
  while (part && part % 2 === 0) [part, of] = [part / 2, of / 2];
  const words = [];
  if (whole || !part) words.push(String(whole));
  if (part) words.push(`${part}/${of}`);
  const inches = `${words.join(" ")} in`;
  const sign = tenths < 0 ? "-" : "";
  if (!feet) return `${sign}${inches}`;
  return `${sign}${feet} ft${rest ? ` ${inches}` : ""}`;
}
