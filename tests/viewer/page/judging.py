"""The page's small judge against the rules themselves, place by place.

The outside source is every rule at every item, asked of a room in which the item has
been moved as the workbench moves it. The judge runs as it does in the page, in node.
"""

from __future__ import annotations

import json
import subprocess
from collections import Counter
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from model3d import check
from model3d.check import situate
from model3d.judging.measured.fit import fit
from model3d.judging.systems import answers
from model3d.mending.map.probe import key_of
from model3d.mending.provisional.record import whole_record
from model3d.rules import all_rules, dedicated_space, question
from model3d.standing.arrangement import rearrange
from model3d.standing.moves import moved
from model3d.units import from_metres
from model3d.working.tested import tested
from tests.paths import ROOT
from tests.viewer.node import node

if TYPE_CHECKING:
    import random
    from collections.abc import Iterator

    from model3d import Scene
    from model3d.judging.situation import Situation

Way = tuple[int, int, int]
"""East, north and up, tenths of a millimetre."""
Key = tuple[Any, ...]

_SCRIPT: Final = ROOT / "tests" / "viewer" / "page" / "judged.mjs"
CLOSE: Final = 4
"""Tenths of a millimetre: nearer to a limit than that rounding decides, on either side.
Places are rounded to one, and two of them and contact decide."""
_NEAR: Final = [(0, 0, 0)] + [
    (x, y, 0) for x in (-CLOSE, 0, CLOSE) for y in (-CLOSE, 0, CLOSE) if x or y
]
RULES: Final = {
    rule.__name__.rpartition(".")[2].replace("_", "-"): rule for rule in all_rules()
}


@dataclass
class Agreement:
    """What came of some places.

    Attributes:
        wrong: Where judge and rules differ: the item, its way, the key, both verdicts.
        counts: How often judge and rules said what.
        by_rule: The same of each requirement.
    """

    wrong: list[tuple[str, Way, Key, str, str | None]] = field(default_factory=list)
    counts: Counter[tuple[str, str | None]] = field(default_factory=Counter)
    by_rule: Counter[tuple[str, str, str | None]] = field(default_factory=Counter)
    untouched: int = 0

    def decided(self) -> float:
        """Return of what the rules decide the share that the judge decides too."""
        sure = sum(
            n for (_, two), n in self.counts.items() if two in {"met", "not-met"}
        )
        same = sum(n for (one, two), n in self.counts.items() if one == two != "open")
        return same / max(sure, 1)


@dataclass(frozen=True)
class Asked:
    """A room, to be asked about places of its items."""

    scene: Scene

    @cached_property
    def situation(self) -> Situation:
        """The room as it is."""
        return situate(self.scene)

    @cached_property
    def record(self) -> dict[str, Any]:
        """What the judge knows."""
        return whole_record(self.scene)

    @cached_property
    def keys(self) -> list[Key]:
        """What the judge judges."""
        found = [*self.record["spaces"], *self.record["leaves"]]
        return [tuple(one["key"]) for one in found]

    @cached_property
    def before(self) -> dict[Key, str]:
        """What the rules say of the room as it is."""
        return self.verdicts(self.situation, set(self.keys))

    def verdicts(self, situation: Situation, keys: set[Key]) -> dict[Key, str]:
        """Return what the rules say of some requirements."""
        found: dict[Key, str] = {}
        for requirement, subject in {key[:2] for key in keys}:
            item = situation.arrangement.items[subject]
            asked = question(RULES[requirement], item)
            for judged in answers(asked, situation):
                found[key_of(judged)] = judged.verdict
        return found

    def after(self, moves: list[tuple[str, Way]], last: str) -> Asked | None:
        """Return the room after moves; None where they do not stand alone.

        A thing is put to its last place only, and a group has moved as one.
        """
        names = [name for name, _ in moves]
        groups = {
            n for pair in self.record["groups"].items() for n in (pair[0], *pair[1])
        }
        grouped = {self.record["ids"][n] for n in groups}
        if len({*names, last}) < len(names) + 1 or grouped & {*names}:
            return None
        there = self
        for name, way in moves:
            situation = there.at(name, way)
            if situation is None:
                return None
            there = Asked(situation.scene)
        return there if moves else self

    def at(self, name: str, way: Way) -> Situation | None:
        """Return the room with an item elsewhere; None where that is no room."""
        scene = self.scene
        item = next(one for one in scene.items if one.id == name)
        by = [from_metres(part / 10_000, scene.units) for part in way]
        try:
            put = moved(scene, item, by)
            items = tuple(put if one is item else one for one in scene.items)
            there = scene.model_copy(update={"items": items})
        except (ValidationError, ValueError):
            return None
        old = self.situation
        return replace(old, arrangement=rearrange(old.arrangement, there))

    def ways(self, count: int, draw: random.Random) -> Iterator[tuple[str, Way]]:
        """Yield places of items: some far, some near, some at a wall, some raised."""
        names = [one.id for one in self.scene.items]
        for _ in range(count):
            name = draw.choice(names)
            far = draw.choice((300, 3000, 15000))
            east, north = (draw.randint(-far, far) for _ in range(2))
            way = draw.choice(((east, north), (east, 0), (0, north)))
            up = draw.choice((0, 0, 0, 0, 0, draw.randint(0, 6000)))
            yield name, (*way, up)


def judged(
    asked: Asked, tries: list[tuple[str, Way]], repeat: int = 1
) -> dict[str, Any]:
    """Return what the script says of places, one at a time."""
    return _judged(asked, [[one] for one in tries], repeat)


def _judged(
    asked: Asked, tries: list[list[tuple[str, Way]]], repeat: int = 1
) -> dict[str, Any]:
    line = json.dumps({"record": asked.record, "tries": tries, "repeat": repeat})
    told = subprocess.run(  # noqa: S603 - our own script
        [node(), str(_SCRIPT)], input=line, capture_output=True, text=True, check=True
    )
    found: dict[str, Any] = json.loads(told.stdout)
    return found


def agreement(
    scene: Scene, count: int, draw: random.Random, *, others: int = 0
) -> Agreement:
    """Return how judge and rules agree about places of a room's items.

    Args:
        scene: The room.
        count: How many places.
        draw: What they are drawn by.
        others: How many other things are moved before, at each place; nothing stands
            on any of them, and none of them stands on something.
    """
    asked, found = Asked(scene), Agreement()
    tries = list(asked.ways(count, draw)) if scene.items else []
    before = [asked.ways(others, draw) for _ in tries]
    moves = [[*more, one] for more, one in zip(map(list, before), tries, strict=True)]
    told = _judged(asked, moves)["found"]
    for (name, way), more, one in zip(tries, moves, told, strict=True):
        there = asked.after(more[:-1], name)
        if there is None:
            continue
        situation = there.at(name, way)
        if situation is None:
            continue
        rules = asked.verdicts(situation, set(asked.keys))
        touched = {tuple(each["key"]): each["verdict"] for each in one["answers"]}
        for key in asked.keys:
            said = touched.get(key, asked.before.get(key))
            if key in touched:
                found.counts[touched[key], rules.get(key)] += 1
                found.by_rule[key[0], touched[key], rules.get(key)] += 1
                if said == "open":
                    continue
            else:
                found.untouched += 1
            if said != rules.get(key) and not _is_close(there, name, way, key, said):
                found.wrong.append((name, way, key, str(said), rules.get(key)))
    return found


def changed_unasked(
    scene: Scene, count: int, draw: random.Random
) -> Iterator[tuple[str, Way, Key]]:
    """Yield what the rules say otherwise after a move though the page leaves it be.

    All judgements of the room are asked, the ways out too.
    """
    asked = Asked(scene)
    tries = list(asked.ways(count, draw)) if scene.items else []
    before = {key_of(one): one.verdict for one in check(scene).judgements}
    told = judged(asked, tries)["found"]
    for (name, way), one in zip(tries, told, strict=True):
        situation = asked.at(name, way)
        if situation is None:
            continue
        now = {key_of(each): each.verdict for each in check(situation.scene).judgements}
        moot = {tuple(each["key"]) for each in one["answers"]}
        moot |= {tuple(key) for key in one["unjudged"]}
        for key, verdict in before.items():
            if key not in moot and now.get(key) != verdict:
                yield name, way, key


def amounts(scene: Scene, count: int, draw: random.Random) -> list[tuple[float, float]]:
    """Return by how much spaces are short, as the judge and as the rules tell it.

    Of working spaces and dedicated spaces that are not met, in tenths of a millimetre.
    """
    asked = Asked(scene)
    if asked.situation.survey_tolerance or not scene.items:
        return []
    tries, found = list(asked.ways(count, draw)), []
    for (name, way), one in zip(tries, judged(asked, tries)["found"], strict=True):
        situation = asked.at(name, way)
        if situation is None:
            continue
        for each in one["answers"]:
            requirement, subject, _, _, side = each["key"]
            if each["verdict"] == "not-met" and each["hits"] and side is None:
                told = _lacking(situation, requirement, subject)
                if told is not None:
                    found.append((max(hit["by"] for hit in each["hits"]), told))
    return found


def _lacking(situation: Situation, requirement: str, subject: str) -> float | None:
    either = situation.by("either") if situation.accepted == "either" else situation
    item = either.arrangement.items[subject]
    if requirement == "working-space":
        it = tested(item, either)
        space, best = it.space, it.found
    elif requirement == "dedicated-space":
        whole = dedicated_space.zone(item, either)
        assert whole is not None
        space, best = whole, fit(whole, either)
    else:
        return None
    if not best.hits:
        return None
    deep = max(hit.part[1] - hit.extents[0][1] for hit in best.hits)
    tall = max(space.top - hit.extents[0][2] for hit in best.hits)
    ways = {"out": deep, "up": tall}
    measured = [ways[way] for way in ways if way in space.measures.values()]
    return min(measured) * 10_000


def _is_close(asked: Asked, name: str, way: Way, key: Key, said: str | None) -> bool:
    """Tell whether the rules say so a hair's breadth away."""
    for east, north, up in _NEAR:
        there = asked.at(name, (way[0] + east, way[1] + north, way[2] + up))
        if there is not None and asked.verdicts(there, {key}).get(key) == said:
            return True
    return False
