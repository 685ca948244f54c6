"""Move the item itself: along its wall, ahead or back, or on the floor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.movable import item_of, may_move
from model3d.mending.moving import placed
from model3d.mending.placing.nearest_place import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield the nearest free places of the item that is judged."""
    item = item_of(bench, judged.subject)
    if item is not None and may_move(item):
        for by in nearest(bench, item.id, judged):
            yield placed(bench, item.id, by)
