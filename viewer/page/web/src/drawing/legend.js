// What the signs in the picture mean: those that are in it, in the words of every face.

import { make } from "../dom.js";

/** The signs of a stage and what they mean: [kind, words].
 *
 * @param signs what each sign means, in their order; nothing where its shape says it.
 * @param {Set<string>} hidden layers that are not shown.
 * @param {{picked: boolean, centred: boolean, free: string}} more what is shown beside the
 *   stage; of free places what they are.
 */
export function legendOf(stage, hidden, signs, more) {
  const drawn = [...stage.shapes.values()].filter(({ layer }) => !hidden.has(layer));
  const layers = new Set(drawn.map(({ layer }) => layer));
  const strong = drawn.filter(({ layer }) => layer === "spaces" || layer === "intrusions");
  const roles = new Set(strong.map(({ role }) => role));
  const marks = Object.fromEntries(drawn.map(({ id, about }) => [id.split("/").at(-1), about]));
  const verdicts = new Set(hidden.has("badges") ? [] : stage.badges.map(({ verdict }) => verdict));
  const there = {
    free: more.free,
    space: roles.has("space"),
    clear: layers.has("spaces-met") || layers.has("working-spaces-met"),
    intrusion: roles.has("intrusion"),
    [waySign(drawn)]: layers.has("ways-out"),
    "not-met": verdicts.has("not-met"),
    open: verdicts.has("open"),
    picked: more.picked,
    ghost: drawn.some(({ ghost }) => ghost),
    centred: more.centred,
    "head-height": marks["head-height"],
    grid: marks.grid,
  };
  return Object.entries(signs)
    .filter(([sign]) => there[sign])
    .map(([sign, words]) => [kindOf(sign), sign === "free" ? more.free : words || marks[sign]]);
}

/** What the ribbons on the floor are. */
function waySign(drawn) {
  const ways = drawn.filter(({ layer }) => layer === "ways-out");
  const ribbons = ways.filter(({ faces }) => faces.length).length;
  const ends = ways.length - ribbons;
  if (!ends) return "way";
  return ends === ribbons ? "way-end" : "way-or-end";
}

const kindOf = (sign) => (sign.startsWith("way") ? "way" : sign);

/** Show signs and what they mean in a list. */
export function showLegend(list, found) {
  const rows = found.map(([kind, words]) => make("li", {}, make("i", { class: kind }), words));
  list.replaceChildren(...rows);
}
