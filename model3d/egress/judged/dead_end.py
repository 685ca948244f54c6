"""How far somebody gets where no way leads out: to be drawn, for people to see."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.floor import CONTACT
from model3d.egress.shut import LOWEST
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from model3d.geometry.plan.way.route import Net
from model3d.geometry.plan.way.string import fewer
from model3d.judging.results import Way

if TYPE_CHECKING:
    from model3d.egress.doors.exits import Exit
    from model3d.egress.ground.stand import Stand
    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation

_NEAR: Final = 1e-3
"""Metres about the last point that count as having come there."""


def dead_end(stand: Stand, situation: Situation) -> Way | None:
    """Return the way from a working space as near to an exit as somebody gets.

    Somebody as slight and as stooped as anybody who counts, on the floor and on steps,
    with equipment doors shut. None where nobody can stand there, or there is no exit.
    """
    ways = ways_of(situation)
    floor = ways.floor(LOWEST)
    standing = ways.standing(stand, floor)
    best: tuple[float, Exit, flat.Polygon, flat.Polygon] | None = None
    for piece, part in floor.places(standing, BODY - CONTACT):
        for one in floor.exits:
            far = float(flat.distance(part.place, one.goal))
            if best is None or far < best[0]:
                best = far, one, piece, part.place
    if best is None:
        return None
    _, way_out, piece, place = best
    points = _route(place, piece, way_out.goal, stand.middle)
    if not points:
        return None
    return Way(way_out.id, points, BODY, points[-1])


def _route(
    place: flat.Polygon, piece: flat.Polygon, goal: flat.Geometry, hint: Corner
) -> tuple[Corner, ...]:
    """Return the points of a way through a place to where it is nearest to a goal."""
    nearest = flat.shortest_line(place, goal)
    end = flat.Point(flat.get_coordinates(nearest)[0])
    net = Net(place, (place.intersection(end.buffer(_NEAR)),))
    start = net.nearest(piece, hint)
    points = () if start is None else next(net.routes(start), ())
    return fewer(points, place) if points else ()
