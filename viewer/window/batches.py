"""Shapes joined to few large bodies: what makes ten thousand of them turn."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.surfaces import Surface, one_surface

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable, Sequence

    from numpy.typing import NDArray

    from viewer.stage.parts import Faces, Points, Role, Shape

    Colours = NDArray[np.uint8]
    Numbers = NDArray[np.int32]


_THINGS: Final = frozenset({"solid", "leaf"})


@dataclass(frozen=True, slots=True, eq=False)
class FaceBatch:
    """Triangles that are drawn in one way.

    Attributes:
        vertices: Shape (n, 3), metres.
        faces: Shape (m, 3).
        rgb: Colour of each triangle, shape (m, 3).
        item: Which of ``items`` each triangle belongs to, shape (m,).
        items: Ids.
        role: What the shapes stand for; it decides the light.
        opacity: Of all of them.
        lift: Steps towards the viewer.
        one_sided: Seen from the front only.
        pickable: Whether a click on them means an item.
        ahead: Seen through by an eye on the other side of them, in plan; None from
            nowhere.
    """

    vertices: Points
    faces: Faces
    rgb: Colours
    item: Numbers
    items: tuple[str, ...]
    role: Role
    opacity: float
    lift: int
    one_sided: bool
    pickable: bool
    ahead: tuple[float, float] | None


@dataclass(frozen=True, slots=True, eq=False)
class LineBatch:
    """Lines that are drawn in one way.

    Attributes:
        ends: Shape (k, 2, 3), metres.
        rgb: Colour of each line, shape (k, 3).
        width: Pixels.
        opacity: Of all of them.
        lift: Steps towards the viewer.
        through: They shine through what stands in front of them.
        ahead: Seen only by an eye on that side of them, in plan; None from everywhere.
    """

    ends: Points
    rgb: Colours
    width: float
    opacity: float
    lift: int
    through: bool
    ahead: tuple[float, float] | None


def face_batches(shapes: Iterable[Shape]) -> list[FaceBatch]:
    """Join the faces of shapes: one batch for each way to draw them."""
    seen = (s for s in shapes if len(s.faces) and s.opacity > 0)
    return [_faces(group) for group in _grouped(seen, _face_key)]


def line_batches(shapes: Iterable[Shape]) -> list[LineBatch]:
    """Join the edges of shapes: one batch for each way to draw them."""
    seen = (s for s in shapes if len(s.edges))
    return [_lines(group) for group in _grouped(seen, _line_key)]


def _grouped(
    shapes: Iterable[Shape], key: Callable[[Shape], Hashable]
) -> list[list[Shape]]:
    groups: defaultdict[Hashable, list[Shape]] = defaultdict(list)
    for shape in shapes:
        groups[key(shape)].append(shape)
    return list(groups.values())


def _face_key(shape: Shape) -> Hashable:
    drawn = shape.role, shape.opacity, shape.lift, shape.one_sided, shape.pickable
    # What is in the way in a wall goes with the wall.
    wall = shape.item if _in_wall(shape) else None
    return *drawn, wall


def _line_key(shape: Shape) -> Hashable:
    # A line on a wall goes with its wall, and each wall looks another way.
    wall = shape.item if _ahead(shape) else None
    return shape.edge_width, shape.edge_opacity, shape.lift, shape.through, wall


def _ahead(shape: Shape) -> tuple[float, float] | None:
    return shape.ahead if shape.one_sided else None


def _set_back(shape: Shape) -> int:
    """Return steps away from the viewer: a faint thing lies behind what it touches."""
    return int(shape.role in _THINGS and shape.opacity < 1.0)


def _in_wall(shape: Shape) -> tuple[float, float] | None:
    return shape.ahead if shape.role == "intrusion" else None


def _faces(group: Sequence[Shape]) -> FaceBatch:
    whole = one_surface([Surface(s.vertices, s.faces, s.edges[:0]) for s in group])
    counts = [len(shape.faces) for shape in group]
    items = tuple(dict.fromkeys(shape.item for shape in group))
    number = {item: n for n, item in enumerate(items)}
    first = group[0]
    return FaceBatch(
        whole.vertices,
        whole.faces,
        _colours([shape.colour for shape in group], counts),
        np.repeat(np.array([number[s.item] for s in group], np.int32), counts),
        items,
        first.role,
        first.opacity,
        first.lift - _set_back(first),
        first.one_sided,
        first.pickable,
        _in_wall(first),
    )


def _lines(group: Sequence[Shape]) -> LineBatch:
    counts = [len(shape.edges) for shape in group]
    first = group[0]
    return LineBatch(
        np.concatenate([shape.edges for shape in group]),
        _colours([shape.edge_colour for shape in group], counts),
        first.edge_width,
        first.edge_opacity,
        first.lift,
        first.through,
        _ahead(first),
    )


def _colours(colours: list[str], counts: list[int]) -> Colours:
    known = {colour: palette.channels(colour) for colour in set(colours)}
    rows = np.array([known[colour] for colour in colours], dtype=np.uint8)
    return np.repeat(rows, counts, axis=0)
