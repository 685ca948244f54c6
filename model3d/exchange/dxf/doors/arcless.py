"""What is drawn for a door and has no arc of a leaf: it is told, and is no door.

Where no arc is, nobody knows which way a leaf opens or whether there is one: a passage,
a sliding door and a leaf that is drawn shut look alike.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.layer_table import DOOR
from model3d.geometry.plan.lines.enclosed import Area

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.dxf.drawn_plan import Plan, Swing
    from model3d.exchange.dxf.layer_table import LayerTable
    from model3d.geometry.frame import Corner

_NEAR: Final = 1.0
"""Metres around a room within which what is no door of it is told."""
_BESIDE: Final = 0.3
"""Metres past the leaf of an arc to where its frame and its other lines lie."""


def doors_without_arc(
    plan: Plan, table: LayerTable, outline: Sequence[Corner]
) -> Iterator[str]:
    """Yield a line for each block near a room, and for the lines, that are no door."""

    def is_door(layer: str) -> bool:
        row = table.row_of(layer)
        return row is not None and row.becomes == DOOR

    bounds = Area(tuple(outline)).bounds
    with_arcs = {number for one in plan.swings for number in one.blocks}
    without = set()
    for one in plan.inserts:
        if not is_door(one.layer) or one.number in with_arcs:
            continue
        without.add(one.number)
        if not one.blocks and Area((one.at,)).is_near(bounds, _NEAR):
            where = plan.told_at(one.at)
            said = f"left out: block {one.name} on door layer {one.layer}{where}"
            yield f"{said}: no arc of a leaf in it; write the door by hand"
    drawn = [(one.layer, one.points) for one in plan.lines]
    drawn += [
        (one.layer, one.outer) for one in plan.rings if without.isdisjoint(one.blocks)
    ]
    alone: defaultdict[str, list[Corner]] = defaultdict(list)
    for layer, points in drawn:
        if not is_door(layer) or not Area(points).is_near(bounds, _NEAR):
            continue
        if not any(_is_of(points, swing) for swing in plan.swings):
            alone[layer].append(points[0])
    for layer, starts in alone.items():
        many = "" if len(starts) == 1 else "s"
        where = plan.told_at(starts[0], len(starts))
        said = f"left out: {len(starts)} line{many} on door layer {layer}{where}"
        yield f"{said}: no arc of a leaf there; write the door by hand"


def _is_of(points: Sequence[Corner], swing: Swing) -> bool:
    """Tell whether a line is drawn for the leaf of an arc, or for its frame."""
    reach = math.dist(swing.centre, swing.ends[0]) + _BESIDE
    return any(math.dist(swing.centre, point) <= reach for point in points)
