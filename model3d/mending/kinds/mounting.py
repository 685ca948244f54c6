"""Mount the item higher or lower."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.map.posed import carried
from model3d.mending.movable import item_of, may_move, stays_between
from model3d.mending.moving import DOWN, UP, along
from model3d.scene.parts.placement import StandsOn

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield other heights of the item that is judged, where it hangs."""
    item = item_of(bench, judged.subject)
    if item is None or item.place is None or not may_move(item):
        return
    if isinstance(item.place, StandsOn):
        return
    others = {one.item for one in judged.intrusions} - carried(bench.scene, item.id)
    if any(stays_between(judged, bench, name) for name in others):
        return
    short = 0.0
    if judged.short in {"height", "handle"} and judged.margin is not None:
        short = max(-judged.margin, 0.0)
    yield along(bench, item.id, DOWN, "lower", short)
    yield along(bench, item.id, UP, "raise", 0.0)
