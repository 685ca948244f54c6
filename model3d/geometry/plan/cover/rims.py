"""The rims of very many triangles in plan: few lines that cover what all of them do.

Triangles that are turned the same way in plan wind about a place as often as they cover
it. A side that two of them share is walked once in each direction, so it adds nothing:
what is left are the rims of folds, some thousand sides of a million triangles.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.edges import Edges

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Whole = NDArray[np.int64]

_MANY: Final = 5000
"""Triangles that are put together at once."""
_SQUARE: Final = 0.25
"""Metres: more of them are put together square by square, and then the squares."""
_MOST_SQUARES: Final = 64
"""Squares along each axis, at most."""


def rims(
    points: Points, faces: Faces, edges: Edges, counts: NDArray[np.bool_]
) -> list[list[Points]]:
    """Return closed lines in plan about all that triangles cover, in groups.

    A place lies in some triangle just where the lines of some group wind about it.

    Args:
        points: Places in plan, shape (n, 2), metres.
        faces: Corners of triangles, shape (m, 3).
        edges: Their edges.
        counts: Which of the triangles are asked for; they have an area in plan.
    """
    if not counts.any():
        return []
    a, b, c = (np.take(points, faces[:, corner], axis=0) for corner in range(3))
    one, other = b - a, c - a
    is_over = one[:, 0] * other[:, 1] < one[:, 1] * other[:, 0]
    square = np.where(counts, _squares(a, counts), -1)
    # Of two triangles beside one another in plan their edge is no rim: they walk it
    # both ways, counter-clockwise. Of two over one another, as at a fold, it is.
    backwards = edges.backwards ^ np.repeat(is_over, 3)
    partner = np.maximum(edges.partner, 0)
    is_rim = (edges.partner < 0) | (backwards == backwards[partner])
    is_rim |= np.repeat(square, 3) != square[partner // 3]
    face, corner = np.nonzero(is_rim.reshape(-1, 3) & counts[:, None])
    ends = faces[face, corner], faces[face, (corner + 1) % 3]
    over = is_over[face]
    starts, ends = np.where(over, ends[::-1], ends)
    return closed_lines(points, square[face], starts, ends)


def _squares(places: Points, counts: NDArray[np.bool_]) -> Whole:
    """Return the number of the square that each place is in; of few all are in one."""
    if int(counts.sum()) <= _MANY:
        return np.zeros(len(places), dtype=np.int64)
    low, high = places[counts].min(axis=0), places[counts].max(axis=0)
    side = max(_SQUARE, float((high - low).max()) / _MOST_SQUARES)
    x, y = ((places - low) / side).astype(np.int64).T
    return np.asarray(x * (_MOST_SQUARES + 1) + y)


def closed_lines(
    points: Points, group: Whole, starts: Whole, ends: Whole
) -> list[list[Points]]:
    """Return sides, at each place as many that come as go, as closed lines."""
    follows = np.empty(len(group), dtype=np.int64)
    follows[np.lexsort((ends, group))] = np.lexsort((starts, group))
    next_one, of, places = follows.tolist(), group.tolist(), points[starts]
    is_walked = bytearray(len(next_one))
    found: dict[int, list[Points]] = {}
    for first in range(len(next_one)):
        if is_walked[first]:
            continue
        line, here = [], first
        while not is_walked[here]:
            is_walked[here] = 1
            line.append(here)
            here = next_one[here]
        found.setdefault(of[first], []).append(places[line])
    return list(found.values())
