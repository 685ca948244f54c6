// Numbered badges. What one thing is in the way of shares a badge, which names the thing, and
// so do open ones of one item, as in a still; each number in it is picked by itself.

import { Vector3 } from "three";
import { draw, make } from "../dom.js";

const ROOM = "room";

/** The badges of a stage: {element, stem, anchor, isAimed, first, number, verdict}.
 *
 * isAimed: it points at something; what is said of the room as a whole does not.
 *
 * @param {number|null} picked index of the judgement that is picked; its badge goes first.
 * @param {function(number)} onPick takes the index of a judgement.
 */
export function badgesOf(stage, picked, onPick) {
  const groups = new Map();
  for (const badge of stage.badges) {
    const kin = kinOf(badge, stage.judgements[badge.judgement]);
    const key = [badge.verdict, kin.whose, kin.thing].join("\u0000");
    if (!groups.has(key)) groups.set(key, { ...kin, group: [] });
    groups.get(key).group.push(badge);
  }
  return [...groups.values()].map((one) => markOf(one, picked, onPick));
}

function kinOf({ verdict, item, number }, row) {
  const thing = row.in_the_way.join(", ");
  if (item === ROOM && !thing && !row.shapes.length) return { whose: "", thing: ROOM };
  if (verdict === "open") return { whose: item, thing: "" };
  return thing ? { whose: "", thing } : { whose: String(number), thing: "" };
}

function markOf({ thing, group }, picked, onPick) {
  const [{ verdict, anchor }] = group;
  const buttons = group.map((badge) => buttonOf(badge, picked, onPick));
  const isAimed = thing !== ROOM;
  const name = thing && (group.length > 1 || !isAimed) ? thing : "";
  const element =
    name || buttons.length > 1
      ? make("div", { class: `joined ${verdict}` }, ...buttons, name && make("span", {}, name))
      : buttons[0];
  return {
    element,
    stem: draw("line", { class: `stem ${verdict}` }),
    anchor: new Vector3(...anchor),
    isAimed,
    first: group.some(({ judgement }) => judgement === picked),
    number: [...group.map(({ number }) => number), name].filter(Boolean).join(" "),
    verdict,
  };
}

function buttonOf({ number, verdict, item, judgement }, picked, onPick) {
  return make(
    "button",
    {
      class: `badge ${verdict}${judgement === picked ? " picked" : ""}`,
      type: "button",
      tabindex: -1,
      title: `Judgement ${number}: ${item}`,
      "aria-label": `${number}: judgement of ${item}`,
      onclick: () => onPick(judgement),
    },
    String(number),
  );
}
