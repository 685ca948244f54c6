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

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Whole = NDArray[np.int64]

_MANY: Final = 5000
"""Triangles that are put together at once."""
_SQUARE: Final = 0.25
"""Metres: more of them are put together square by square, and then the squares."""
_MOST_SQUARES: Final = 64
"""Squares along each axis, at most."""


def rims(points: Points, faces: Faces) -> list[list[Points]]:
    """Return closed lines in plan about all that triangles cover, in groups.

    A place lies in some triangle just where the lines of some group wind about it.

    Args:
        points: Places in plan, shape (n, 2), metres.
        faces: Corners of triangles that have an area in plan, shape (m, 3).
    """
    if not len(faces):
        return []
    a, b, c = (points[faces[:, corner]] for corner in range(3))
    one, other = b - a, c - a
    is_over = one[:, 0] * other[:, 1] < one[:, 1] * other[:, 0]
    group = 2 * _squares(a) + is_over
    turned = np.where(is_over[:, None], faces[:, ::-1], faces)
    starts, ends = turned.ravel(), np.roll(turned, -1, axis=1).ravel()
    return _closed(points, *_left(np.repeat(group, 3), starts, ends, len(points)))


def _squares(places: Points) -> Whole:
    """Return the number of the square that each place is in; of few all are in one."""
    if len(places) <= _MANY:
        return np.zeros(len(places), dtype=np.int64)
    low = places.min(axis=0)
    side = max(_SQUARE, float(np.ptp(places, axis=0).max()) / _MOST_SQUARES)
    x, y = ((places - low) / side).astype(np.int64).T
    return np.asarray(x * (_MOST_SQUARES + 1) + y)


def _left(
    group: Whole, starts: Whole, ends: Whole, count: int
) -> tuple[Whole, Whole, Whole]:
    """Return group, start and end of the sides that are walked more often one way."""
    lows, highs = np.minimum(starts, ends), np.maximum(starts, ends)
    walked = np.sort(2 * ((group * count + lows) * count + highs) + (starts > ends))
    side = walked >> 1
    firsts = np.flatnonzero(np.append(True, side[1:] != side[:-1]))
    more = np.add.reduceat(1 - 2 * (walked & 1), firsts)
    is_left = more != 0
    left, more = side[firsts[is_left]], more[is_left]
    left, more = np.repeat(left, np.abs(more)), np.repeat(more, np.abs(more))
    low, high = left // count % count, left % count
    there = more > 0
    return left // count**2, np.where(there, low, high), np.where(there, high, low)


def _closed(
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
