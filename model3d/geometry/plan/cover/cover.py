"""What covers a rectangle: how deep a part of it lies behind, whether all is hidden."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

from model3d.geometry.plan.mitred import mitred
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

Rectangle = tuple[float, float, float, float]
"""Left, bottom, right, top."""

_STEPS: Final = 40
"""Halvings: from the size of a room to far below any tolerance."""
_A_SIDE: Final = 5
"""Points along each side of a face that are looked at first."""
_SPARE: Final = 100 * TOUCH
"""Metres. Far more than anything is grown by before it is asked what it hides."""
_QUARTER: Final = 32
"""Sides of a quarter round: its chords stay within a twentieth of a millimetre."""


def deepest(covers: Iterable[Rectangle], area: Rectangle) -> float:
    """Return the greatest distance from a covered point of an area to an open one.

    Rectangles that touch cover together. 0 where nothing of the area is covered.

    >>> deepest([(0.0, 0.0, 0.3, 2.0)], (0.0, 0.5, 1.0, 1.5))
    0.15
    >>> deepest([(-9.0, -9.0, 0.3, 9.0)], (0.0, 0.5, 1.0, 1.5))
    0.3
    """
    # Grown so that what touches is one, and taken off again at the end.
    grown = [
        shapely.box(a - TOUCH, b - TOUCH, c + TOUCH, d + TOUCH) for a, b, c, d in covers
    ]
    covered, asked = shapely.union_all(grown), shapely.box(*area)
    low, high = 0.0, _longest(covered, asked)
    for _ in range(_STEPS):
        middle = (low + high) / 2
        inner = covered.buffer(-middle, quad_segs=_QUARTER)
        low, high = (middle, high) if inner.intersects(asked) else (low, middle)
    return max(round(low - TOUCH, 6), 0.0)


def _longest(covered: shapely.Geometry, asked: shapely.Geometry) -> float:
    a, b, c, d = shapely.union(covered, asked).bounds
    return math.dist((a, b), (c, d))


def spots(face: Rectangle) -> NDArray[np.float64]:
    """Return some points of a face, its corners among them, shape (n, 2).

    Where one of them is seen past a thing, nobody need ask whether all is hidden.
    """
    left, bottom, right, top = face
    across, up = np.linspace(left, right, _A_SIDE), np.linspace(bottom, top, _A_SIDE)
    return np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)


def not_hidden(
    points: NDArray[np.float64], outlook: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the points that polygons leave to be seen, with some to spare.

    Args:
        points: Shape (n, 2).
        outlook: The polygons, shape (m, k, 2).

    >>> points = np.array([(0.5, 0.5), (2.0, 0.5)])
    >>> not_hidden(points, np.array([[(0, 0), (1, 0), (1, 1)]]))
    array([[2. , 0.5]])
    """
    if not len(outlook) or not len(points):
        return points
    tree = shapely.STRtree(shapely.polygons(outlook))
    near = tree.query(shapely.points(points), predicate="dwithin", distance=_SPARE)
    left = np.ones(len(points), dtype=bool)
    left[near[0]] = False
    return points[left]


def closes(outlooks: Iterable[NDArray[np.float64]], face: Rectangle) -> bool:
    """Tell whether polygons, arrays of shape (n, k, 2), hide the whole of a face.

    Gaps no wider than contact count as closed.

    >>> left, right = (shapely.box(x, 0, x + 1, 2) for x in (0, 1))
    >>> shapes = [shapely.get_coordinates(one)[None, :4] for one in (left, right)]
    >>> closes(shapes, (0.0, 0.0, 2.0, 2.0)), closes(shapes[:1], (0.0, 0.0, 2.0, 2.0))
    (True, False)
    """
    shapes = [shapely.polygons(one) for one in outlooks if len(one)]
    if not shapes:
        return False
    pieces = np.concatenate(shapes)
    left, bottom, right, top = face
    area = (right - left) * (top - bottom)
    slack = TOUCH * (right - left + top - bottom) * 2
    if shapely.area(pieces).sum() < area - slack:
        return False
    asked = shapely.box(*face)
    grown = mitred(pieces, TOUCH)
    hidden = shapely.union_all(grown).intersection(asked)
    return bool(hidden.buffer(TOUCH).covers(asked))
