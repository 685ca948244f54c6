"""Make the pad thinner, or less deep, that the item or what is in the way stands on."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.mending.kinds.less_deep import shallower
from model3d.mending.movable import item_of
from model3d.mending.proof.search import Family
from model3d.scene.kinds import KINDS
from model3d.scene.parts.lesson import SetItem
from model3d.scene.parts.placement import StandsOn
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
    """Yield thinner pads below the item that is judged."""
    item = item_of(bench, judged.subject)
    place = item.place if item else None
    pad = item_of(bench, place.stands_on) if isinstance(place, StandsOn) else None
    if pad is None or not KINDS[pad.kind].pad or pad.size is None:
        return
    short = judged.margin if judged.short in {"height", "handle"} else None
    yield _thinner(bench, pad, max(-(short or 0.0), 0.0))
    yield shallower(bench, pad, 0.0)


def _thinner(bench: Bench, pad: Item, least: float) -> Family:
    width, depth, height = pad.size or (0, 0, 0)
    thick, step = bench.scene.metres(height), bench.step

    def rounded(amount: float) -> float:
        return math.floor((thick - amount) / step + _SLIP) * step

    def do(amount: float) -> tuple[Change, ...] | None:
        left = rounded(amount)
        if left <= _SLIP:
            return None
        new = from_metres(left, bench.scene.units)
        return (SetItem(set=pad.id, fields={"size": [width, depth, new]}),)

    def clause(amount: float) -> str:
        return say(
            "Make {} at most {} thick", Named(pad.id), bench.length(rounded(amount))
        )

    return Family(do, clause, least, thick, moves=False)
