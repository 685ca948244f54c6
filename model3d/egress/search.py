"""Find the way out: to which exit, along which points, how wide, where narrowest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import shapely

from model3d.egress.exits import BODY, WIDEST
from model3d.egress.floor import CONTACT
from model3d.egress.funnel import fewer
from model3d.egress.neck import Neck, neck_of
from model3d.results import Way

if TYPE_CHECKING:
    from model3d.egress.floor import Corners, Floor
    from model3d.egress.funnel import Corner

_FINE: Final = 1e-4
"""Metres. How closely a width is searched: no drawing is finer than that."""


@dataclass(frozen=True, slots=True)
class Path:
    """A way out with what is narrowest on it.

    Attributes:
        way: Its points, where it leads and how wide it is.
        neck: Where it is narrowest, and beside what.
    """

    way: Way
    neck: Neck

    @property
    def drawn(self) -> Way | None:
        """The way, if its points are known."""
        return self.way if self.way.points else None


def passes(floor: Floor, area: shapely.Geometry, width: float) -> bool:
    """Tell whether a person of a width comes from somewhere in an area to an exit."""
    return any(part.exits for _, part in floor.places(area, width))


def way_out(
    floor: Floor, area: shapely.Geometry, hint: Corner, width: float
) -> Path | None:
    """Find a short way of at least a width from an area; None where there is none.

    Args:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        width: Metres.
    """
    clear = width - CONTACT
    return _path(floor, area, hint, clear) if passes(floor, area, clear) else None


def widest_way(
    floor: Floor, area: shapely.Geometry, hint: Corner, least: float = BODY
) -> Path | None:
    """Find the widest way from an area to any exit; None where there is none.

    Somebody slender goes first; the narrowest place of that way is then too narrow for
    the next one, and so on until nobody comes through.

    Args:
        floor: The free floor.
        area: Free floor where the way begins: anywhere in it.
        hint: Where in the area, as near as may be.
        least: What is narrower is no way, metres.
    """
    best, width = 0.0, least
    while passes(floor, area, width):
        path = _path(floor, area, hint, width)
        found = path.neck.width
        if not passes(floor, area, found - CONTACT):
            # It is narrow where the person stands at first.
            return _narrow_stand(floor, area, path, width)
        if found >= WIDEST or found <= best:
            break
        best, width = found, found + CONTACT
    if not best:
        return None
    return _path(floor, area, hint, best - CONTACT)


def _narrow_stand(
    floor: Floor, area: shapely.Geometry, path: Path, width: float
) -> Path:
    low, high = width, path.neck.width
    while high - low > _FINE:
        middle = (low + high) / 2
        if passes(floor, area, middle):
            low = middle
        else:
            high = middle
    return _path(
        floor, area, path.way.points[0], low, Neck(low, path.way.points[0], ())
    )


def _path(
    floor: Floor,
    area: shapely.Geometry,
    hint: Corner,
    width: float,
    neck: Neck | None = None,
) -> Path:
    """Return the way of a person of a width, who is known to come through."""
    points = _points(floor, area, hint, width)
    if not points:
        # Rounding: it is there, but could not be drawn.
        out = next(e for _, part in floor.places(area, width) for e in part.exits)
        return Path(Way(out.id, (), width, hint), Neck(width, hint, ()))
    spot = shapely.Point(points[-1])
    wide = [one for one in floor.exits if one.width >= width]
    exit_ = min(wide, key=lambda one: one.goal.distance(spot))
    neck = neck or neck_of(floor, points, width, exit_)
    at = neck.at if neck.between else points[0]
    return Path(Way(exit_.id, points, neck.width, at), neck)


def _points(
    floor: Floor, area: shapely.Geometry, hint: Corner, width: float
) -> tuple[Corner, ...]:
    """Return the points of a way that a person of a width can go.

    Corners are gone round with a little more room than needed, so that there are few
    points; as near as can be where that leaves no way. Empty where rounding bars even
    that.
    """
    styles: tuple[Corners, ...] = ("pointed", "cut", "round")
    for corners in styles:
        for net in floor.nets(width, corners):
            starts = net.plan.intersection(area)
            if not starts.is_empty:
                line = shapely.shortest_line(starts, shapely.Point(hint))
                x, y = line.coords[0]
                points = net.route((float(x), float(y)))
                if points:
                    return points if corners == "pointed" else fewer(points, net.plan)
    return ()
