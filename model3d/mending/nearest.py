"""The nearest places that an item may be moved to, from its map."""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import flat
from model3d.mending.places import PlaceError, movable, own_map

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.free import Free
    from model3d.mending.remedy import Bench

_SAME: Final = 1e-6
"""Metres. Nearer is where it stands already."""
_TRIED: Final = 3
"""So many places of each kind are offered to be proved."""


def nearest(bench: Bench, name: str, judged: Judgement) -> Iterator[Corner]:
    """Yield displacements of an item to free places, the nearest first.

    What is not met now and is not what is to be cured bars nothing: a remedy of one
    breach need not cure the others.

    Args:
        bench: The scene.
        name: Id of the item that is moved.
        judged: What is to be cured.
    """
    cured = judged.requirement, judged.subject
    ignored = bench.broken - {cured}
    key = name, ignored
    if key not in bench.maps:
        try:
            movable(bench.scene, name)
            bench.maps[key] = own_map(bench.scene, name, ignored)
        except PlaceError:
            bench.maps[key] = None
    found: tuple[Free, Corner] | None = bench.maps[key]
    if found is None:
        return
    free, here = found
    yield from (
        _on_wall(free, here, bench.step)
        if free.stance.on_wall
        else _on_floor(free, bench.step)
    )


def _on_wall(free: Free, here: Corner, step: float) -> Iterator[Corner]:
    """Yield moves along the wall, rounded so that they end in what is free."""
    dx, dy = free.stance.along
    at = here[0] * dx + here[1] * dy
    moves: list[float] = []
    for low, high in free.intervals:
        if low - _SAME <= at <= high + _SAME:
            moves += [0.0]
        elif high < at:
            away = math.ceil((at - high) / step - _SAME) * step
            moves += [-away if at - away >= low - _SAME else high - at]
        else:
            away = math.ceil((low - at) / step - _SAME) * step
            moves += [away if at + away <= high + _SAME else low - at]
    moves = [one for one in moves if abs(one) > _SAME]
    for away in sorted(moves, key=lambda one: (abs(one), one))[: 2 * _TRIED]:
        yield away * dx, away * dy


def _on_floor(free: Free, step: float) -> Iterator[Corner]:
    """Yield moves on the floor: the shortest, and the shortest along its axes."""
    area = free.area
    if area.is_empty:
        return
    here = flat.Point(0.0, 0.0)
    found: list[Corner] = []
    for part in flat.get_parts(area):
        if part.area > 0:
            (_, end) = flat.get_coordinates(flat.shortest_line(here, part))
            found += _rounded((float(end[0]), float(end[1])), part, free, step)[:1]
    found.sort(key=lambda by: (round(math.hypot(*by), 9), by))
    yield from found[:_TRIED]
    right, out = free.posed.front.frame.right, free.stance.out
    for x, y in (right, out, (-right[0], -right[1]), (-out[0], -out[1])):
        line = flat.LineString([(0.0, 0.0), (x * _FAR, y * _FAR)])
        cut = flat.intersection(line, area)
        if not cut.is_empty:
            away = math.ceil(cut.distance(here) / step - _SAME) * step
            by = away * x, away * y
            if away > _SAME and area.buffer(_SAME).contains(flat.Point(by)):
                yield by


_FAR: Final = 100.0


def _rounded(to: Corner, part: flat.Geometry, free: Free, step: float) -> list[Corner]:
    """Return moves by whole steps along an item's axes that end in an area."""
    right, out = free.posed.front.frame.right, free.stance.out
    across = to[0] * right[0] + to[1] * right[1]
    ahead = to[0] * out[0] + to[1] * out[1]
    near = [
        ((math.floor(across / step) + n) * step, (math.floor(ahead / step) + m) * step)
        for n, m in product(range(-1, 3), repeat=2)
    ]
    grown = part.buffer(_SAME)
    moves = [(a * right[0] + b * out[0], a * right[1] + b * out[1]) for a, b in near]
    kept = [by for by in moves if grown.contains(flat.Point(by))]
    # A slot may be narrower than a step.
    return sorted(kept, key=lambda by: (round(math.hypot(*by), 9), by)) or [to]
