"""Plans of very many sides without what nobody gets into: few sides bar all the same.

Whoever is wider than a chink stands and walks just where the chink is filled, so that
filling it changes no way out. Ways are looked for between all sides of all that is in
the way, which takes time by the square of their number: a rack full of screws has tens
of thousands.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.geometry.plan.union import GRID, polygons_of
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable

    import manifold3d
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Lengths = NDArray[np.float64]
    Told = NDArray[np.bool_]

_MANY: Final = 250
"""Corners. A plan with fewer in parts that are not convex is looked at as it is."""
_HOLLOW: Final = 1e-6
"""Square metres. What lacks less of its hull is convex, and one thing to look at."""
_ROUND: Final = 128
"""Sides of a round: it is grown about what the true one covers by a hundredth of a
millimetre."""
_LEAST: Final = 4
"""Corners that a ring keeps."""
_MITRE: Final = 2.0
"""Of a corner's way out to a side's, the longest."""
_SAG: Final = TOUCH / 20
"""Metres that somebody round gets past a line between two places that are covered."""


def without_chinks(plan: shapely.Geometry, width: float) -> shapely.Geometry:
    """Return a plan with all places filled that nobody of a width gets into.

    It covers what the plan does but for a fraction of contact, and besides what nobody
    gets into no more than contact. A plan is returned as it is that has few corners in
    parts that are not convex.

    Args:
        plan: Polygons.
        width: Of the widest chink that is filled, metres.
    """
    if shapely.get_num_coordinates(plan) <= _MANY:
        return plan
    parts = shapely.get_parts(plan)
    hollow = shapely.area(shapely.convex_hull(parts)) - shapely.area(parts) > _HOLLOW
    if shapely.get_num_coordinates(parts[hollow]).sum() <= _MANY:
        return plan
    import manifold3d  # noqa: PLC0415 - few plans have so many corners

    join, radius = manifold3d.JoinType, width / 2
    # The notches of a rough body are filled first: a corner that turns inwards is
    # grown into a loop that crosses all others, by the square of their number.
    bridge = math.sqrt(8 * radius * _SAG)
    # Grown by rounds that go all about the true ones, so that no corner is lost, and
    # taken back with points: of a cusp between two rounds one corner is left.
    outer = radius / math.cos(math.pi / _ROUND)
    given = [_section(part, bridge) for part in parts if part.area > 0]
    # One by one, which takes a tenth of the time of all together.
    grown = [one.offset(outer, join.Round, _MITRE, _ROUND) for one in given]
    closed = _together(grown).offset(-radius, join.Miter, _MITRE, _ROUND)
    found = [
        shapely.Polygon(_smoothed(part.exterior), [*map(_smoothed, part.interiors)])
        for part in shapely.get_parts(polygons_of(_together([closed, *given])))
    ]
    return shapely.make_valid(shapely.multipolygons(found).simplify(TOUCH / 4))


def _section(part: shapely.Polygon, bridge: float) -> manifold3d.CrossSection:
    """Return a part with its notches filled that are narrower than a bridge."""
    import manifold3d  # noqa: PLC0415

    turned = shapely.orient_polygons(part)
    lines = [
        _smoothed(ring, lambda _, wide: wide <= bridge)
        for ring in (turned.exterior, *turned.interiors)
    ]
    return manifold3d.CrossSection(lines, manifold3d.FillRule.NonZero)


def _together(sections: list[manifold3d.CrossSection]) -> manifold3d.CrossSection:
    import manifold3d  # noqa: PLC0415

    return manifold3d.CrossSection.batch_boolean(sections, manifold3d.OpType.Add)


def _in_contact(depth: Lengths, _: Lengths) -> Told:
    return depth <= TOUCH


def _smoothed(
    ring: shapely.LinearRing, is_small: Callable[[Lengths, Lengths], Told] = _in_contact
) -> Points:
    """Return a ring without the corners where it turns inwards by little.

    What is on its left is covered. Of neighbours every other one is left out at a time.

    Args:
        ring: A closed line.
        is_small: Tells of which notches that is true, from how deep and how wide they
            are, metres.
    """
    points: Points = shapely.get_coordinates(ring)[:-1]
    while len(points) > _LEAST:
        before, after = np.roll(points, 1, axis=0), np.roll(points, -1, axis=0)
        (x, y), (u, v) = (after - before).T, (points - before).T
        length = np.hypot(x, y)
        depth = (x * v - y * u) / np.where(length > 0, length, 1.0)
        shallow = (depth > -GRID) & is_small(depth, length)
        # A run of them is a round: each second one, from the first of the run.
        here = np.arange(len(points))
        place = here - np.maximum.accumulate(np.where(shallow, -1, here))
        gone = shallow & (place % 2 == 1)
        if gone[0] and gone[-1]:
            gone[-1] = False
        if not gone.any():
            break
        points = points[~gone]
    return points
