"""Places of a map against the rules themselves, asked one by one.

The outside source is every rule at every item but the ways out, which these maps tell
nothing of: ``test_ways_on_maps`` compares those.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import flat
from model3d.judging.systems import answers
from model3d.mending.map.places import free_places
from model3d.mending.map.probe import Key, key_of
from model3d.rules import all_rules, question

if TYPE_CHECKING:
    import random
    from collections.abc import Iterator

    from model3d import Scene
    from model3d.judging.situation import Situation
    from model3d.mending.map.free import Free
    from model3d.mending.map.posed import Posed
    from model3d.scene.parts.placement import At, AtWall

WAYS: Final = {
    "entrance",
    "second_entrance",
    "door_hardware",
    "door_over_working_space",
}
CLOSE: Final = 3e-4
"""Metres. Nearer to an edge of the map contact decides, on either side."""
BODY: Final = 0.006
"""Metres. As far as two bodies may lie in one another before the drawing is wrong."""


@dataclass(frozen=True)
class Disagreement:
    """A place that the map and the rules tell differently."""

    place: At | AtWall
    free: bool
    broken: list[Key]


def disagreements(
    scene: Scene, name: str, count: int, draw: random.Random
) -> tuple[list[Disagreement], int, int]:
    """Return where map and rules differ, and how many places were free and barred."""
    found, free, barred = [], 0, 0
    for one in free_places(scene, name).maps:
        before: set[Key] | None = None
        for by, is_free in _sampled(one, count, draw):
            place = one.stance.place(by)
            before = _before(one.posed) if before is None else before
            broken = _broken(one.posed, place, before)
            if is_free != (not broken):
                found.append(Disagreement(place, is_free, broken))
            free, barred = free + is_free, barred + (not is_free)
    return found, free, barred


def _sampled(
    one: Free, count: int, draw: random.Random
) -> Iterator[tuple[tuple[float, float], bool]]:
    bodies = [bar.plan.buffer(BODY) for bar in one.bars if bar.requirement == "body"]
    body = flat.union_all(bodies)
    for _ in range(count):
        if one.stance.on_wall:
            away = draw.uniform(0, one.within.length)
            by = one.at(away)
            # Of a wall aslant the point lies beside its own line by rounding.
            is_free = any(low <= away <= high for low, high in one.intervals)
            ends = [one.at(end) for pair in one.intervals for end in pair]
            edge = flat.multipoints(ends) if ends else flat.Point(1e9, 0)
        else:
            low_x, low_y, high_x, high_y = one.within.bounds
            by = draw.uniform(low_x, high_x), draw.uniform(low_y, high_y)
            if not one.within.contains(flat.Point(by)):
                continue
            area = one.area
            is_free = bool(area.contains(flat.Point(by)))
            # What is free may have a part that is only a line, or only a point.
            parts = (p.boundary if p.area else p for p in flat.get_parts(area))
            edge = flat.GeometryCollection([*parts])
        here = flat.Point(by)
        on_line = one.stance.on_wall and is_free
        if not is_free and body.contains(here):
            continue
        if edge.distance(here) > CLOSE or on_line:
            yield by, bool(is_free)


def _broken(posed: Posed, place: At | AtWall, before: set[Key]) -> list[Key]:
    situation = posed.at(place)
    either = situation.by("either") if situation.accepted == "either" else situation
    return [
        key for key in _not_met(either) if key[1] == posed.name or key not in before
    ]


def _before(posed: Posed) -> set[Key]:
    """Return what is not met wherever the item is: of others, and of what it has."""
    return _not_met(posed.base) | _not_met(posed.bare, set(posed.moved))


def _not_met(situation: Situation, only: set[str] | None = None) -> set[Key]:
    found = set()
    for rule in all_rules():
        name = rule.__name__.rpartition(".")[2]
        if name in WAYS or not hasattr(rule, "claims"):
            continue
        for item in situation.items:
            if only is None or item.id in only:
                for judged in answers(question(rule, item), situation):
                    if judged.verdict == "not-met":
                        found.add(key_of(judged))
    return found
