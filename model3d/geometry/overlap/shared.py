"""What a required space and a body share.

A body that is no closed volume never reaches the boolean engine, which answers wrongly
for such bodies, or crashes; its triangles are cut instead and no volume is known. A box
that stands square to the space is answered in closed form.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.bodies.clipping import cut
from model3d.geometry.bodies.extents import BoxView, bounds_of, turned_over
from model3d.geometry.bodies.solid import Mesh, boolean, drawn_boolean
from model3d.geometry.bodies.strips import ScanView
from model3d.geometry.bodies.thinned import thinned_surface
from model3d.geometry.bodies.upright import Column
from model3d.geometry.clouds.body import CloudView, dots, thinned
from model3d.geometry.overlap.square import square_part

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.extents import Extents, Seen
    from model3d.geometry.bodies.solid import Solid
    from model3d.geometry.frame import Frame, Triple
    from model3d.geometry.overlap.square import SharedPart

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Body:
    """What an upright space and a solid that reaches into it share.

    Each figure is worked out once it is asked for: many reports never tell a volume,
    nor draw a surface. The boolean runs in the frame: near its own origin the single
    precision of the engine is finer than any tolerance here.

    Attributes:
        frame: Of the space.
        space: In the frame.
        solid: Reaches into it.
        curved: The space does not fill the box about it.
    """

    frame: Frame
    space: Column
    solid: Solid
    curved: bool = False

    @property
    def volume(self) -> float | None:
        """Cubic metres; None where the solid has none, or passes through itself."""
        return self._part.volume if self._part is not None else self._made[0]

    @property
    def drawn_volume(self) -> float | None:
        """The same volume, for what only tells what is drawn from what is drawn."""
        return self._part.volume if self._part is not None else self._drawn[0]

    @property
    def low(self) -> Triple:
        """Lowest corner in the world, metres."""
        return self._bounds[0]

    @property
    def high(self) -> Triple:
        """Highest corner in the world, metres."""
        return self._bounds[1]

    def is_drawn_as(self, other: object) -> bool:
        """Tell whether another one is the same part of the very same solid."""
        if self is other:
            return True
        return (
            isinstance(other, Body)
            and self.solid is other.solid
            and (self.frame, self.curved) == (other.frame, other.curved)
            and (self.space.bottom, self.space.top)
            == (other.space.bottom, other.space.top)
            and np.array_equal(self.space.outline, other.space.outline)
        )

    @cached_property
    def corners(self) -> Points:
        """Points in the world that go as far as it does, shape (n, 3), metres."""
        if self._part is not None:
            return self.frame.world(self._part.corners)
        return self._made[1] if self.curved else self._cut

    @property
    def vertices(self) -> Points:
        """The corners of its surface in the world, to be drawn."""
        return self._drawn[1]

    @property
    def faces(self) -> Faces:
        """The faces of its surface, shape (m, 3), to be drawn."""
        return self._drawn[2]

    @cached_property
    def _bounds(self) -> Extents:
        # What was cut to the box about a round may reach beyond the round.
        if self.curved and self.volume is not None and len(self.corners):
            return bounds_of(self.corners)
        return bounds_of(self._cut)

    @cached_property
    def drawn_bounds(self) -> Extents:
        """The same lowest and highest corner, for what tells where it is drawn."""
        if not self.curved or self.drawn_volume is None:
            return bounds_of(self._cut)
        points = self.vertices if self._part is None else self.corners
        return bounds_of(points if len(points) else self._cut)

    @cached_property
    def _cut(self) -> Points:
        """Cut to the box about the space: exact, and of open bodies too."""
        return self.frame.world(self._view.points(*self.space.bounds))

    @cached_property
    def _part(self) -> SharedPart | None:
        view = self._view
        return square_part(self.space, view) if isinstance(view, BoxView) else None

    @cached_property
    def _drawn(self) -> tuple[float | None, Points, Faces]:
        """Its volume and its surface as it is drawn; it is judged by ``_made``."""
        view = self._view
        known = "_made" in self.__dict__
        if known or isinstance(view, CloudView) or not self.solid.measurable:
            return self._made
        size, vertices, faces = drawn_boolean(self.space.mesh, view.surface())
        return size, self.frame.world(vertices), turned_over(faces, self.frame)

    @cached_property
    def _made(self) -> tuple[float | None, Points, Faces]:
        """Its volume and its surface by trimesh; of what has no volume, by cutting."""
        view = self._view
        if isinstance(view, CloudView):
            vertices, faces = dots(thinned(view.points(*self.space.bounds)))
            return None, self.frame.world(vertices), turned_over(faces, self.frame)
        if isinstance(view, ScanView):
            pieces = view.pieces(*self.space.bounds).reshape(-1, 3)
            triangles = np.arange(len(pieces), dtype=np.int64).reshape(-1, 3)
            vertices, faces = thinned_surface(pieces, triangles)
            return None, self.frame.world(vertices), turned_over(faces, self.frame)
        points, triangles = view.surface()
        size: float | None = None
        if self.solid.measurable:
            size, vertices, faces = boolean(self.space.mesh, (points, triangles))
        else:
            vertices = cut(points[triangles], *self.space.bounds).reshape(-1, 3)
            faces = np.arange(len(vertices), dtype=np.int64).reshape(-1, 3)
        return size, self.frame.world(vertices), turned_over(faces, self.frame)

    @property
    def _view(self) -> Seen:
        return self.solid.seen_from(self.frame)


def intersection(frame: Frame, low: Triple, high: Triple, solid: Solid) -> Body:
    """Intersect a box of a frame with a solid that reaches into it."""
    return shared_body(frame, Column.box(low, high), solid)


def shared_body(
    frame: Frame, space: Column, solid: Solid, *, curved: bool = False
) -> Body:
    """Intersect an upright space of a frame with a solid that reaches into it."""
    if not isinstance(solid, Mesh):
        return Body(frame, space, solid, curved)
    asked = (frame, space.outline.tobytes(), space.bottom, space.top)
    if asked not in solid.known:
        solid.known[asked] = Body(frame, space, solid, curved)
    found: Body = solid.known[asked]
    return found
