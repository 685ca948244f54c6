"""Move what stops the leaf of a personnel door out of its way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import exits
from model3d.mending.movable import is_scan, item_of, may_move
from model3d.mending.moving import along, own_ways

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family
    from model3d.scene.parts.item import Item

_OF_WAYS: Final = {"entrance", "second-entrance"}
"""Requirements that ask of a way through a personnel door."""


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of what stops a door, where no way leads out or one is too narrow."""
    if judged.requirement not in _OF_WAYS:
        return
    for item in _stops(bench):
        for words, way in own_ways(bench, item).items():
            yield along(bench, item.id, way, words, bench.step)


def _stops(bench: Bench) -> list[Item]:
    """Return what stops a leaf of a personnel door, and may be moved."""
    names = dict.fromkeys(
        leaf.stop
        for way_out in exits(bench.situation)
        for hanging in way_out.hangings
        for leaf in hanging.leaves
        if leaf.stop and not is_scan(bench, leaf.stop)
    )
    found = (item_of(bench, name) for name in names)
    return [item for item in found if item is not None and may_move(item)]
