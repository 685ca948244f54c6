"""A plane that cuts the room open, and the faces it leaves of what is solid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

import numpy as np
from manifold3d import Error, Manifold, Mesh

from viewer.stage import palette
from viewer.stage.parts import Shape

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.parts import Faces, Point, Points

Axis = Literal["x", "y", "z"]
AXES: Final[tuple[Axis, ...]] = ("x", "y", "z")
NAMES: Final[dict[Axis, str]] = {"x": "East-west", "y": "North-south", "z": "Height"}
"""Which way the plane is moved."""

_CAPPED: Final = ("solid", "leaf", "intrusion")
"""Roles of shapes that are full inside."""
_LEAST_OPACITY: Final = 0.9
"""What is fainter than that is drawn without an inside."""
_DARKER: Final = 0.35
"""Share of the edges' colour in the face of a cut."""
_ON_PLANE: Final = 2e-5
"""Metres. The cutting engine works in single precision."""


@dataclass(frozen=True, slots=True)
class Section:
    """An upright or level plane.

    Attributes:
        axis: The way it is moved; it stands across that.
        at: Where it is, metres.
    """

    axis: Axis
    at: float

    def normal(self, eye: Point) -> Points:
        """Return the unit vector to the side that stays: the one away from the eye."""
        number = AXES.index(self.axis)
        found = np.zeros(3)
        found[number] = -1.0 if eye[number] > self.at else 1.0
        return found

    def keeps(self, points: Points, normal: Points) -> np.ndarray:
        """Tell which points are on the side that stays, shape (n,)."""
        number = AXES.index(self.axis)
        return np.asarray((points[:, number] - self.at) * normal[number] >= 0.0)


class Caps:
    """Cuts shapes; what it made of a shape for the engine is used again."""

    def __init__(self) -> None:
        """Start with nothing."""
        self._known: dict[int, tuple[Shape, Manifold | None]] = {}

    def cut(
        self, shapes: Iterable[Shape], section: Section, normal: Points
    ) -> Iterator[Shape]:
        """Yield the faces a plane leaves of shapes that are solid, with their outlines.

        A surface that is not closed has no inside, so nothing comes of it.

        Args:
            shapes: What is drawn.
            section: The plane.
            normal: Towards the side that stays.
        """
        crossed = [shape for shape in shapes if _is_crossed(shape, section)]
        fresh: dict[int, tuple[Shape, Manifold | None]] = {}
        for shape in crossed:
            known = self._known.get(id(shape))
            fresh[id(shape)] = known or (shape, _manifold(shape))
        self._known = fresh
        for shape in crossed:
            body = fresh[id(shape)][1]
            if body is not None:
                cap = _cap(shape, body, section, normal)
                if cap is not None:
                    yield cap


def _is_crossed(shape: Shape, section: Section) -> bool:
    if shape.role not in _CAPPED or shape.opacity < _LEAST_OPACITY:
        return False
    if not len(shape.faces):
        return False
    along = shape.vertices[:, AXES.index(section.axis)]
    return bool(along.min() < section.at < along.max())


def _manifold(shape: Shape) -> Manifold | None:
    mesh = Mesh(
        vert_properties=shape.vertices.astype(np.float32),
        tri_verts=shape.faces.astype(np.uint32),
    )
    mesh.merge()
    body = Manifold(mesh)
    closed = body.status() == Error.NoError and not body.is_empty()
    return body if closed else None


def _cap(
    shape: Shape, body: Manifold, section: Section, normal: Points
) -> Shape | None:
    number = AXES.index(section.axis)
    level = section.at * float(normal[number])
    a, b, c = (float(value) for value in normal)
    mesh = body.trim_by_plane((a, b, c), level).to_mesh()
    points = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    faces = np.asarray(mesh.tri_verts, dtype=np.int64)
    if not len(faces):
        return None
    on_plane = (
        np.abs(points[:, number] - section.at)
        < _ON_PLANE + abs(section.at) * np.finfo(np.float32).eps
    )
    faces = faces[on_plane[faces].all(axis=1)]
    if not len(faces):
        return None
    return Shape(
        id=f"{shape.id}/cut",
        item=shape.item,
        layer=shape.layer,
        role="cut",
        kind=shape.kind,
        about=shape.about,
        vertices=points,
        faces=faces,
        edges=points[_outline(faces)],
        colour=palette.mixed(shape.colour, palette.EDGE, _DARKER),
        edge_colour=shape.edge_colour,
        edge_width=2.0,
        # What is in the way lies in the face of the thing it is a part of.
        lift=shape.lift + 1,
    )


def _outline(faces: Faces) -> Faces:
    """Return the sides that only one triangle has, shape (k, 2)."""
    sides = np.sort(faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    found, count = np.unique(sides, axis=0, return_counts=True)
    outer: Faces = found[count == 1]
    return outer
