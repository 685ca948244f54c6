"""Move what is in the way: to the nearest free place, or straight aside, up or down."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.movable import (
    in_the_way,
    is_another_leaf_stopped,
    stands_on_floor,
    stays_between,
    way_out,
)
from model3d.mending.moving import DOWN, UP, along, own_ways, placed
from model3d.mending.placing.nearest_place import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of everything that is in the way."""
    for item in in_the_way(judged, bench):
        moves = list(dict.fromkeys(nearest(bench, item.id, judged)))
        for by in moves:
            yield placed(bench, item.id, by)
        if is_another_leaf_stopped(judged, bench):
            # Where it may stand for all leaves of the gear is further than for one.
            for words, way in own_ways(bench, item).items():
                yield along(bench, item.id, way, words, bench.step)
        for words, way in {"raise": UP, "lower": DOWN}.items():
            on_floor = words == "raise" and stands_on_floor(bench, item.id)
            if not on_floor and not stays_between(judged, bench, item.id):
                yield along(bench, item.id, way, words, way_out(judged, item.id, way))
        past = [
            one.reach - one.allowed
            for one in judged.intrusions
            if one.item == item.id and one.reach is not None and one.allowed is not None
        ]
        if past:
            back = own_ways(bench, item).get("back", DOWN)
            yield along(bench, item.id, back, "back", max(0.0, *past))
