"""A way out in plan as wide as is asked for, and what takes some of that width."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting.axes import NORTH_UP
from viewer.figure.drafting.hidden_lines import hull, outside, shared, shifted
from viewer.figure.plans.names import is_overhead
from viewer.figure.things.masonry import plan_cuts
from viewer.figure.things.scenery import pieces
from viewer.stage.bodies.surfaces import ribbon_piece

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.results import Way
    from model3d.standing.arrangement import Arrangement
    from viewer.figure.drafting.hidden_lines import Points

_STEP: Final = 0.04
"""Metres between two points of a route while it is bent."""
_TURNS: Final = 90
"""How often it is bent a little and pulled straight; more moves it no further."""
_LAST: Final = 30
"""How often it is bent in the end without being pulled."""
_MOST: Final = 0.02
"""Metres by which a point is moved at once: it jumps over nothing."""
_PULL: Final = 0.25
"""Share of the way to the middle of its neighbours."""
_NEAR: Final = 0.4
"""Metres. What is further from the ribbon than that is not come near to."""
_LOW: Final = 0.2
"""Metres. What is lower is stepped on or over, and not gone round."""
_LEAF: Final = 0.004
"""Metres. Half the thickness of an open leaf, as far as a ribbon is concerned."""
_STRAIGHT: Final = 0.004
"""Metres by which a route is drawn beside where it runs, at most."""
_SEEN: Final = 0.01
"""Metres. What takes less of the width is too thin to be seen in a drawing."""
_ROUND: Final = 12
"""Corners of the round end of a piece of ribbon."""
_BODY: Final = 3
"""Corners of what has a surface, at least."""


@dataclass(frozen=True, eq=False)
class Ribbon:
    """A way out as it is drawn.

    Attributes:
        route: Its middle, shape (n, 2), metres.
        pieces: Its surface, in pieces that overlap at the bends.
        short: Surfaces that it would need and that something stands on.
    """

    route: Points
    pieces: tuple[Points, ...]
    short: tuple[Points, ...]


def ribbon_of(
    way: Way, width: float, height: float, arrangement: Arrangement
) -> Ribbon:
    """Return a way as wide as is asked for, bent to where there is room for it.

    A way that is too narrow is found as somebody goes who is as wide as it is, near
    to corners: drawn as wide as it must be, it would lie on things beside which there
    is room. What lies on something then is what is short, wherever it goes.

    Args:
        way: The way.
        width: That is asked for, metres.
        height: The same.
        arrangement: The room.
    """
    half, route = width / 2, np.array(way.points)
    low, high = route.min(axis=0) - half - _NEAR, route.max(axis=0) + half + _NEAR
    solid = [*_walls(arrangement), *_things(arrangement, low, high, height)]
    leaves = [_thin(one.hinge, one.tip) for one in way.leaves]
    solid = [one for one in solid if _is_clear(route, one)]
    beside = [one for one in leaves if _is_clear(route, one)] + solid
    bent = _bent(route, beside, half)
    if not all(_is_clear(bent, one) for one in beside):
        bent = route
    drawn = tuple(
        ribbon_piece(one, after, half, _ROUND)
        for one, after in pairwise(bent)
        if math.dist(one, after) > 0
    )
    dense, short = _dense(bent), []
    for one in solid:
        if half - _away(dense, one)[0].min() > _SEEN:
            parts = (shared(one, piece) for piece in drawn)
            short += [part for part in parts if len(part) >= _BODY]
    return Ribbon(bent, drawn, tuple(short))


def _walls(arrangement: Arrangement) -> Iterator[Points]:
    for cut in plan_cuts(arrangement):
        outline = hull(cut.outline)
        if len(outline) >= _BODY:
            yield outline


def _things(
    arrangement: Arrangement, low: Points, high: Points, height: float
) -> Iterator[Points]:
    """Yield the outlines of what stands where somebody goes, not of what hangs over."""
    window = (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    for one in pieces(arrangement, NORTH_UP, window):
        is_met = one.near > _LOW and one.far < height and not is_overhead(one)
        if is_met and len(one.outline) >= _BODY:
            yield one.outline


def _thin(hinge: tuple[float, float], tip: tuple[float, float]) -> Points:
    """Return an open leaf as a thin surface."""
    along = np.subtract(tip, hinge)
    off = _LEAF * np.array([-along[1], along[0]]) / max(math.hypot(*along), _LEAF)
    return hull(np.array([hinge - off, hinge + off, tip - off, tip + off]))


def _is_clear(route: Points, outline: Points) -> bool:
    """Tell whether a route crosses a surface nowhere."""
    legs = np.stack([route[:-1], route[1:]], axis=1)
    left = outside(legs, outline)
    return bool(_long(left) >= _long(legs) - _STRAIGHT)


def _long(legs: Points) -> float:
    return float(np.hypot(*(legs[:, 1] - legs[:, 0]).T).sum())


def _bent(route: Points, beside: Sequence[Points], half: float) -> Points:
    """Return a route that keeps off what is beside it, as far as there is room."""
    points = _dense(route)
    far = half + _NEAR
    beside = [one for one in beside if _away(points, one)[0].min() < far]
    bounds = [(one.min(axis=0) - half, one.max(axis=0) + half) for one in beside]
    for turn in range(_TURNS + _LAST):
        push = np.zeros_like(points)
        for outline, (low, high) in zip(beside, bounds, strict=True):
            near = ((points > low) & (points < high)).all(axis=1).nonzero()[0]
            if not len(near):
                continue
            away, nearest = _away(points[near], outline)
            hit = (away < half) & (away > 0)
            by = (half - away[hit]) / away[hit]
            push[near[hit]] += (points[near[hit]] - nearest[hit]) * by[:, None]
        push /= 2
        size = np.maximum(np.hypot(*push.T), _MOST)
        points = points + push * (_MOST / size)[:, None]
        if turn < _TURNS:
            pull = (points[:-2] + points[2:]) / 2 - points[1:-1]
            points[1:-1] += _PULL * pull
    return _fewer(points)


def _dense(route: Points) -> Points:
    """Return a route with points close to one another."""
    found = [route[:1]]
    for one, after in pairwise(route):
        count = math.ceil(math.dist(one, after) / _STEP)
        shares = np.arange(1, count + 1)[:, None] / max(count, 1)
        found.append(one + (after - one) * shares)
    return np.concatenate(found)


def _away(points: Points, outline: Points) -> tuple[Points, Points]:
    """Return how far points are from a surface's edge, and the nearest points on it."""
    step = shifted(outline) - outline
    size = np.maximum((step**2).sum(axis=1), 1e-18)
    off = points[:, None] - outline[None]
    share = np.clip((off * step).sum(axis=2) / size, 0.0, 1.0)
    on = outline + share[..., None] * step
    away = np.hypot(*np.moveaxis(points[:, None] - on, -1, 0))
    best = away.argmin(axis=1)
    rows = np.arange(len(points))
    return away[rows, best], on[rows, best]


def _fewer(points: Points) -> Points:
    """Return a route of the fewest points that runs nearly where it ran."""
    if len(points) <= 2:  # noqa: PLR2004 - both ends
        return points
    start, end = points[0], points[-1]
    step = end - start
    size = max(float(step @ step), 1e-18)
    share = np.clip((points - start) @ step / size, 0.0, 1.0)
    away = np.hypot(*(points - start - share[:, None] * step).T)
    far = int(away.argmax())
    if away[far] <= _STRAIGHT:
        return np.array([start, end])
    return np.concatenate([_fewer(points[: far + 1])[:-1], _fewer(points[far:])])
