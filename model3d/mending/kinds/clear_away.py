"""Move what is in the way: to the nearest free place, or straight aside, up or down."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.movable import in_the_way, way_out
from model3d.mending.moving import DOWN, UP, along, own_ways, placed
from model3d.mending.nearest import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.remedy import Bench, Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of everything that is in the way."""
    for item in in_the_way(judged, bench):
        moves = list(nearest(bench, item.id, judged))
        for by in moves:
            yield placed(bench, item.id, by)
        ways = {} if moves else own_ways(bench, item)
        ways |= {"raise": UP, "lower": DOWN}
        past = [
            one.reach - one.allowed
            for one in judged.intrusions
            if one.item == item.id and one.reach is not None and one.allowed is not None
        ]
        if past and "back" not in ways:
            ways["back"] = own_ways(bench, item).get("back", DOWN)
        for words, way in ways.items():
            least = 0.0 if past else way_out(judged, item.id, way)
            yield along(
                bench,
                item.id,
                way,
                words,
                max([least, *past]) if words == "back" else least,
            )
