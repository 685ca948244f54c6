"""Move what a way out is narrowest between away from there, or make it less deep.

A way is no space of which a map knows what bars it: distances are tried, and to ask of
a way takes long. So none is tried aside, where a thing must go far to be out of it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, TypeAlias

from model3d.egress.doors.open_leaves import leaf_name
from model3d.geometry.tolerance import TOUCH
from model3d.mending.kinds.less_deep import comes_less_deep, shallower
from model3d.mending.movable import is_scan, may_move
from model3d.mending.moving import along, move, own_ways
from model3d.mending.placing.nearest_place import room_one_way
from model3d.mending.proof.search import Family
from model3d.scene.parts.placement import support_of
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.moving import Vector
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.lesson import Change, MoveItem


_Move: TypeAlias = "tuple[str, str, Vector]"
"""Id of a thing, the way in words, and as a unit vector."""
_FURTHEST: Final = 3.0
"""Metres. No remedy moves things further, taken together."""


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of what stands at the narrowest place of a way out."""
    for item in _between(judged, bench):
        for words, way in _apart(judged, bench, item).items():
            yield along(bench, item.id, way, words, _short(judged))


def second_choices(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield what is tried where no single move widens a way: less deep things, pairs.

    Of a pair one goes as far as is missing, or as far as it may; then what the way is
    narrowest between goes the rest.
    """
    for item in _between(judged, bench):
        if comes_less_deep(item):
            yield shallower(bench, item, _short(judged))
    yield from _pairs(judged, bench)


def _pairs(judged: Judgement, bench: Bench) -> Iterator[Family]:
    step, short = bench.step, _short(judged)
    for one in _between(judged, bench):
        for words, way in _apart(judged, bench, one).items():
            room = room_one_way(bench, one.id, judged, way[:2])
            by = min(room, math.ceil(short / step - TOUCH) * step)
            if by < step:
                continue
            then = bench.judged_after(judged, (_moved(bench, one.id, way, by),))
            if then is None or then.verdict != "not-met":
                continue
            for other in _between(then, bench):
                if other.id != one.id:
                    for second in _apart(then, bench, other).items():
                        first = one.id, words, way
                        yield _both(bench, first, by, (other.id, *second), _short(then))


def _both(bench: Bench, first: _Move, by: float, second: _Move, least: float) -> Family:
    """Return moves of two things, the first by some metres and the second by more."""
    (one, words, way), (other, other_words, other_way) = first, second

    def do(amount: float) -> tuple[Change, ...] | None:
        if amount - by < bench.step / 2:
            return None
        return (
            _moved(bench, one, way, by),
            _moved(bench, other, other_way, amount - by),
        )

    def clause(amount: float) -> str:
        return say(
            "Move {} {} {}, and move {} {} {}",
            Named(one),
            bench.length(by),
            words,
            Named(other),
            bench.length(amount - by),
            other_words,
        )

    return Family(do, clause, by + max(least, bench.step), _FURTHEST)


def _moved(bench: Bench, name: str, way: Vector, by: float) -> MoveItem:
    return move(bench.scene, name, (way[0] * by, way[1] * by, 0.0))


def _between(judged: Judgement, bench: Bench) -> list[Item]:
    """Return what a way out is narrowest between, or carries that, and may be moved."""
    if judged.way is None:
        return []
    items = {one.id: one for one in bench.scene.items}
    between = set(judged.way.between)
    left = [name for name in items if between & {name, leaf_name(name)}]
    found: dict[str, Item] = {}
    while left:
        one = items[left.pop(0)]
        if may_move(one) and not is_scan(bench, one.id) and one.id not in found:
            found[one.id] = one
            support = support_of(one.place)
            left += [support[1]] if support else []
    return list(found.values())


def _apart(judged: Judgement, bench: Bench, item: Item) -> dict[str, Vector]:
    """Return the ways that take a thing away from the narrowest place of a way out."""
    at = judged.way.at if judged.way else (0.0, 0.0)
    ways = own_ways(bench, item)
    return {word: way for word, way in ways.items() if _widens(bench, item.id, at, way)}


def _short(judged: Judgement) -> float:
    return max(-(judged.margin or 0.0), 0.0) if judged.short == "width" else 0.0


def _widens(bench: Bench, name: str, at: Corner, way: Vector) -> bool:
    """Tell whether a move takes a thing away from the narrowest place of a way."""
    low, high = bench.situation.arrangement.items[name].solid.bounds
    ahead = (
        (there - min(max(there, low[n]), high[n])) * way[n]
        for n, there in enumerate(at)
    )
    return sum(ahead) < -TOUCH
