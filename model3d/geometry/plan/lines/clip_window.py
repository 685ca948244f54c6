"""What of a line in plan is seen through a window."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import shapely

from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.geometry.frame import Corner


def seen_through(
    points: Sequence[Corner], window: Sequence[Corner]
) -> Literal["in", "out", "across"]:
    """Tell whether a line, or a point, lies in a window; contact with its edge is none.

    >>> seen_through([(1.0, 1.0), (3.0, 1.0)], [(0, 0), (2, 0), (2, 2), (0, 2)])
    'across'
    """
    area = shapely.make_valid(shapely.Polygon(window))
    line = shapely.Point(points[0]) if len(points) == 1 else shapely.LineString(points)
    if area.buffer(TOUCH).covers(line):
        return "in"
    return "across" if area.buffer(-TOUCH).intersects(line) else "out"
