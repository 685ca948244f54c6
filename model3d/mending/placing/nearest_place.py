"""The nearest places that an item may be moved to, from its map."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING, Final

from model3d.geometry.intervals import merged
from model3d.geometry.plan import flat, swept
from model3d.mending.map.bar import spans
from model3d.mending.map.places import around
from model3d.scene.parts.placement import StandsOn

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.map.free import Field, Free
    from model3d.mending.map.places import Around
    from model3d.mending.proof.remedy import Bench

_SAME: Final = 1e-6
"""Metres. Nearer is where it stands already."""
_REACH: Final = 3.0
"""Metres. No remedy moves a thing further, but along its wall."""
_STANDS_OFF: Final = 0.3
"""Metres. No further from its wall a thing is hung, on framing (common practice)."""
_TRIED: Final = 3
"""So many places of each kind are offered to be proved."""


def nearest(bench: Bench, name: str, judged: Judgement) -> Iterator[Corner]:
    """Yield displacements of an item to free places, the nearest of each kind first.

    Along its wall, ahead of it and behind; on the floor; of a run anywhere in plan.
    What is not met now and is not what is to be cured bars nothing: a remedy of one
    breach need not cure the others.

    Args:
        bench: The scene.
        name: Id of the item that is moved.
        judged: What is to be cured.
    """
    found, ignored = _around(bench, name), _ignored(bench, judged)
    if found.free is None:
        yield from _in_plan(found.field, ignored, bench.step, _axes(bench, judged))
        return
    free = replace(found.free, ignored=ignored)
    if not free.stance.on_wall:
        yield from _on_floor(free, bench.step)
        return
    yield from _on_wall(free, found.here, bench.step)
    (x, y), bars = free.stance.out, _counted(found.field, ignored)
    item = next(one for one in bench.scene.items if one.id == name)
    hangs = free.stance.size.bottom > _SAME and not isinstance(item.place, StandsOn)
    most = max(_STANDS_OFF - free.stance.size.gap, 0.0) if hangs else _REACH
    yield from _straight(bars, found.here, (x, y), bench.step, most)
    yield from _straight(bars, found.here, (-x, -y), bench.step)


def room_one_way(bench: Bench, name: str, judged: Judgement, way: Corner) -> float:
    """Return how far a thing may go one way and bar nothing, by whole steps, metres.

    Args:
        bench: The scene.
        name: Id of the item that is moved.
        judged: What is to be cured; the ways out are no part of a map.
        way: A unit vector.
    """
    found = _around(bench, name)
    bars = _counted(found.field, _ignored(bench, judged))[-1]
    within = found.field.within
    outside = [flat.box(*within.buffer(_REACH).bounds) - within] if within.area else []
    ahead = _barred([*bars, *outside], found.here, way)
    end = max(ahead[0][0], 0.0) if ahead else _REACH
    return math.floor(end / bench.step + _SAME) * bench.step


def _around(bench: Bench, name: str) -> Around:
    if name not in bench.maps:
        bench.maps[name] = around(bench.situation, name, _REACH, bench.effort)
    found: Around = bench.maps[name]
    return found


def _ignored(bench: Bench, judged: Judgement) -> frozenset[tuple[str, str]]:
    cured = judged.requirement, _IS_IN.get(judged.requirement)
    return bench.broken - {(name, judged.subject) for name in cured if name}


_IS_IN: Final = {"storage": "working-space"}
"""What is judged of the space of another requirement, and is told by its bars."""


def _counted(
    field: Field, ignored: frozenset[tuple[str, str]]
) -> list[list[flat.Geometry]]:
    """Return what bars for certain, and the same with what is only asked about."""
    sure = [b.plan for b in field.bars if b.sure == "barred" and b.key not in ignored]
    asked = [b.plan for b in field.bars if b.sure == "asked" and b.key not in ignored]
    return [sure, sure + asked] if asked else [sure]


def _axes(bench: Bench, judged: Judgement) -> list[Corner]:
    """Return the ways in which a run is moved: the compass, and the gear's own axes."""
    ways: list[Corner] = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]
    subject = bench.situation.arrangement.items.get(judged.subject)
    if subject is not None and subject.front is not None:
        right, out = subject.front.frame.right, subject.front.frame.out
        if min(abs(right[0]), abs(right[1])) > _SAME:
            ways += [right, out, (-right[0], -right[1]), (-out[0], -out[1])]
    return ways


def _in_plan(
    field: Field,
    ignored: frozenset[tuple[str, str]],
    step: float,
    axes: list[Corner],
) -> Iterator[Corner]:
    """Yield moves of what has no front: the shortest, and the shortest of each way."""
    here = flat.Point(0.0, 0.0)
    counted = _counted(field, ignored)
    for way in axes:
        yield from _straight(counted, (0.0, 0.0), way, step)
    for bars in counted:
        for part in flat.get_parts(swept.taken(field.within, bars)):
            if part.area > 0:
                _, end = flat.get_coordinates(flat.shortest_line(here, part))
                to = float(end[0]), float(end[1])
                if math.hypot(*to) > _SAME:
                    yield from _rounded(to, part, _COMPASS, step)[:1]


_COMPASS: Final = ((1.0, 0.0), (0.0, 1.0))


def _straight(
    counted: list[list[flat.Geometry]],
    start: Corner,
    way: Corner,
    step: float,
    most: float = _REACH,
) -> Iterator[Corner]:
    """Yield the shortest moves one way that end in what is free, by whole steps."""
    x, y = way
    told: set[int] = set()
    for bars in counted:
        count = 1
        for low, high in _barred(bars, start, way):
            if low < count * step - _SAME:
                count = max(count, math.ceil(high / step - _SAME))
        if count * step < most + _SAME and count not in told:
            told.add(count)
            yield count * step * x, count * step * y


def _barred(
    bars: list[flat.Geometry], start: Corner, way: Corner
) -> list[tuple[float, float]]:
    """Return what is barred of a way, as distances from its start, rising."""
    x, y = way
    ray = flat.LineString([start, (start[0] + x * _REACH, start[1] + y * _REACH)])
    return merged(spans(ray, bars, way, _SAME))


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
    axes = free.posed.front.frame.right, free.stance.out
    found: list[Corner] = []
    for part in flat.get_parts(area):
        if part.area > 0:
            (_, end) = flat.get_coordinates(flat.shortest_line(here, part))
            found += _rounded((float(end[0]), float(end[1])), part, axes, step)[:1]
    found.sort(key=lambda by: (round(math.hypot(*by), 9), by))
    yield from found[:_TRIED]
    right, out = axes
    for x, y in (right, out, (-right[0], -right[1]), (-out[0], -out[1])):
        line = flat.LineString([(0.0, 0.0), (x * _FAR, y * _FAR)])
        cut = flat.intersection(line, area)
        if not cut.is_empty:
            away = math.ceil(cut.distance(here) / step - _SAME) * step
            by = away * x, away * y
            if away > _SAME and area.buffer(_SAME).contains(flat.Point(by)):
                yield by


_FAR: Final = 100.0


def _rounded(
    to: Corner, part: flat.Geometry, axes: tuple[Corner, Corner], step: float
) -> list[Corner]:
    """Return moves by whole steps along two axes that end in an area."""
    right, out = axes
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
