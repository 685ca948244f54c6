"""Bodies: upright boxes, closed and open meshes, and what two of them share.

The one module that talks to trimesh. A body that is no closed volume never reaches
the boolean engine, which answers wrongly for such bodies, or crashes; its triangles
are cut instead and no volume is known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Protocol

import numpy as np

from model3d.geometry.clipping import corners, cut, winding
from model3d.geometry.frame import Frame, Triple
from model3d.geometry.intervals import Interval, merged
from model3d.geometry.tolerance import PARALLEL, SAGITTA, TOUCH

if TYPE_CHECKING:
    from pathlib import Path

    import trimesh
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

Extents = tuple[Triple, Triple]

_BOX_FACES = np.array(
    # Corners as itertools.product orders them: bit 2 is right, bit 1 out, bit 0 up.
    [(0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1)]
    + [(2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)],
    dtype=np.int64,
)


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

    def seen_from(self, frame: Frame) -> View:
        """Return the body in a frame."""


class View(Protocol):
    """A body in somebody's frame: right, out, up."""

    @property
    def closed(self) -> bool:
        """Whether it is a closed volume."""

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None.

        What touches the box without reaching into it may give extents of no
        thickness.
        """

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis, as disjoint intervals."""

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame, shape (n, 3)."""

    def edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box of the frame, shape (n, 2, 3)."""

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""


@dataclass(frozen=True, slots=True)
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

    @property
    def bounds(self) -> Extents:
        """Lowest and highest corner in the world, metres."""
        return self.frame.bounds(
            (0.0, 0.0, self.bottom), (self.width, self.depth, self.top)
        )

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World vertices, shape (8, 3), and faces, shape (12, 3)."""
        points = corners((0.0, 0.0, self.bottom), (self.width, self.depth, self.top))
        return self.frame.world(points), _turned_over(_BOX_FACES, self.frame)

    @property
    def closed(self) -> bool:
        """Always: a box is a closed volume."""
        return True

    def seen_from(self, frame: Frame) -> View:
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
            return TriangleView.of(self, frame)
        return BoxView(
            (min(u, ends), min(v, side), self.bottom),
            (max(u, ends), max(v, side), self.top),
        )


@dataclass(frozen=True, slots=True)
class BoxView:
    """A box whose faces are parallel to the frame's planes."""

    low: Triple
    high: Triple

    @property
    def closed(self) -> bool:
        """Always: a box is a closed volume."""
        return True

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None."""
        (a, b, c), (d, e, f) = self.low, self.high
        (g, h, i), (j, k, m) = low, high
        lows = (max(a, g), max(b, h), max(c, i))
        highs = (min(d, j), min(e, k), min(f, m))
        if lows[0] > highs[0] or lows[1] > highs[1] or lows[2] > highs[2]:
            return None
        return lows, highs

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis."""
        found = self.extents(low, high)
        return [] if found is None else [(found[0][axis], found[1][axis])]

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame."""
        found = self.extents(low, high)
        return np.empty((0, 3)) if found is None else corners(*found)

    def edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box of the frame."""
        points = self.points(low, high)
        return _edges(points[_BOX_FACES]) if len(points) else np.empty((0, 2, 3))

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""
        return corners(self.low, self.high), _BOX_FACES


@dataclass(frozen=True, slots=True)
class TriangleView:
    """A body in a frame as triangles.

    Attributes:
        vertices: Shape (n, 3), in the frame.
        faces: Shape (m, 3), turned so that they look outwards in the frame.
        triangles: The faces' corners, shape (m, 3, 3).
        closed: Whether it is a closed volume.
    """

    vertices: Points
    faces: Faces
    triangles: Points
    closed: bool

    @staticmethod
    def of(solid: Solid, frame: Frame) -> TriangleView:
        """Turn a body's triangles into a frame."""
        points, faces = solid.mesh
        points, faces = frame.local(points), _turned_over(faces, frame)
        return TriangleView(points, faces, points[faces], solid.closed)

    def extents(self, low: Triple, high: Triple) -> Extents | None:
        """Return the extents of what lies in a box of the frame, or None."""
        points = self.points(low, high)
        return _bounds(points) if len(points) else None

    def shadow(self, low: Triple, high: Triple, axis: int = 0) -> list[Interval]:
        """Return what the part in a box covers on an axis, as disjoint intervals."""
        pieces = cut(self.triangles, low, high)
        pairs = zip(
            pieces[:, :, axis].min(axis=1), pieces[:, :, axis].max(axis=1), strict=True
        )
        found = [(float(a), float(b)) for a, b in pairs]
        if not self.closed:
            return merged(found)
        # Between two levels where the surface crosses the box nothing changes: the
        # section there is wholly inside the body or wholly outside, so one point of
        # it tells.
        levels = merged([*found, (low[axis], low[axis]), (high[axis], high[axis])])
        gaps = [(a[1], b[0]) for a, b in zip(levels, levels[1:], strict=False)]
        middle = [(p + q) / 2 for p, q in zip(low, high, strict=True)]
        probes = np.array([middle] * len(gaps)).reshape(-1, 3)
        probes[:, axis] = [(a + b) / 2 for a, b in gaps]
        inside = self.holds(probes)
        return merged([*found, *(g for g, held in zip(gaps, inside, strict=True) if held)])

    def holds(self, points: Points) -> NDArray[np.bool_]:
        """Return which points lie inside a closed body, shape (n,)."""
        half = 0.5
        inside: NDArray[np.bool_] = np.abs(winding(self.triangles, points)) > half
        return inside

    def points(self, low: Triple, high: Triple) -> Points:
        """Return the corners of what lies in a box of the frame, shape (n, 3)."""
        pieces = cut(self.triangles, low, high).reshape(-1, 3)
        return np.concatenate([pieces, self._held_corners(low, high)])

    def edges(self, low: Triple, high: Triple) -> Points:
        """Return the edges of what lies in a box; a lone corner is one of no length."""
        held = self._held_corners(low, high)
        return np.concatenate(
            [_edges(cut(self.triangles, low, high)), np.stack([held, held], axis=1)]
        )

    def _held_corners(self, low: Triple, high: Triple) -> Points:
        if not self.closed:
            return np.empty((0, 3))
        box = corners(low, high)
        # A box that is far from the body holds none of it and need not be asked.
        lows, highs = self.vertices.min(axis=0), self.vertices.max(axis=0)
        asked = box[((box >= lows) & (box <= highs)).all(axis=1)]
        return asked[self.holds(asked)] if len(asked) else asked

    def surface(self) -> tuple[Points, Faces]:
        """Return vertices in the frame, and faces that look outwards there."""
        return self.vertices, self.faces


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
        return _bounds(self.vertices[self.faces.ravel()])

    @property
    def mesh(self) -> tuple[Points, Faces]:
        """World vertices, shape (n, 3), and faces, shape (m, 3)."""
        return self.vertices, self.faces

    @cached_property
    def closed(self) -> bool:
        """Whether it is a closed volume with its faces turned outwards."""
        return self.sound or bool(_trimesh(self.vertices, self.faces).is_volume)

    def seen_from(self, frame: Frame) -> View:
        """Return the mesh in a frame, as triangles."""
        return TriangleView.of(self, frame)


@dataclass(frozen=True)
class Body:
    """What a required space and a solid share.

    Attributes:
        volume: Cubic metres; None where the solid is no closed volume.
        low, high: Bounds in the world, metres.
        vertices, faces: The body's surface in the world, to be drawn.
    """

    volume: float | None
    low: Triple
    high: Triple
    vertices: Points
    faces: Faces


def intersection(frame: Frame, low: Triple, high: Triple, solid: Solid) -> Body:
    """Intersect a box of a frame with a solid that reaches into it.

    The boolean runs in the frame: near its own origin the single precision of the
    engine is finer than any tolerance here. Bounds come from cutting, which is exact.
    """
    return shared_body(frame, (low, high), (corners(low, high), _BOX_FACES), solid)


def shared_body(
    frame: Frame, box: Extents, space: tuple[Points, Faces], solid: Solid
) -> Body:
    """Intersect a closed space of a frame, given with its box, with a solid."""
    view = solid.seen_from(frame)
    bounds = _bounds(frame.world(view.points(*box)))
    if solid.closed:
        piece = _boolean(space, view.surface())
        vertices, faces = piece.vertices, piece.faces
        size: float | None = abs(float(piece.volume))
    else:
        points, triangles = view.surface()
        vertices = cut(points[triangles], *box).reshape(-1, 3)
        faces = np.arange(len(vertices)).reshape(-1, 3)
        size = None
    return Body(
        size,
        *bounds,
        frame.world(np.asarray(vertices, dtype=np.float64)),
        _turned_over(np.asarray(faces, dtype=np.int64), frame),
    )


def reaching(view: View, low: Triple, high: Triple) -> Extents | None:
    """Return the extents of what reaches into a box, or None where it only touches.

    A closed body reaches in where the shared part is thicker than the tolerance every
    way; an open mesh has no thickness, so it reaches in where any of it comes further
    inside than the tolerance.
    """
    found = view.extents(low, high)
    if found is None:
        return None
    if view.closed:
        return None if thin(found) else found
    (a, b, c), (d, e, f) = low, high
    inner = (a + TOUCH, b + TOUCH, c + TOUCH), (d - TOUCH, e - TOUCH, f - TOUCH)
    return None if view.extents(*inner) is None else found


def thin(found: Extents) -> bool:
    """Tell whether extents are no thicker than the tolerance somewhere: contact."""
    (a, b, c), (d, e, f) = found
    return d - a <= TOUCH or e - b <= TOUCH or f - c <= TOUCH


def prism(outline: Points, bottom: float, top: float, triangles: Faces) -> Mesh:
    """Stand a polygon up as a closed mesh.

    Args:
        outline: Plan points, shape (n, 2), counter-clockwise, metres.
        bottom: World height of the underside.
        top: World height of the top.
        triangles: Cover the polygon; corners counter-clockwise, shape (n - 2, 3).
    """
    count = len(outline)
    low = np.column_stack([outline, np.full(count, bottom)])
    high = np.column_stack([outline, np.full(count, top)])
    here = np.arange(count)
    after = np.roll(here, -1)
    sides = np.concatenate(
        [
            np.column_stack([here, after, after + count]),
            np.column_stack([here, after + count, here + count]),
        ]
    )
    faces = np.concatenate([triangles[:, ::-1], triangles + count, sides])
    return Mesh(np.concatenate([low, high]), faces.astype(np.int64), sound=True)


def rod(start: Triple, end: Triple, section: Points) -> Mesh:
    """Draw a convex section, shape (n, 2), along the line between two points.

    The section's first axis lies level (east for a vertical line), its second axis
    upwards (north for a vertical line).
    """
    a, b = np.array(start), np.array(end)
    along = (b - a) / np.linalg.norm(b - a)
    level = np.array([along[1], -along[0], 0.0])
    length = float(np.linalg.norm(level))
    side = np.array([1.0, 0.0, 0.0]) if length <= PARALLEL else level / length
    rise = np.cross(side, along)
    if length <= PARALLEL:
        rise = np.array([0.0, 1.0, 0.0])
    ring = section @ np.stack([side, rise])
    count = len(section)
    fan = np.column_stack(
        [np.zeros(count - 2), np.arange(1, count - 1), np.arange(2, count)]
    ).astype(np.int64)
    flat = prism(section, 0.0, 1.0, fan)
    faces = flat.faces
    if float(np.dot(np.cross(side, rise), along)) < 0:
        faces = faces[:, ::-1]
    return Mesh(np.concatenate([a + ring, b + ring]), faces, sound=True)


def round_section(diameter: float) -> Points:
    """Return a many-sided section with the area of a circle, shape (n, 2).

    So many sides that no side differs from the circle by more than the tolerance.
    """
    radius = diameter / 2
    count = max(24, 8 * math.ceil(math.pi / math.acos(1 - SAGITTA / radius) / 8))
    step = 2 * math.pi / count
    angles = np.arange(count) * step
    scaled = radius * math.sqrt(step / math.sin(step))
    return scaled * np.column_stack([np.cos(angles), np.sin(angles)])


def load_mesh(path: Path) -> tuple[Points, Faces]:
    """Read vertices and faces of a GLB, STL, OBJ or PLY file as they stand in it.

    Raises:
        ValueError: The file holds no triangles, or is not what its ending says.
    """
    import trimesh  # noqa: PLC0415 - takes half a second, and few scenes have a mesh

    try:
        found = trimesh.load(path, force="mesh", process=False)
    except Exception as error:
        # The readers of four formats raise whatever their parsing trips over.
        raise ValueError(str(error)) from error
    if not isinstance(found, trimesh.Trimesh) or not len(found.faces):
        msg = "no triangles"
        raise ValueError(msg)
    # Formats that repeat each corner for each face would else never be closed.
    found.merge_vertices(merge_tex=True, merge_norm=True)
    found.update_faces(found.nondegenerate_faces())
    if not len(found.faces) or not np.isfinite(found.vertices).all():
        msg = "no triangles of finite size"
        raise ValueError(msg)
    if found.is_watertight and not found.is_volume:
        # Closed but turned inside out, or mixed: mending the turn loses nothing.
        trimesh.repair.fix_normals(found, multibody=True)
    return (
        np.asarray(found.vertices, dtype=np.float64),
        np.asarray(found.faces, dtype=np.int64),
    )


def volume(solid: Solid) -> float:
    """Return the volume of a closed solid in cubic metres, as trimesh has it."""
    return float(_trimesh(*solid.mesh).volume)


def _edges(triangles: Points) -> Points:
    """Return the sides of triangles, shape (3 n, 2, 3)."""
    return np.concatenate([triangles[:, [i, (i + 1) % 3]] for i in range(3)])


def _bounds(points: Points) -> Extents:
    lows, highs = points.min(axis=0), points.max(axis=0)
    return (
        (float(lows[0]), float(lows[1]), float(lows[2])),
        (float(highs[0]), float(highs[1]), float(highs[2])),
    )


def _turned_over(faces: Faces, frame: Frame) -> Faces:
    return faces[:, ::-1] if frame.mirrors else faces


def _trimesh(vertices: Points, faces: Faces) -> trimesh.Trimesh:
    import trimesh  # noqa: PLC0415 - takes half a second

    return trimesh.Trimesh(vertices, faces, process=False)


def _boolean(
    one: tuple[Points, Faces], other: tuple[Points, Faces]
) -> trimesh.Trimesh:
    import trimesh  # noqa: PLC0415

    piece: trimesh.Trimesh = trimesh.boolean.intersection(
        [_trimesh(*one), _trimesh(*other)], engine="manifold", check_volume=False
    )
    return piece
