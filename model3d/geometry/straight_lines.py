"""Straight lines in space: how near two of them come."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.tolerance import PARALLEL

if TYPE_CHECKING:
    from model3d.geometry.frame import Triple

Line = tuple["Triple", "Triple"]
"""From one end to the other, metres."""


def distance(one: Line, other: Line) -> float:
    """Return the shortest distance of two lines between their ends, metres.

    >>> distance(((0, 0, 0), (2, 0, 0)), ((1, -1, 3), (1, 1, 3)))
    3.0
    >>> distance(((0, 0, 0), (2, 0, 0)), ((5, 4, 0), (9, 4, 0)))
    5.0
    """
    (a, b), (c, d) = np.array(one, dtype=float), np.array(other, dtype=float)
    first, second, between = b - a, d - c, a - c
    aa, bb, ab = first @ first, second @ second, first @ second
    turn = aa * bb - ab * ab
    found = [
        from_point(one[0], other),
        from_point(one[1], other),
        from_point(other[0], one),
        from_point(other[1], one),
    ]
    if turn > PARALLEL * aa * bb:
        s = (ab * (second @ between) - bb * (first @ between)) / turn
        t = (aa * (second @ between) - ab * (first @ between)) / turn
        if 0 < s < 1 and 0 < t < 1:
            found.append(float(np.linalg.norm(between + s * first - t * second)))
    return min(found)


def from_point(point: Triple, line: Line) -> float:
    """Return the distance of a point from a line between its ends, metres."""
    start, end = np.array(line, dtype=float)
    along = end - start
    share = np.clip((point - start) @ along / (along @ along), 0.0, 1.0)
    return float(np.linalg.norm(start + share * along - point))
