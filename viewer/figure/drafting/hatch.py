"""The lines that fill a surface, from edge to edge."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.pens import Pattern

_SHORTEST = 0.05
"""Millimetres; a shorter line would be a dot."""


@lru_cache(maxsize=4096)
def hatched(
    outline: tuple[Spot, ...], pattern: Pattern
) -> tuple[tuple[Spot, Spot], ...]:
    """Return the lines of a pattern in a surface, holes and hollows left free.

    The lines of one pattern lie on one grid of the paper, so that the hatches of
    neighbours meet.

    >>> from viewer.figure.drafting.pens import Pattern
    >>> hatched(((0, 0), (2, 0), (2, 3), (0, 3)), Pattern((0.0,), 2.0))
    (((0.0, 2.0), (2.0, 2.0)),)
    """
    corners = np.array(outline, dtype=float)
    if len(corners) < 3:  # noqa: PLR2004 - no surface
        return ()
    found: list[tuple[Spot, Spot]] = []
    for angle in pattern.angles:
        found += _lines(corners, math.radians(angle), pattern.spacing)
    return tuple(found)


def _lines(
    corners: np.ndarray, angle: float, spacing: float
) -> list[tuple[Spot, Spot]]:
    # y runs down the paper: a line that rises to the right has a falling y.
    along = np.array([math.cos(angle), -math.sin(angle)])
    across = np.array([-along[1], along[0]])
    u, v = corners @ along, corners @ across
    first = math.ceil(v.min() / spacing + _EDGE)
    last = math.floor(v.max() / spacing - _EDGE)
    levels = np.arange(first, last + 1) * spacing
    if not len(levels):
        return []
    u_after, v_after = (np.concatenate([one[1:], one[:1]]) for one in (u, v))
    at = levels[:, None]
    cuts = (v <= at) != (v_after <= at)
    slope = (u_after - u) / np.where(v == v_after, 1.0, v_after - v)
    places = np.where(cuts, u + (at - v) * slope, np.inf)
    places.sort(axis=1)
    pairs = places[:, : places.shape[1] // 2 * 2].reshape(-1, 2)
    height = np.repeat(levels, places.shape[1] // 2)
    kept = np.isfinite(pairs[:, 1])
    kept[kept] &= pairs[kept, 1] - pairs[kept, 0] > _SHORTEST
    pairs, height = pairs[kept], height[kept, None]
    ends = pairs[:, :, None] * along + (height * across)[:, None, :]
    found = np.round(ends, 3) + 0.0
    return [((a[0], a[1]), (b[0], b[1])) for a, b in found.tolist()]


_EDGE = 1e-6
"""Shares of a spacing; a line on the very edge of a surface is none."""
