"""The roomiest place of an item, proved by a check of the whole scene."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import flat
from model3d.geometry.plan.faces import roomiest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.map.free import Free
    from model3d.mending.map.places import Places
    from model3d.scene.parts.placement import At, AtWall
    from model3d.scene.scene import Scene

STEPS: Final = {"mm": 0.01, "m": 0.01, "in": 0.0127, "ft": 0.0127}
"""Metres. What a fitter can work to: 10 mm, or half an inch."""
_MOST: Final = 12
"""So many places are checked before it is said that none was found."""


@dataclass(frozen=True, slots=True)
class Best:
    """The roomiest place that a check of the whole scene keeps.

    Attributes:
        place: As it would be written.
        margin: How far it may be moved any way before it is free no more, metres.
        doubts: What is open there and is not without the item.
    """

    place: At | AtWall
    margin: float
    doubts: tuple[Judgement, ...]


def best_place(places: Places) -> tuple[Best | None, tuple[Judgement, ...]]:
    """Return the roomiest place, and what a check finds at roomier ones.

    A place before a room door is offered last.
    """
    spots = [spot for one in places.maps for spot in _spots(one)]
    spots.sort(key=lambda s: (s.at_door, -round(s.margin, 4)))
    found: dict[tuple[str, str], Judgement] = {}
    for spot in spots[:_MOST]:
        place = spot.free.stance.place(spot.by)
        report = spot.free.probe.report(place)
        broken = spot.free.probe.breaches(report)
        if not broken:
            doubts = tuple(spot.free.probe.doubts(report))
            return Best(place, spot.margin, doubts), tuple(found.values())
        for judged in broken:
            found.setdefault((judged.requirement, judged.subject), judged)
    return None, tuple(found.values())


@dataclass(frozen=True, slots=True)
class _Spot:
    """A place to be checked.

    Attributes:
        free: The map it is of.
        by: Its displacement.
        margin: How far it may be moved, metres.
        at_door: It is before the opening of a room door.
    """

    free: Free
    by: Corner
    margin: float
    at_door: bool


def _spots(free: Free) -> Iterator[_Spot]:
    step = STEPS[free.stance.size.units]
    if free.stance.on_wall:
        openings = _openings(free)
        for low, high in free.intervals:
            cuts = sorted({low, high, *(e for e in openings if low < e < high)})
            cells = list(pairwise(cuts)) or [(low, low)]
            for a, b in cells:
                middle = (a + b) / 2
                away = _on_step(middle, a, b, step)
                margin = min(away - low, high - away)
                yield _Spot(free, free.at(away), margin, _is_at_door(free, middle))
        return
    x, y = free.stance.middle
    for part in flat.get_parts(free.area):
        if part.area <= 0:
            continue
        (dx, dy), margin = roomiest(part)
        near = round((x + dx) / step) * step - x, round((y + dy) / step) * step - y
        edge = part.boundary.distance(flat.Point(near))
        if part.contains(flat.Point(near)) and edge > margin / 2:
            (dx, dy), margin = near, edge
        yield _Spot(free, (dx, dy), margin, at_door=False)


def _on_step(middle: float, low: float, high: float, step: float) -> float:
    away = round(round(middle / step) * step, 9)
    return away if low <= away <= high else round(middle, 4)


def _doors(free: Free) -> list[tuple[float, float]]:
    """Return where the item would hang before a door of its wall."""
    scene: Scene = free.posed.situation.scene
    wall = free.stance.wall
    doors = scene.room.doors if scene.room and wall else ()
    width = free.stance.size.width
    return [
        (
            scene.metres(door.along) - width,
            scene.metres(door.along) + scene.metres(door.width),
        )
        for door in doors
        if wall and door.wall == wall.name
    ]


def _openings(free: Free) -> list[float]:
    return [end for pair in _doors(free) for end in pair]


def _is_at_door(free: Free, away: float) -> bool:
    return any(low < away < high for low, high in _doors(free))


def step_of(scene: Scene) -> float:
    """Return the step of a scene's own system, metres."""
    return STEPS[scene.units]
