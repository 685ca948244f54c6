"""What lines and rings of a plan may cover that belong to nothing that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import shapely

from model3d.geometry.plan.lines.enclosed import Area, areas_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.geometry.frame import Corner

_ROUND: Final = 0.005
"""Metres around what is known within which lines are of its own sign."""
_WHOLE: Final = 0.05
"""Share of an outline that may lie beside a ring which is drawn around all of it."""
_SHARP: Final = 2.0
"""How far the corner of a wide line may stand out, as a multiple of half its width."""


def leftover(
    outline: Sequence[Corner],
    lines: Sequence[Sequence[Corner]],
    rings: Sequence[Area],
    known: Sequence[Area],
    *,
    reach: float,
    inside: float,
) -> list[Area]:
    """Return what is possibly covered within an outline beside what is known.

    Args:
        outline: Of a room.
        lines: Open lines.
        rings: What closed lines enclose; one around the whole room covers none of it.
        known: What things cover that are known: lines within them are their signs.
        reach: Metres from an open line that may be covered.
        inside: Metres from the outline's sides; what comes no further in is none.
    """
    room = shapely.Polygon(outline)
    inner = room.buffer(-inside)
    cover = shapely.union_all([one.polygon() for one in known]).buffer(_ROUND)
    found = []
    for points in lines:
        rest = shapely.LineString(points).difference(cover)
        if inner.intersects(rest):
            found.append(
                rest.buffer(
                    reach,
                    cap_style="square",
                    join_style="mitre",
                    mitre_limit=_SHARP,
                )
            )
    for area in rings:
        polygon = area.polygon()
        is_room = room.difference(polygon).area <= _WHOLE * room.area
        if not is_room and inner.intersects(polygon) and not cover.covers(polygon):
            found.append(polygon)
    return areas_in(shapely.union_all(found))
