"""Limit the depth of what is in the way, where it is a box or a trough."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.mending.movable import in_the_way
from model3d.mending.proof.search import Family
from model3d.scene.kinds import KINDS
from model3d.scene.parts.lesson import SetItem
from model3d.units import from_metres
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.lesson import Change

_SLIP: Final = 1e-6


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield lesser depths of troughs, boxes, shelves and goods in the way."""
    for item in in_the_way(judged, bench):
        if comes_less_deep(item):
            yield shallower(bench, item, max(-(judged.margin or 0.0), 0.0))


def comes_less_deep(item: Item) -> bool:
    """Tell whether an item may be ordered or built less deep."""
    kind = KINDS[item.kind]
    made = kind.boxed and not kind.meter and not kind.in_ceiling
    ordered = made or kind.cableway or kind.pad or kind.holds_goods
    fixed = item.size is None or item.mesh or kind.needs_working_space
    return ordered and not fixed


def shallower(bench: Bench, item: Item, least: float) -> Family:
    """Return lesser depths of an item, rounded down to the step."""
    width, depth, height = item.size or (0, 0, 0)
    deep, step = bench.scene.metres(depth), bench.step

    def rounded(amount: float) -> float:
        return math.floor((deep - amount) / step + _SLIP) * step

    def do(amount: float) -> tuple[Change, ...] | None:
        left = rounded(amount)
        if left <= _SLIP:
            return None
        new = from_metres(left, bench.scene.units)
        return (SetItem(set=item.id, fields={"size": [width, new, height]}),)

    def clause(amount: float) -> str:
        return say(
            "Make {} at most {} deep", Named(item.id), bench.length(rounded(amount))
        )

    return Family(do, clause, least, deep, moves=False)
