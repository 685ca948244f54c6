"""Ways out that are too narrow, in question or not there: a ribbon on the floor."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.bodies.surfaces import NO_FACES, dashed
from viewer.stage.drawn import Shape
from viewer.stage.layers import WAYS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement, Way
    from viewer.stage.drawn import Faces, Point, Points

_LEVEL: Final = 0.003
"""Metres. How far a ribbon lies above the floor, and its line above the ribbon."""
_BAR: Final = 0.7
"""Metres. How long the bar is across the end of a way that leads nowhere."""
_BAR_WIDTH: Final = 5.0
"""Of that bar, as the widths of edges are given."""
_ROUND: Final = 13
"""Points of a round end."""


def way_shapes(judgement: Judgement, name: str) -> Iterator[Shape]:
    """Yield the ribbon of a way that is not met or open, as wide as is asked for.

    Where no way leads out it is that of how far somebody gets, as wide as they are.

    Args:
        judgement: What was found.
        name: Of the judgement's shapes.
    """
    way = judgement.way
    if judgement.dead_end is not None and way is None:
        yield from _stopped(judgement, judgement.dead_end, name)
        return
    if way is None or judgement.verdict == "met" or len(set(way.points)) < 2:  # noqa: PLR2004 - ends
        return
    half = judgement.required.get("width", way.narrowest) / 2
    if not math.isfinite(half):
        return
    yield _drawn(judgement, way, name, half, f"way out to {way.door}")


def _stopped(judgement: Judgement, way: Way, name: str) -> Iterator[Shape]:
    """Yield the ribbon of how far somebody gets, and a bar across its end."""
    about = f"no way out: this far towards {way.door}"
    start, end, _ = across(way, way.at, _BAR)
    if len(set(way.points)) > 1:
        yield _drawn(judgement, way, name, way.narrowest / 2, about)
    yield Shape(
        id=f"{name}/way-end",
        item=judgement.subject,
        layer=WAYS,
        role="footprint",
        kind=judgement.requirement,
        about=about,
        vertices=np.zeros((0, 3)),
        faces=NO_FACES,
        edges=np.array([[start, end]]),
        colour=palette.INTRUSION,
        edge_colour=palette.INTRUSION,
        edge_width=_BAR_WIDTH,
        pickable=False,
        judgements=(0,),
    )


def _drawn(judgement: Judgement, way: Way, name: str, half: float, about: str) -> Shape:
    vertices, faces = _ribbon(np.array(way.points), half)
    return Shape(
        id=f"{name}/way",
        item=judgement.subject,
        layer=WAYS,
        role="footprint",
        kind=judgement.requirement,
        about=about,
        vertices=vertices,
        faces=faces,
        edges=_line(way.points),
        colour=palette.WAY,
        edge_colour=palette.WAY_EDGE,
        edge_width=2.0,
        # Drawn with what is translucent, so that no shadows of corners fall on it.
        opacity=palette.WAY_OPACITY,
        pickable=False,
        judgements=(0,),
    )


def across(
    way: Way, at: tuple[float, float], width: float
) -> tuple[Point, Point, Point]:
    """Return two ends of a width across a way at a place, and the way on.

    Args:
        way: The way.
        at: In plan, metres.
        width: Metres.
    """
    east, north = _direction(way, at)
    x, y = at
    half = width / 2
    return (
        (x - north * half, y + east * half, 2 * _LEVEL),
        (x + north * half, y - east * half, 2 * _LEVEL),
        (east, north, 0.0),
    )


def _ribbon(points: Points, half: float) -> tuple[Points, Faces]:
    """Return a band with round ends; where it turns nothing of it lies on another part.

    It is translucent: what lies on another part of it would be darker. Where a piece is
    too short to be cut back at both its ends, they overlap.
    """
    points = points[np.append(True, np.diff(points, axis=0).any(axis=1))]
    steps = np.diff(points, axis=0)
    long = np.hypot(*steps.T)
    left = half * np.column_stack([-steps[:, 1], steps[:, 0]]) / long[:, None]
    # Of each piece the corners at its beginning, left and right, and at its end.
    sides = np.stack([left, -left], axis=1)
    corners = np.stack([points[:-1, None] + sides, points[1:, None] + sides], axis=1)
    rounds = [_round(points[0], points[0], left[0], math.pi)]
    for n, (one, after) in enumerate(pairwise(left)):
        cross = float(one[0] * after[1] - one[1] * after[0])
        turn = math.atan2(cross, float(np.dot(one, after)))
        apex = middle = points[n + 1]
        inner = 1.0 if turn > 0 else -1.0
        if 2 * half * abs(math.tan(turn / 2)) <= min(long[n], long[n + 1]):
            bisector = inner * (one + after)
            apex = middle + bisector * half**2 / (half**2 + float(np.dot(one, after)))
            side = 0 if turn > 0 else 1
            corners[n, 1, side] = corners[n + 1, 0, side] = apex
        rounds.append(_round(apex, middle, -inner * one, turn))
    rounds.append(_round(points[-1], points[-1], -left[-1], math.pi))
    pieces = [piece.reshape(-1, 2)[[0, 1, 3, 2]] for piece in corners]
    parts, faces, count = [], [NO_FACES], 0
    for piece in (*pieces, *rounds):
        fan = np.arange(1, len(piece) - 1)
        faces.append(count + np.column_stack([np.zeros_like(fan), fan, fan + 1]))
        parts.append(np.column_stack([piece, np.full(len(piece), _LEVEL)]))
        count += len(piece)
    return np.concatenate(parts), np.concatenate(faces)


def _round(apex: Points, middle: Points, start: Points, turn: float) -> Points:
    """Return a point and an arc about a middle, which it is joined to."""
    angles = math.atan2(start[1], start[0]) + np.linspace(0.0, turn, _ROUND)
    if turn < 0:
        angles = angles[::-1]
    arc = np.column_stack([np.cos(angles), np.sin(angles)]) * math.hypot(*start)
    return np.vstack([apex, middle + arc])


def _line(points: tuple[tuple[float, float], ...]) -> Points:
    line = np.array([(x, y, 2 * _LEVEL) for x, y in points])
    return dashed(np.stack([line[:-1], line[1:]], axis=1), dash=0.16, gap=0.09)


def _direction(way: Way, at: tuple[float, float]) -> tuple[float, float]:
    """Return the way a route runs where it is nearest to a place."""
    here = np.array(at)
    best, found = math.inf, (1.0, 0.0)
    for one, after in pairwise(np.array(way.points)):
        step = after - one
        long = float(np.hypot(*step))
        if not long:
            continue
        share = min(max(float(np.dot(here - one, step)) / long**2, 0.0), 1.0)
        away = float(np.hypot(*(one + share * step - here)))
        if away < best:
            best, found = away, (float(step[0]) / long, float(step[1]) / long)
    return found
