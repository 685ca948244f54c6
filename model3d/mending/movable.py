"""What a remedy may move, and how far something is in a space."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from model3d.geometry.bodies.solid import LARGE, Mesh
from model3d.geometry.tolerance import TOUCH
from model3d.judging.results import ClearBox
from model3d.scene.kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Triple
    from model3d.judging.results import Judgement
    from model3d.mending.moving import Vector
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Item


def may_move(item: Item) -> bool:
    """Tell whether a remedy may move an item: the building itself stays."""
    kind = KINDS[item.kind]
    return not kind.structure and not kind.hole


def is_scan(bench: Bench, name: str) -> bool:
    """Tell whether a thing is a large scan: what was measured is where it is."""
    thing = bench.situation.arrangement.items.get(name)
    solid = None if thing is None else thing.solid
    return isinstance(solid, Mesh) and len(solid.faces) > LARGE and not solid.closed


def item_of(bench: Bench, name: str) -> Item | None:
    """Return an item of the scene; None for a wall, a door or the room."""
    return next((one for one in bench.scene.items if one.id == name), None)


def in_the_way(judged: Judgement, bench: Bench) -> Iterator[Item]:
    """Yield what is in the way and may be moved, each once."""
    for name in dict.fromkeys(one.item for one in judged.intrusions):
        item = item_of(bench, name)
        if item is None or name == judged.subject or is_scan(bench, name):
            continue
        if may_move(item):
            yield item


def stays_between(judged: Judgement, bench: Bench, name: str) -> bool:
    """Tell whether a thing is at every height of the room: up or down nothing changes.

    So it is of a riser, a column and a wall, and of what judges no heights at all.
    """
    arrangement = bench.situation.arrangement
    height, thing = arrangement.shell.height, arrangement.items.get(name)
    if height is None or thing is None or not judged.shapes:
        return False
    (_, _, low), (_, _, high) = thing.solid.bounds
    return low <= TOUCH and high >= height - TOUCH


def stands_on_floor(bench: Bench, name: str) -> bool:
    """Tell whether a thing stands on the floor: raised it would hang in the air."""
    thing = bench.situation.arrangement.items.get(name)
    return thing is not None and thing.solid.bounds[0][2] <= TOUCH


def is_another_leaf_stopped(judged: Judgement, bench: Bench) -> bool:
    """Tell whether another leaf of the same item is stopped as well."""
    return any(
        one.verdict == "not-met"
        and (one.requirement, one.subject) == (judged.requirement, judged.subject)
        and one.leaf != judged.leaf
        for one in bench.report.judgements
    )


def way_out(judged: Judgement, name: str, way: Vector) -> float:
    """Return how far something must go one way to be out of a space, at the least.

    By bounds: a lower limit where anything is turned or round.
    """
    lows, highs = [], []
    for one in judged.intrusions:
        if one.item == name:
            corners = _corners(one.low, one.high)
            far = [_dot(corner, way) for corner in corners]
            lows.append(min(far))
            highs.append(max(far))
    if not lows:
        return 0.0
    ends = []
    for shape in judged.shapes:
        if isinstance(shape, ClearBox):
            bounds = shape.frame.bounds(shape.low, shape.high)
        else:
            bounds = shape.bounds
        ends.append(max(_dot(corner, way) for corner in _corners(*bounds)))
    if not ends:
        return 0.0
    return max(min(ends) - max(highs), 0.0) if max(highs) < min(ends) else 0.0


def _corners(low: Triple, high: Triple) -> list[Triple]:
    return [
        (x, y, z)
        for x in (low[0], high[0])
        for y in (low[1], high[1])
        for z in (low[2], high[2])
    ]


def _dot(corner: Triple, way: Vector) -> float:
    return math.fsum(a * b for a, b in zip(corner, way, strict=True))
