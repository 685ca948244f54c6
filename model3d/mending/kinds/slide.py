"""Move the item itself: along its wall, ahead or back, or on the floor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.map.posed import Posed, carried
from model3d.mending.map.quick import is_still_broken
from model3d.mending.movable import is_another_leaf_stopped, item_of, may_move
from model3d.mending.moving import along, own_ways, placed
from model3d.mending.placing.nearest_place import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield the nearest free places of the item that is judged.

    Where several leaves of it are stopped, its moves one way as well.
    """
    item = item_of(bench, judged.subject)
    if item is not None and may_move(item) and not _carries_it(judged, bench, item.id):
        for by in nearest(bench, item.id, judged):
            yield placed(bench, item.id, by)
        if is_another_leaf_stopped(judged, bench):
            # A map frees all leaves of an item at once; less may do for the one.
            for words, way in own_ways(bench, item).items():
                yield along(bench, item.id, way, words, bench.step)


def _carries_it(judged: Judgement, bench: Bench, name: str) -> bool:
    """Tell whether what moves with an item is in its way wherever it goes.

    On a platform a space begins higher up, so that what is lower may be out of it.
    """
    names = carried(bench.scene, name) - {name}
    if names.isdisjoint(one.item for one in judged.intrusions):
        return False
    posed = Posed(bench.situation, name)
    lowest = min(one.bottom for one in posed.movers if one.id in names)
    about = judged.requirement, judged.subject
    return lowest >= max(posed.raised, default=0.0) and is_still_broken(
        *about, posed.bare
    )
