"""Bodies: upright boxes, closed and open meshes.

The module that talks to trimesh: volumes, and the boolean of two closed bodies; and to
its engine, where a body is only to be drawn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any, Final, Protocol

import numpy as np

from model3d.geometry.bodies.clipping import BOX_FACES, corners
from model3d.geometry.bodies.edges import KeptFaces, bounds_a_volume
from model3d.geometry.bodies.extents import (
    BoxView,
    Extents,
    Seen,
    bounds_of,
    once,
    turned_over,
    used_of,
)
from model3d.geometry.bodies.self_crossing import crosses_itself
from model3d.geometry.bodies.strips import ScanView, Strips
from model3d.geometry.bodies.thinned import thinned_surface
from model3d.geometry.bodies.triangle_view import TriangleView
from model3d.geometry.tolerance import PARALLEL

if TYPE_CHECKING:
    from collections.abc import Hashable

    import trimesh
    from numpy.typing import NDArray

    from model3d.geometry.frame import Frame

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
        return bounds_of(used_of(self.vertices, self.faces))

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World vertices, shape (n, 3), and faces, shape (m, 3)."""
        return self.vertices, self.faces

    @cached_property
    def closed(self) -> bool:
        """Whether it is a closed volume with its faces turned outwards."""
        return self.sound or bounds_a_volume(self.vertices, self.faces)

    @cached_property
    def measurable(self) -> bool:
        """Whether it is closed and passes through itself nowhere: it has a volume.

        Shells that overlap were united when the mesh was read; what still passes
        through itself is one shell, of which some part would be counted twice.
        """
        if self.sound or not self.closed:
            return self.sound
        return not _crosses(KeptFaces(self.vertices, self.faces))

    def seen_from(self, frame: Frame) -> Seen:
        """Return the mesh in a frame, as triangles."""
        if len(self.faces) > LARGE and not self.closed:
            points, faces = self.vertices, self.faces
            return ScanView(points, faces, self.bounds, self._strips, frame)
        frames = 1 if len(self.faces) > _MANY else _FRAMES
        return _seen(self, frame, self._views, frames)

    @cached_property
    def thinned(self) -> Mesh:
        """The same with fewer triangles, where it has very many: to be drawn."""
        return Mesh(*thinned_surface(self.vertices, self.faces))

    @cached_property
    def _strips(self) -> Strips:
        return Strips.of(self.vertices, self.faces)

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


LARGE: Final = 100_000
"""Triangles. Of an open mesh of more only what is near is turned into a frame."""
_MANY: Final = 5000
"""Triangles. How a mesh of more was seen is remembered once: that fills memory,
and one thing after another asks from its own front."""
_FRAMES: Final = 16
"""From so many frames it is remembered how a body is seen."""


def _seen(
    solid: Box | Mesh, frame: Frame, known: dict[Hashable, Any], frames: int = _FRAMES
) -> Seen:
    """Return a body in a frame as triangles; it is turned there once."""
    return once(
        known,
        frame,
        lambda: TriangleView.of(*solid.mesh, frame, closed=solid.closed),
        frames,
    )


@lru_cache(maxsize=64)
def _crosses(surface: KeptFaces) -> bool:
    return crosses_itself(surface.vertices, surface.faces)


def shared_by_meshes(one: Solid, other: Solid) -> tuple[Points, Faces] | None:
    """Return vertices and faces of what two closed bodies share, or None."""
    (points, faces), (others, triangles) = one.mesh, other.mesh
    # Near its own origin the single precision of the engine is fine enough.
    origin = points[faces[0, 0]]
    _, found, shared = boolean((points - origin, faces), (others - origin, triangles))
    return (found + origin, shared) if len(shared) else None


def volume(solid: Solid) -> float:
    """Return the volume of a closed solid in cubic metres, as trimesh has it."""
    return float(_trimesh(*solid.mesh).volume)


def _trimesh(vertices: Points, faces: Faces) -> trimesh.Trimesh:
    import trimesh  # noqa: PLC0415 - takes half a second

    return trimesh.Trimesh(vertices, faces, process=False)


def drawn_boolean(
    one: tuple[Points, Faces], other: tuple[Points, Faces]
) -> tuple[float, Points, Faces]:
    """Return volume, vertices and faces of what two closed bodies share, to be drawn.

    They are those of ``boolean``, by the engine that trimesh asks. To load trimesh
    takes longer than to draw many a picture, and nothing is judged by what is drawn.
    """
    from manifold3d import Manifold  # noqa: PLC0415
    from manifold3d import Mesh as Triangles  # noqa: PLC0415

    bodies = [
        Manifold(
            Triangles(
                vert_properties=np.asarray(points, dtype=np.float32),
                tri_verts=np.asarray(faces, dtype=np.uint32),
            )
        )
        for points, faces in (one, other)
    ]
    found = (bodies[0] ^ bodies[1]).to_mesh()
    return _measured(found.vert_properties, found.tri_verts)


def boolean(
    one: tuple[Points, Faces], other: tuple[Points, Faces]
) -> tuple[float, Points, Faces]:
    """Return volume, vertices and faces of what two closed bodies share."""
    import trimesh  # noqa: PLC0415

    piece: trimesh.Trimesh = trimesh.boolean.intersection(
        [_trimesh(*one), _trimesh(*other)], engine="manifold", check_volume=False
    )
    return _measured(piece.vertices, piece.faces)


def _measured(vertices: object, triangles: object) -> tuple[float, Points, Faces]:
    """Return the volume of a surface, its vertices and its faces."""
    points = np.asarray(vertices, dtype=np.float64)
    faces = np.asarray(triangles, dtype=np.int64)
    # What trimesh's own volume sums up, without the moments that it works out too and
    # that take as long as the boolean.
    return float(np.linalg.det(points[faces]).sum()) / 6, points, faces
