"""Bodies: upright boxes, closed and open meshes, and what two of them share.

The module that talks to trimesh. A body that is no closed volume never reaches
the boolean engine, which answers wrongly for such bodies, or crashes; its triangles
are cut instead and no volume is known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any, Final, Protocol

import numpy as np

from model3d.geometry.clipping import BOX_FACES, corners, cut
from model3d.geometry.clouds.body import CloudView, dots, thinned
from model3d.geometry.columns import Column
from model3d.geometry.crossing import crosses_itself
from model3d.geometry.tolerance import PARALLEL
from model3d.geometry.views import (
    BoxView,
    Extents,
    Seen,
    TriangleView,
    bounds_of,
    once,
    turned_over,
)

if TYPE_CHECKING:
    from collections.abc import Hashable

    import trimesh
    from numpy.typing import NDArray

    from model3d.geometry.frame import Frame, Triple

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


class Solid(Protocol):
    """What every body can tell."""

    @property
    def bounds(self) -> Extents:
        """Lowest and highest corner in the world, metres."""

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World vertices, shape (n, 3), and faces, shape (m, 3)."""

    @property
    def closed(self) -> bool:
        """Whether it is a closed volume with its faces turned outwards."""

    @property
    def measurable(self) -> bool:
        """Whether it is closed and passes through itself nowhere: it has a volume."""

    def seen_from(self, frame: Frame) -> Seen:
        """Return the body in a frame."""


@dataclass(frozen=True)
class Box:
    """An upright box, turned about the vertical only.

    Attributes:
        frame: Its origin is the left back corner of the footprint.
        width: Along the frame's right, metres.
        depth: Along the frame's out, metres.
        bottom, top: World heights, metres.
    """

    frame: Frame
    width: float
    depth: float
    bottom: float
    top: float

    @cached_property
    def bounds(self) -> Extents:
        """Lowest and highest corner in the world, metres."""
        return self.frame.bounds(
            (0.0, 0.0, self.bottom), (self.width, self.depth, self.top)
        )

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World vertices, shape (8, 3), and faces, shape (12, 3)."""
        points = corners((0.0, 0.0, self.bottom), (self.width, self.depth, self.top))
        return self.frame.world(points), turned_over(BOX_FACES, self.frame)

    @property
    def closed(self) -> bool:
        """Always: a box is a closed volume."""
        return True

    @property
    def measurable(self) -> bool:
        """Always: a box has a volume."""
        return True

    def seen_from(self, frame: Frame) -> Seen:
        """Return the box in a frame: exact extents, or triangles where it is turned."""
        u, v = frame.to_frame(self.frame.x, self.frame.y)
        (rx, ry), (ox, oy) = self.frame.right, self.frame.out
        (fx, fy), (gx, gy) = frame.right, frame.out
        across, along = rx * fx + ry * fy, rx * gx + ry * gy
        if abs(along) <= PARALLEL:
            ends = u + math.copysign(self.width, across)
            side = v + math.copysign(self.depth, ox * gx + oy * gy)
        elif abs(across) <= PARALLEL:
            ends = u + math.copysign(self.depth, ox * fx + oy * fy)
            side = v + math.copysign(self.width, along)
        else:
            return _seen(self, frame, self.known)
        return BoxView(
            (min(u, ends), min(v, side), self.bottom),
            (max(u, ends), max(v, side), self.top),
        )

    @cached_property
    def known(self) -> dict[Hashable, Any]:
        """How it was seen already from frames in which it is turned."""
        return {}


@dataclass(frozen=True)
class Mesh:
    """A body given by its triangles.

    Attributes:
        vertices: World points, shape (n, 3), metres.
        faces: Corners of the triangles, shape (m, 3).
    """

    vertices: Points
    faces: Faces
    sound: bool = field(default=False, kw_only=True)
    """Made here and known to be closed, so that it need not be asked."""

    @cached_property
    def bounds(self) -> Extents:
        """Lowest and highest corner in the world, metres."""
        return bounds_of(self.vertices[self.faces.ravel()])

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World vertices, shape (n, 3), and faces, shape (m, 3)."""
        return self.vertices, self.faces

    @cached_property
    def closed(self) -> bool:
        """Whether it is a closed volume with its faces turned outwards."""
        return self.sound or bool(_trimesh(self.vertices, self.faces).is_volume)

    @cached_property
    def measurable(self) -> bool:
        """Whether it is closed and passes through itself nowhere: it has a volume.

        Shells that overlap were united when the mesh was read; what still passes
        through itself is one shell, of which some part would be counted twice.
        """
        if self.sound or not self.closed:
            return self.sound
        return not _crosses(_Surface(self.vertices, self.faces))

    def seen_from(self, frame: Frame) -> Seen:
        """Return the mesh in a frame, as triangles."""
        if len(self.faces) > _MANY:
            return TriangleView.of(*self.mesh, frame, closed=self.closed)
        return _seen(self, frame, self._views)

    @cached_property
    def _views(self) -> dict[Hashable, Any]:
        return {}

    @cached_property
    def known(self) -> dict[Hashable, Any]:
        """What was worked out of the mesh already, by what was asked.

        A room that is judged again and again, each time with one thing elsewhere, asks
        most of its meshes the same.
        """
        return {}


_MANY: Final = 5000
"""Triangles. How a mesh of more is seen is worked out again, for that fills memory."""
_FRAMES: Final = 16
"""From so many frames it is remembered how a body is seen."""


def _seen(solid: Box | Mesh, frame: Frame, known: dict[Hashable, Any]) -> Seen:
    """Return a body in a frame as triangles; it is turned there once."""
    return once(
        known,
        frame,
        lambda: TriangleView.of(*solid.mesh, frame, closed=solid.closed),
        _FRAMES,
    )


class _Surface:
    """A surface that is told by its faces: where a mesh is moved it keeps them."""

    def __init__(self, vertices: Points, faces: Faces) -> None:
        self.vertices, self.faces = vertices, faces

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Surface) and other.faces is self.faces

    def __hash__(self) -> int:
        return id(self.faces)


@lru_cache(maxsize=64)
def _crosses(surface: _Surface) -> bool:
    return crosses_itself(surface.vertices, surface.faces)


@dataclass(frozen=True)
class Body:
    """What a required space and a solid share.

    Attributes:
        volume: Cubic metres; None where the solid is no closed volume, or passes
            through itself.
        low, high: Bounds in the world, metres.
        vertices, faces: The body's surface in the world, to be drawn.
    """

    volume: float | None
    low: Triple
    high: Triple
    vertices: Points
    faces: Faces


def intersection(frame: Frame, low: Triple, high: Triple, solid: Solid) -> Body:
    """Intersect a box of a frame with a solid that reaches into it."""
    return shared_body(frame, Column.box(low, high), solid)


def shared_body(frame: Frame, space: Column, solid: Solid) -> Body:
    """Intersect an upright space of a frame with a solid that reaches into it.

    The boolean runs in the frame: near its own origin the single precision of the
    engine is finer than any tolerance here. Bounds come from cutting, which is exact,
    and answers for closed bodies and open ones alike.
    """
    if not isinstance(solid, Mesh):
        return _shared_body(frame, space, solid)
    asked = (frame, space.outline.tobytes(), space.bottom, space.top)
    if asked not in solid.known:
        solid.known[asked] = _shared_body(frame, space, solid)
    found: Body = solid.known[asked]
    return found


def _shared_body(frame: Frame, space: Column, solid: Solid) -> Body:
    view, box = solid.seen_from(frame), space.bounds
    bounds = bounds_of(frame.world(view.points(*box)))
    if isinstance(view, CloudView):
        vertices, faces = dots(thinned(view.points(*box)))
        return Body(None, *bounds, frame.world(vertices), turned_over(faces, frame))
    points, triangles = view.surface()
    if solid.measurable:
        size, vertices, faces = _boolean(space.mesh, (points, triangles))
        return Body(size, *bounds, frame.world(vertices), turned_over(faces, frame))
    vertices = cut(points[triangles], *box).reshape(-1, 3)
    faces = np.arange(len(vertices), dtype=np.int64).reshape(-1, 3)
    return Body(None, *bounds, frame.world(vertices), turned_over(faces, frame))


def shared_by_meshes(one: Solid, other: Solid) -> tuple[Points, Faces] | None:
    """Return vertices and faces of what two closed bodies share, or None."""
    (points, faces), (others, triangles) = one.mesh, other.mesh
    # Near its own origin the single precision of the engine is fine enough.
    origin = points[faces[0, 0]]
    _, found, shared = _boolean((points - origin, faces), (others - origin, triangles))
    return (found + origin, shared) if len(shared) else None


def volume(solid: Solid) -> float:
    """Return the volume of a closed solid in cubic metres, as trimesh has it."""
    return float(_trimesh(*solid.mesh).volume)


def _trimesh(vertices: Points, faces: Faces) -> trimesh.Trimesh:
    import trimesh  # noqa: PLC0415 - takes half a second

    return trimesh.Trimesh(vertices, faces, process=False)


def _boolean(
    one: tuple[Points, Faces], other: tuple[Points, Faces]
) -> tuple[float, Points, Faces]:
    """Return volume, vertices and faces of what two closed bodies share."""
    import trimesh  # noqa: PLC0415

    piece: trimesh.Trimesh = trimesh.boolean.intersection(
        [_trimesh(*one), _trimesh(*other)], engine="manifold", check_volume=False
    )
    points = np.asarray(piece.vertices, dtype=np.float64)
    faces = np.asarray(piece.faces, dtype=np.int64)
    # What trimesh's own volume sums up, without the moments that it works out too and
    # that take as long as the boolean.
    return float(np.linalg.det(points[faces]).sum()) / 6, points, faces
