"""Convex outlines on a plane, and what of a line they hide."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_LEAST: Final = 1e-6
"""Metres; less is no length."""
_MANY: Final = 40
"""Points of which most are no corners of the outline."""


def shifted(points: Points) -> Points:
    """Return points with the first one last: the next one of each."""
    return np.concatenate([points[1:], points[:1]])


def hull(points: Points) -> Points:
    """Return the convex outline of points, shape (n, 2), counter-clockwise.

    >>> hull(np.array([(0, 0), (2, 0), (1, 1), (2, 2), (0, 2)], float)).tolist()
    [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]
    """
    if len(points) == 0:
        return points
    if len(points) > _MANY:
        points = _outmost(points)
    # Of few points, as boxes have, each by itself is quicker than all in an array.
    ordered = sorted(
        {(round(x, 7) + 0.0, round(y, 7) + 0.0) for x, y in points.tolist()}
    )
    if len(ordered) == 4:  # noqa: PLR2004 - a box that is seen along its sides
        (a, b), (c, d), (e, f), (g, h) = ordered
        if a == c and e == g and b == f and d == h:
            return np.array([(a, b), (e, f), (g, h), (c, d)])
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return np.array(lower[:-1] + upper[:-1] or ordered)


def _outmost(points: Points) -> Points:
    """Return the points that may be corners of the outline: none inside of others."""
    angles = np.linspace(0.0, 2 * np.pi, 16, endpoint=False)
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    corners = points[np.unique(np.argmax(points @ ways.T, axis=0))]
    inner = hull(corners)
    if len(inner) < 3:  # noqa: PLR2004 - all on one line
        return points
    after = shifted(inner) - inner
    normal = np.column_stack([-after[:, 1], after[:, 0]])
    normal /= np.hypot(normal[:, 0], normal[:, 1])[:, None]
    height = points @ normal.T - (inner * normal).sum(axis=1)
    # Coarser than the rounding of the outline, lest it loses its own corners.
    return np.asarray(points[(height <= _LEAST).any(axis=1)])


def _chain(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for x, y in points:
        while len(found) > 1:
            (a, b), (c, d) = found[-2], found[-1]
            if (c - a) * (y - b) - (d - b) * (x - a) > 1e-9:  # noqa: PLR2004 - a turn
                break
            found.pop()
        found.append((x, y))
    return found


def inside(segments: Points, outline: Points) -> Points:
    """Return which part of each segment lies in a convex outline, shape (n, 2).

    Args:
        segments: Shape (n, 2, 2).
        outline: Counter-clockwise, shape (k, 2).

    Returns:
        From and to, as shares of the segment; to is below from where none does.
    """
    start, step = segments[:, 0], segments[:, 1] - segments[:, 0]
    after = shifted(outline) - outline
    normal = np.column_stack([-after[:, 1], after[:, 0]])  # points inwards
    away = (start[:, None, :] - outline[None, :, :]) * normal[None, :, :]
    height = away.sum(axis=2)
    slope = step @ normal.T
    length = np.maximum(np.hypot(normal[:, 0], normal[:, 1]), 1e-12)
    outside = (np.abs(slope) < 1e-12) & (height <= _LEAST * length)  # noqa: PLR2004
    with np.errstate(divide="ignore", invalid="ignore"):
        at = -height / slope
    enters = np.where(slope > 0, at, -np.inf)
    leaves = np.where(slope < 0, at, np.inf)
    enters[np.abs(slope) < 1e-12] = -np.inf  # noqa: PLR2004 - parallel
    leaves[np.abs(slope) < 1e-12] = np.inf  # noqa: PLR2004
    low = np.maximum(enters.max(axis=1), 0.0)
    high = np.minimum(leaves.min(axis=1), 1.0)
    high[outside.any(axis=1)] = -1.0
    return np.column_stack([low, high])


def outside(segments: Points, outline: Points) -> Points:
    """Return what of segments, shape (n, 2, 2), lies outside a convex outline.

    >>> square = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], float)
    >>> outside(np.array([[(-1, 0.5), (2, 0.5)]]), square).tolist()
    [[[-1.0, 0.5], [0.0, 0.5]], [[1.0, 0.5], [2.0, 0.5]]]
    """
    if not len(segments) or len(outline) < 3:  # noqa: PLR2004 - no surface
        return segments
    low, high = outline.min(axis=0), outline.max(axis=0)
    near = (segments.max(axis=1) >= low).all(axis=1)
    near &= (segments.min(axis=1) <= high).all(axis=1)
    if not near.any():
        return segments
    asked = segments[near]
    shares = inside(asked, outline)
    step = asked[:, 1] - asked[:, 0]
    length = np.hypot(step[:, 0], step[:, 1])
    hidden = (shares[:, 1] - shares[:, 0]) * length > _LEAST
    shares = np.where(hidden[:, None], shares, [[1.0, 1.0]])
    before = np.stack([asked[:, 0], asked[:, 0] + shares[:, :1] * step], axis=1)
    after = np.stack([asked[:, 0] + shares[:, 1:] * step, asked[:, 1]], axis=1)
    keep_before = shares[:, 0] * length > _LEAST
    keep_after = hidden & ((1 - shares[:, 1]) * length > _LEAST)
    return np.concatenate([segments[~near], before[keep_before], after[keep_after]])


def clipped(segments: Points, low: Points, high: Points) -> Points:
    """Return what of segments, shape (n, 2, 2), lies in an upright rectangle."""
    if not len(segments):
        return segments
    box = np.array([low, (high[0], low[1]), high, (low[0], high[1])], dtype=float)
    shares = inside(segments, box)
    step = segments[:, 1] - segments[:, 0]
    length = np.hypot(step[:, 0], step[:, 1])
    kept = (shares[:, 1] - shares[:, 0]) * length > _LEAST
    start = segments[:, 0] + shares[:, :1] * step
    end = segments[:, 0] + shares[:, 1:] * step
    return np.stack([start, end], axis=1)[kept]


def cropped(outline: Points, low: Points, high: Points) -> Points:
    """Return what of a surface lies in an upright rectangle, as one outline.

    >>> cropped(np.array([(-1, -1), (3, -1), (3, 3), (-1, 3)], float),
    ...         np.array([0.0, 0.0]), np.array([1.0, 2.0])).tolist()
    [[0.0, 2.0], [0.0, 0.0], [1.0, 0.0], [1.0, 2.0]]
    """
    found = [(x, y) for x, y in outline.tolist()]
    for axis, limit, sign in (
        (0, float(low[0]), 1),
        (0, float(high[0]), -1),
        (1, float(low[1]), 1),
        (1, float(high[1]), -1),
    ):
        found = _halved(found, [(spot[axis] - limit) * sign for spot in found])
    # A cut lies on the limit itself, and not beside it by what rounding makes of it.
    return np.clip(np.array(found).reshape(-1, 2), low, high)


def shared(outline: Points, other: Points) -> Points:
    """Return what of a convex surface lies in another one; both counter-clockwise.

    >>> shared(np.array([(0, 0), (2, 0), (2, 2), (0, 2)], float),
    ...        np.array([(1, -1), (3, -1), (3, 1), (1, 1)], float)).tolist()
    [[1.0, 1.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0]]
    """
    found, corners = [(x, y) for x, y in outline.tolist()], other.tolist()
    for (x, y), (after, above) in zip(corners, corners[1:] + corners[:1], strict=True):
        right, up = after - x, above - y
        found = _halved(found, [right * (v - y) - up * (u - x) for u, v in found])
    return np.array(found).reshape(-1, 2)


def _halved(
    outline: list[tuple[float, float]], height: list[float]
) -> list[tuple[float, float]]:
    """Return what of a surface lies where a height, one a corner, is not below zero."""
    found = []
    for place, here in enumerate(outline):
        before, a, b = outline[place - 1], height[place - 1], height[place]
        if a < 0 < b or b < 0 <= a:
            share = a / (a - b)
            x, y = (before[n] + share * (here[n] - before[n]) for n in (0, 1))
            if (x, y) != here:
                found.append((x, y))
        if b >= 0:
            found.append(here)
    return found
