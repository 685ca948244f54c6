"""The free floor of a room at one height, and who can stand where on it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import shapely

from model3d.egress.route import Net
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.egress.exits import Exit

_SAGITTA: Final = 2e-5
"""Metres. How far the sides of a many-sided round stay inside it."""

_FEW: Final = 4
"""Sides of a quarter of a round where corners are cut."""

CONTACT: Final = 2 * TOUCH
"""Metres. A person may touch on both sides: a way narrower by this much still counts."""

Corners: TypeAlias = Literal["pointed", "cut", "round"]

Plan: TypeAlias = "tuple[str, shapely.Geometry]"
"""Something on the floor: its name and its shape in plan."""


@dataclass(frozen=True, slots=True)
class Part:
    """A connected place for the middle of a person of one width.

    Attributes:
        place: Where the middle may be.
        exits: The exits that are reached from there.
    """

    place: shapely.Polygon
    exits: tuple[Exit, ...]


@dataclass(frozen=True, eq=False)
class Floor:
    """The free floor of a room, for all that stand up to one height.

    Attributes:
        region: The room with the passages of its exits.
        obstacles: What stands on it, by name, as polygons in plan.
        exits: The exits that are high enough.
        walls: The room's walls by name, as lines without their openings.
    """

    region: shapely.Geometry
    obstacles: tuple[Plan, ...]
    exits: tuple[Exit, ...]
    walls: tuple[Plan, ...] = ()
    _parts: dict[float, tuple[Part, ...]] = field(default_factory=dict, repr=False)
    _nets: dict[tuple[float, Corners], tuple[Net, ...]] = field(
        default_factory=dict, repr=False
    )

    def with_obstacles(self, more: Iterable[Plan]) -> Floor:
        """Return the floor with more standing on it."""
        return Floor(self.region, (*self.obstacles, *more), self.exits, self.walls)

    @cached_property
    def free(self) -> shapely.Geometry:
        """The floor itself, without what stands on it."""
        return self.region.difference(
            shapely.union_all([plan for _, plan in self.obstacles])
        )

    def parts(self, width: float) -> tuple[Part, ...]:
        """Return where the middle of a person of a width can be, in connected parts.

        Args:
            width: Metres. Whoever touches something stands clear of it: pass a little
                less than the width, by ``CONTACT``, to let contact be.
        """
        if width not in self._parts:
            self._parts[width] = self._found(self.shrunk(width))
        return self._parts[width]

    def shrunk(self, width: float, corners: Corners = "round") -> shapely.Geometry:
        """Return the floor less half a width around everything.

        Args:
            width: Metres.
            corners: How it goes round corners. Pointed and cut corners take a little
                more away than round ones and have few points.
        """
        radius, pieces = width / 2, self._pieces
        match corners:
            case "pointed":
                grown = shapely.buffer(
                    pieces, radius, cap_style="square", join_style="mitre"
                )
            case "cut":
                outer = radius / math.cos(math.pi / 4 / _FEW)
                grown = shapely.buffer(pieces, outer, quad_segs=_FEW)
            case "round":
                grown = shapely.buffer(pieces, radius, quad_segs=_segments(radius))
        return self.region.difference(shapely.union_all(grown))

    def reaching(self, area: shapely.Geometry, width: float) -> tuple[Part, ...]:
        """Return the parts that have an exit and some of an area."""
        return tuple(
            part
            for part in self.parts(width)
            if part.exits and part.place.intersects(area)
        )

    def nets(self, width: float, corners: Corners) -> tuple[Net, ...]:
        """Return the places of a person of a width, each ready to be routed through."""
        key = (width, corners)
        if key not in self._nets:
            place = self.shrunk(width, corners)
            self._nets[key] = tuple(
                Net(one) for one in shapely.get_parts(place) if one.area > 0.0
            )
        return self._nets[key]

    def _found(self, place: shapely.Geometry) -> tuple[Part, ...]:
        parts = [one for one in shapely.get_parts(place) if one.area > 0.0]
        shapely.prepare(parts)
        return tuple(
            Part(one, tuple(exit_ for exit_ in self.exits if _ends(one, exit_)))
            for one in parts
        )

    @cached_property
    def _pieces(self) -> list[shapely.Geometry]:
        """All that must be kept off, as pieces without hollows.

        Around a hollow an offset line is only nearly right, so a plan that has one is
        taken as its sides, and so is the edge of the room.
        """
        pieces: list[shapely.Geometry] = list(_sides(self.region))
        for _, plan in self.obstacles:
            for one in shapely.get_parts(plan):
                pieces.append(one)
                if one.convex_hull.area - one.area > _HOLLOW:
                    pieces += _sides(one)
        return pieces


_HOLLOW = 1e-9
"""Square metres. A plan that lacks less of its hull has no hollow."""


def _ends(place: shapely.Polygon, way_out: Exit) -> bool:
    return bool(place.intersects(way_out.goal))


def _sides(plan: shapely.Geometry) -> list[shapely.LineString]:
    sides = []
    for ring in shapely.get_parts(plan.boundary):
        points = shapely.get_coordinates(ring)
        sides += [shapely.LineString(points[n : n + 2]) for n in range(len(points) - 1)]
    return sides


def _segments(radius: float) -> int:
    """Return how many sides a quarter of a round needs, to be round enough."""
    if radius <= _SAGITTA:
        return 1
    return math.ceil(math.pi / 4 / math.acos(1 - _SAGITTA / radius))
