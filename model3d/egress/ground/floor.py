"""The free floor of a room at one height, and who can stand where on it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import left_over
from model3d.egress.doors.own_leaf import is_taken
from model3d.egress.ground.middles import Middles
from model3d.egress.ground.necks.bodies import Bodies
from model3d.geometry.plan import flat
from model3d.geometry.plan.union import less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

    from model3d.egress.doors.exits import Exit, Plan
    from model3d.egress.ground.necks.necks import Necks

_SLIVER: Final = 1e-8
"""Square metres. What is smaller is rounding."""

_SPLINTER: Final = 1e-18
"""Square metres. A nanometre each way: what rounding leaves at a corner. Nobody
stands there, or leaves it."""

CONTACT: Final = 2 * TOUCH
"""Metres. A person may touch on both sides: a way narrower by this still counts."""


@dataclass(frozen=True, slots=True)
class FloorPart:
    """A connected place for the middle of a person of one width.

    Attributes:
        place: Where the middle may be.
        exits: The exits that are reached from there.
    """

    place: flat.Polygon
    exits: tuple[Exit, ...]


@dataclass(frozen=True, eq=False)
class Floor:
    """The free floor of a room, for all that stand up to one height.

    Attributes:
        region: The room with the passages of its exits.
        exits: The exits that are high enough.
        walls: The room's walls by name, as lines without their openings.
        added: What stands on it, by name, as polygons in plan; where there is a floor
            below, what stands on this one besides.
        below: The same floor with less on it.
        hopeful: Of the ways in which a door may hang the best one counts; else it must
            do whichever way it hangs.
    """

    region: flat.Geometry
    exits: tuple[Exit, ...]
    walls: tuple[Plan, ...]
    added: tuple[Plan, ...]
    below: Floor | None = None
    hopeful: bool = False
    _parts: dict[float, tuple[FloorPart, ...]] = field(default_factory=dict, repr=False)
    _past: dict[tuple[str, int, float], Floor] = field(default_factory=dict, repr=False)

    def with_obstacles(self, more: Iterable[Plan]) -> Floor:
        """Return the floor with more standing on it."""
        added = _flat(more)
        if not added:
            return self
        return self._with(added, self.exits)

    def _with(self, added: tuple[Plan, ...], exits: tuple[Exit, ...]) -> Floor:
        # Nobody leaves by a door that is none of the exits: it is a piece of wall.
        kept = {one.id for one in exits}
        shut = [
            (one.id, one.gap.buffer(TOUCH / 2, cap_style="flat"))
            for one in self.exits
            if one.id not in kept and one.gap is not None
        ]
        standing = (*added, *_flat(shut))
        return Floor(self.region, exits, self.walls, standing, self, self.hopeful)

    def with_exits(self, exits: tuple[Exit, ...]) -> Floor:
        """Return the floor with the same exits, whose leaves open otherwise."""
        return self if exits == self.exits else self._with((), exits)

    @cached_property
    def as_hoped(self) -> Floor:
        """The floor where every door hangs in the best way that is possible."""
        return Floor(self.region, self.exits, self.walls, (), self, hopeful=True)

    @cached_property
    def swinging(self) -> tuple[Exit, ...]:
        """The exits whose own leaf may be in the way to them.

        What takes something on the floor below does so on this one.
        """
        below = self.below
        known = () if below is None else below.exits
        taken = () if below is None else below.swinging
        added = flat.STRtree([plan for _, plan in self._flat])
        return tuple(
            one
            for one in self.exits
            if one in taken
            or any(
                is_taken(one, hanging, added, ())
                if one in known
                else is_taken(one, hanging, self.tree, self.walls)
                for hanging in one.hangings
            )
        )

    @cached_property
    def plain(self) -> Floor:
        """The floor with those exits only whose own leaf is in nobody's way."""
        kept = tuple(one for one in self.exits if one not in self.swinging)
        return self._with((), kept) if self.swinging else self

    def past(self, way_out: Exit, number: int, angle: float) -> Floor:
        """Return the floor for somebody who leaves by one door.

        Args:
            way_out: The door.
            number: Which of the ways in which it may hang.
            angle: To which it is held open, degrees.
        """
        key = (way_out.id, number, angle)
        if key not in self._past:
            hanging = way_out.hangings[number]
            added = _flat(left_over(way_out, hanging, angle))
            alone = replace(way_out, width=hanging.clear, hangings=())
            self._past[key] = self._with(added, (alone,))
        return self._past[key]

    def _leads(self, way_out: Exit, area: flat.Geometry, width: float) -> bool:
        """Tell whether somebody comes past a door's own leaf, out of a free area."""
        found = (
            any(
                part.exits
                for angle in (*hanging.usual(width), *hanging.between(width))
                for _, part in self.past(way_out, number, angle).places(area, width)
            )
            for number, hanging in enumerate(way_out.hangings)
        )
        return any(found) if self.hopeful else all(found)

    @cached_property
    def obstacles(self) -> tuple[Plan, ...]:
        """All that stands on it, one polygon each."""
        return (*(self.below.obstacles if self.below else ()), *self._flat)

    @cached_property
    def _flat(self) -> tuple[Plan, ...]:
        return _flat(self.added)

    @cached_property
    def middles(self) -> Middles:
        """Where the middle of a person can be."""
        plans = tuple(plan for _, plan in self._flat)
        goals = tuple(one.goal for one in self.exits)
        below = None if self.below is None else self.below.middles
        return Middles(self.region, plans, goals, below)

    @cached_property
    def tree(self) -> flat.STRtree:
        """The obstacles' shapes, to be found by where they are."""
        if self.below is not None and not self._flat:
            return self.below.tree
        return flat.STRtree([plan for _, plan in self.obstacles])

    @cached_property
    def bodies(self) -> Bodies:
        """All that is in the way, in convex parts."""
        below = None if self.below is None else self.below.bodies
        return Bodies(self._flat, self.walls, below)

    @property
    def features(self) -> tuple[list[str], NDArray[np.object_], flat.STRtree]:
        """Names and shapes of those parts, walls last, and their tree."""
        return self.bodies.features

    @property
    def necks(self) -> Necks:
        """The narrow places between them."""
        return self.bodies.necks

    def free(self, area: flat.Geometry, but: Collection[str] = ()) -> flat.Geometry:
        """Return what is free of an area, some named things aside."""
        near = self.tree.query(area, predicate="intersects").tolist()
        found = (self.obstacles[number] for number in near)
        taken = [plan for name, plan in found if name not in but]
        return less(area.intersection(self.region), taken)

    def is_clear(self, way: flat.Geometry, width: float) -> bool:
        """Tell whether a way, a line or a convex area, is clear to a width."""
        swept = way.buffer(width / 2)
        return bool(swept.area - self.free(swept).area <= _SLIVER)

    def parts(self, width: float) -> tuple[FloorPart, ...]:
        """Return where the middle of a person of a width can be, in connected parts.

        Args:
            width: Metres. Whoever touches something stands clear of it: pass a little
                less than the width, by ``CONTACT``, to let contact be.
        """
        if width not in self._parts:
            places = [
                p for p in flat.get_parts(self.middles.shrunk(width)) if p.area > 0
            ]
            flat.prepare(places)
            self._parts[width] = tuple(
                FloorPart(one, tuple(e for e in self.exits if one.intersects(e.goal)))
                for one in places
            )
        return self._parts[width]

    def has_room(self, spots: Points, width: float) -> NDArray[np.bool_]:
        """Tell at which points the middle of a person of a width can be.

        Args:
            spots: Shape (n, 2).
            width: Metres.
        """
        points, radius = flat.points(spots), width / 2
        found = flat.intersects(self.region, points)
        found[self.tree.query(points, predicate="dwithin", distance=radius)[0]] = False
        edge = self.middles.edge(radius)
        beside = flat.intersects(edge[:, None], points).any(axis=0)
        return np.asarray(found & ~beside)

    def pieces(self, area: flat.Geometry, width: float) -> list[flat.Polygon]:
        """Return where in an area the middle of a person can be, in connected pieces.

        Args:
            area: Free floor.
            width: Metres, as in ``parts``.
        """
        radius = width / 2
        near = self.tree.query(area, predicate="dwithin", distance=radius)
        taken = self.middles.about(near.tolist(), radius)
        edge = self.middles.edge(radius)
        taken += edge[flat.intersects(edge, area)].tolist()
        found = flat.get_parts(less(area, taken))
        return found[self.is_place(found, radius)].tolist()  # type: ignore[no-any-return]

    def is_place(
        self, pieces: NDArray[np.object_], radius: float | NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Tell which pieces of free floor are more than rounding, and within the room.

        Rounding may leave a sliver of an area beyond a wall that runs through it, where
        nothing is about a person.
        """
        inner = flat.point_on_surface(pieces)
        beside = flat.dwithin(self.edge, inner, radius / 2)
        within = flat.intersects(self.region, inner) & ~beside
        return np.asarray((flat.area(pieces) > _SPLINTER) & within)

    @cached_property
    def edge(self) -> flat.Geometry:
        """The edge of the region, as lines."""
        if self.below is not None:
            return self.below.edge
        found = self.region.boundary
        flat.prepare(found)
        return found

    def places(
        self, area: flat.Geometry, width: float
    ) -> list[tuple[flat.Polygon, FloorPart]]:
        """Return where in an area the middle of a person can be, each with its part.

        Args:
            area: Free floor.
            width: Metres, as in ``parts``.
        """
        found = []
        for piece in self.pieces(area, width):
            inner = piece.representative_point()
            found += [
                (piece, self._without_shut(piece, part, width))
                for part in self.parts(width)
                if part.place.contains(inner)
            ]
        return found

    def _without_shut(
        self, piece: flat.Geometry, part: FloorPart, width: float
    ) -> FloorPart:
        """Return a part without the exits whose own leaf keeps a person from them."""
        shut = [
            one
            for one in self.swinging
            if one in part.exits and not self._leads(one, piece, width)
        ]
        if not shut:
            return part
        return FloorPart(
            part.place, tuple(one for one in part.exits if one not in shut)
        )


def _flat(plans: Iterable[Plan]) -> tuple[Plan, ...]:
    """Return plans with one polygon each."""
    given = [*plans]
    shapes = np.array([plan for _, plan in given], dtype=object)
    parts, of = flat.get_parts(shapes, return_index=True)
    kept = flat.area(parts) > 0
    found = []
    for number, part in zip(of[kept].tolist(), parts[kept].tolist(), strict=True):
        name, plan = given[number]
        # What is one polygon stays the very same, which is quickly told.
        found.append((name, plan if isinstance(plan, flat.Polygon) else part))
    return tuple(found)
