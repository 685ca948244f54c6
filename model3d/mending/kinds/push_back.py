"""Push an item and what belongs to it back, or bring the item itself forward."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.movable import item_of, may_move
from model3d.mending.moving import along, own_ways
from model3d.scene.placement import At

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.remedy import Bench, Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of the item that is judged back and forward."""
    item = item_of(bench, judged.subject)
    if item is None or item.place is None or not may_move(item):
        return
    short = max(-(judged.margin or 0.0), 0.0) if "angle" not in judged.required else 0.0
    on_floor = isinstance(item.place, At)
    for words, way in own_ways(bench, item).items():
        # What may go aside or about the floor has a map that tells the nearest place.
        if on_floor or words not in {"back", "forward"}:
            continue
        yield along(bench, item.id, way, words, short if words == "back" else 0.0)
