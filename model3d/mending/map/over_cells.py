"""Where a luminaire is over the cells of a battery room: a person decides there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.mending.map.bar import Bar, bar, lying_in, rectangle
from model3d.rules import battery_room
from model3d.standing.racks import cell_rows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.bodies.solid import Box
    from model3d.mending.map.posed import Posed
    from model3d.standing.placed import Placed


def over_cells(posed: Posed) -> Iterator[Bar]:
    """Yield where a luminaire that moves is over cells, or cells come below one.

    Args:
        posed: The item that moves.
    """
    if not battery_room.asks_of_luminaires(posed.situation):
        return
    grown = posed.situation.survey_tolerance
    for mover in posed.movers:
        for other in posed.others:
            lamp, rack = (mover, other) if mover.kind.luminaire else (other, mover)
            if not lamp.kind.luminaire:
                continue
            for row in _cells(rack, posed):
                light = footprint(lamp.solid, row.top, lamp.top)
                cells = flat.Polygon(
                    rectangle(
                        row.frame, -grown, row.width + grown, -grown, row.depth + grown
                    )
                )
                plans = (light, cells) if lamp is mover else (cells, light)
                by = rack.id if lamp is mover else lamp.id
                yield bar(
                    lying_in(*plans), by, battery_room.REQUIREMENT, lamp.id, "open"
                )


def _cells(rack: Placed, posed: Posed) -> list[Box]:
    """Return the rows of cells; the whole of it where nothing says where they are."""
    if not rack.kind.batteries or rack.front is None:
        return []
    rows = cell_rows(rack, posed.situation.scene)
    return [row.body() for row in rows] or [rack.front.box()]
