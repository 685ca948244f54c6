"""Move what a way out is narrowest between straight away from there.

A way is no space of which a map knows what bars it: distances are tried, and to ask of
a way takes long. So none is tried aside, where a thing must go far to be out of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.egress.doors.open_leaves import leaf_name
from model3d.geometry.tolerance import TOUCH
from model3d.mending.movable import may_move
from model3d.mending.moving import along, own_ways

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.moving import Vector
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of what stands at the narrowest place of a way out."""
    if judged.way is None:
        return
    short = max(-(judged.margin or 0.0), 0.0) if judged.short == "width" else 0.0
    between = set(judged.way.between)
    for item in bench.scene.items:
        if may_move(item) and between & {item.id, leaf_name(item.id)}:
            for words, way in own_ways(bench, item).items():
                if _widens(bench, item.id, judged.way.at, way):
                    yield along(bench, item.id, way, words, short)


def _widens(bench: Bench, name: str, at: Corner, way: Vector) -> bool:
    """Tell whether a move takes a thing away from the narrowest place of a way."""
    low, high = bench.situation.arrangement.items[name].solid.bounds
    ahead = (
        (there - min(max(there, low[n]), high[n])) * way[n]
        for n, there in enumerate(at)
    )
    return sum(ahead) < -TOUCH
