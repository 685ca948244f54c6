"""Widen the aisle: the whole row moves, the one opposite or the item's own."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.mending.movable import in_the_way, item_of
from model3d.mending.moving import move
from model3d.mending.proof.search import Family
from model3d.scene.parts.placement import At, AtWall, StandsOn
from model3d.wording.said import ids, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.lesson import Change
    from model3d.standing.placed import Front

_FURTHEST: Final = 3.0
"""Metres. No row moves further."""
_ONE: Final = 2
"""Items from which on it is a row."""


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of whole rows back, where gear is in the way of gear."""
    own = item_of(bench, judged.subject)
    short = max(-(judged.margin or 0.0), 0.0) if judged.short == "depth" else 0.0
    for item in [*in_the_way(judged, bench), *([own] if own else [])]:
        row = _row(bench, item)
        if len(row) >= _ONE:
            yield _back(bench, item, row, short)


def _row(bench: Bench, item: Item) -> list[str]:
    """Return the ids of the gear that touches an item, their fronts in one plane."""
    arrangement = bench.report.arrangement
    if arrangement is None:
        return []
    fronts = {
        one.id: front
        for one in bench.scene.standing().items
        if (front := arrangement.items[one.id].front) is not None
        and arrangement.items[one.id].live
        and isinstance(one.place, At | AtWall | StandsOn)
    }
    found, left = [], [item.id] if item.id in fronts else []
    while left:
        name = left.pop()
        if name not in found:
            found.append(name)
            left += [other for other in fronts if _beside(fronts[name], fronts[other])]
    return sorted(found)


def _beside(one: Front, other: Front) -> bool:
    (rx, ry), (ox, oy) = one.frame.right, other.frame.right
    if rx * ox + ry * oy < 1 - TOUCH:
        return False
    u, v = one.frame.to_frame(*other.frame.to_plan(0.0, 0.0))
    touching = min(abs(u - one.width), abs(u + other.width)) <= TOUCH
    return abs(v) <= TOUCH and touching


def _back(bench: Bench, item: Item, row: list[str], least: float) -> Family:
    arrangement = bench.report.arrangement
    front = arrangement.items[item.id].front if arrangement else None
    x, y = (0.0, 0.0) if front is None else front.frame.out
    written = {one.id: one for one in bench.scene.items}
    pads = [
        place.stands_on if isinstance(place := written[name].place, StandsOn) else name
        for name in row
    ]
    names = list(dict.fromkeys(pads))

    def do(amount: float) -> tuple[Change, ...]:
        by = (-x * amount, -y * amount, 0.0)
        return tuple(move(bench.scene, name, by) for name in names)

    def clause(amount: float) -> str:
        away = bench.length(amount)
        return say("Move the whole row {} {} back: a wider aisle", ids(row), away)

    return Family(do, clause, least, _FURTHEST)
