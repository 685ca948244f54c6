"""Where the middle of a person of a width can be, and how it is routed through."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, Literal, TypeAlias, TypeVar

import numpy as np

from model3d.geometry.plan import flat
from model3d.geometry.plan.grown import convex_parts, grown, grown_each, rim, sides
from model3d.geometry.plan.mitred import mitred
from model3d.geometry.plan.union import less
from model3d.geometry.plan.way.route import Net
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    Lines = NDArray[np.object_]

_FEW: Final = 4
"""Sides of a quarter of a round where corners are cut."""

_RADII: Final = 16
"""Radii that are remembered, those asked about last. What is asked for is asked at
every item, and stays; how wide each way is differs, and is asked no more afterwards."""

_PIECES: Final = 256
"""Pieces about obstacles that are remembered for one radius, the latest ones: whoever
asks stands near to who asked last, and in a large hall all of them are very much."""

_DIGITS: Final = 5
"""Of metres: ways that differ by less in width are drawn alike."""

Corners: TypeAlias = Literal["pointed", "cut", "round"]
_Found = TypeVar("_Found")


@dataclass(frozen=True, eq=False)
class Middles:
    """Where the middle of a person can be on one floor.

    Attributes:
        region: The floor with nothing on it.
        plans: What stands on it; where there is a floor below, what does besides.
        goals: Who stands there is outside.
        below: The same of the floor with less on it.
    """

    region: flat.Geometry
    plans: tuple[flat.Geometry, ...]
    goals: tuple[flat.Geometry, ...]
    below: Middles | None
    _shrunk: dict[tuple[float, Corners], flat.Geometry] = field(
        default_factory=dict, repr=False
    )
    _grown: dict[float, dict[int, list[flat.Geometry]]] = field(
        default_factory=dict, repr=False
    )
    _edges: dict[float, Lines] = field(default_factory=dict, repr=False)
    _nets: dict[tuple[float, Corners, float], tuple[Net, ...]] = field(
        default_factory=dict, repr=False
    )

    @property
    def _lower(self) -> int:
        """How many plans stand on the floors below."""
        return 0 if self.below is None else self.below.count

    @property
    def count(self) -> int:
        """How many plans stand on the floor, those of the floors below first."""
        return self._lower + len(self.plans)

    def shrunk(self, width: float, corners: Corners = "round") -> flat.Geometry:
        """Return the floor less half a width around everything.

        Args:
            width: Metres.
            corners: How it goes round corners. Pointed and cut corners take a little
                more away than round ones and have few points.
        """
        key = (width, corners)
        if key not in self._shrunk:
            whole = self.region
            if self.below is not None:
                whole = self.below.shrunk(width, corners)
            self._shrunk[key] = less(whole, self._taken(width / 2, corners))
        return self._shrunk[key]

    def nets(self, width: float, corners: Corners) -> tuple[Net, ...]:
        """Return the places of a person of a width, each ready to be routed through.

        Only those that have an exit.
        """
        key = (width, corners, 0.0)
        if key not in self._nets:
            self._nets[key] = self._netted(self.shrunk(width, corners))
        return self._nets[key]

    def barred_nets(
        self, width: float, corners: Corners, least: float, barred: Lines
    ) -> tuple[Net, ...]:
        """Return the same, with lines across the floor that nobody crosses.

        Args:
            width: Metres.
            corners: How it goes round corners.
            least: The width of a way to which all that is narrower is barred, metres.
            barred: The lines.
        """
        key = (width, corners, round(least, _DIGITS))
        if key not in self._nets:
            bars = flat.buffer(barred, TOUCH / 2, cap_style="flat").tolist()
            self._nets[key] = self._netted(less(self.shrunk(width, corners), bars))
        return self._nets[key]

    def _netted(self, places: flat.Geometry) -> tuple[Net, ...]:
        found = []
        for one in flat.get_parts(places):
            goals = [one.intersection(goal) for goal in self.goals]
            reached = tuple(goal for goal in goals if not goal.is_empty)
            if one.area > 0 and reached:
                found.append(Net(one, reached))
        return tuple(found)

    def about(self, numbers: Sequence[int], radius: float) -> list[flat.Geometry]:
        """Return what a person's middle must keep off about some of the obstacles."""
        pieces = self.about_each(numbers, radius)
        return [piece for number in numbers for piece in pieces[number]]

    def about_each(
        self, numbers: Sequence[int], radius: float
    ) -> dict[int, list[flat.Geometry]]:
        """Return the same by number."""
        lower = self._lower
        under = [one for one in numbers if one < lower]
        found = self.below.about_each(under, radius) if under and self.below else {}
        known = _lately(self._grown, radius, dict)
        new = [one for one in numbers if one >= lower and one not in known]
        if new:
            shapes = np.array([self.plans[one - lower] for one in new], dtype=object)
            around = grown_each(shapes, np.full(len(shapes), radius))
            known.update(zip(new, around, strict=True))
        found = found | {one: known[one] for one in numbers if one >= lower}
        for one in [*known][: max(len(known) - _PIECES, 0)]:
            del known[one]
        return found

    def edge(self, radius: float) -> Lines:
        """Return what a person's middle must keep off beside the edge of the region."""
        if self.below is not None:
            return self.below.edge(radius)
        return _lately(self._edges, radius, lambda: self._rim(radius))

    def _rim(self, radius: float) -> Lines:
        return np.array(rim(self.region, radius), dtype=object)

    def _taken(self, radius: float, corners: Corners) -> list[flat.Geometry]:
        """Return what a person's middle must keep off, of what stands on this floor."""
        if corners == "round":
            edge = [] if self.below else self.edge(radius).tolist()
            return [*edge, *grown(list(self.plans), radius)]
        shapes = [] if self.below else sides(self.region)
        for one in self.plans:
            shapes += dict.fromkeys((one, *convex_parts(one)))
        if corners == "pointed":
            return list(mitred(shapes, radius, cap_style="square"))
        outer = radius / math.cos(math.pi / 4 / _FEW)
        return list(flat.buffer(shapes, outer, quad_segs=_FEW))


def _lately(
    known: dict[float, _Found], radius: float, work: Callable[[], _Found]
) -> _Found:
    """Return what is known of a radius; it is the last to be forgotten then."""
    found = known.pop(radius) if radius in known else work()
    if len(known) >= _RADII:
        del known[next(iter(known))]
    known[radius] = found
    return found
