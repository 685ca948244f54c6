"""The faces that a section leaves of what is solid."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
import pyvista as pv

from viewer.stage import palette
from viewer.window.section import AXES

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.parts import Shape
    from viewer.window.section import Section

_CAPPED: Final = ("solid", "leaf", "intrusion")
"""Roles of shapes that are full inside."""
_LEAST_OPACITY: Final = 0.9
"""What is fainter than that is drawn without an inside."""
_DARKER: Final = 0.35
"""Share of the edges' colour in the face of a cut."""
_MOST: Final = 400
"""Shapes; to close more of them takes longer than anybody waits: they stay hollow."""


def caps(shapes: Iterable[Shape], section: Section) -> Iterator[Shape]:
    """Yield the faces a plane leaves of shapes that are solid, with their outlines.

    A surface that is not closed has no inside, so nothing comes of it.

    Args:
        shapes: What is drawn.
        section: The plane.
    """
    crossed = [shape for shape in shapes if _is_crossed(shape, section)]
    for shape in crossed if len(crossed) <= _MOST else ():
        corners = np.full((len(shape.faces), 1), 3)
        mesh = pv.PolyData(shape.vertices, np.hstack([corners, shape.faces]).ravel())
        normal = [float(axis == section.axis) for axis in AXES]
        outline = mesh.slice(normal=normal, origin=section.point)
        ends = outline.lines.reshape(-1, 3)[:, 1:]
        # Around a closed surface every line goes on where another ends.
        if len(ends) and not (np.bincount(ends.ravel()) % 2).any():
            yield _cap(shape, outline, outline.points[ends])


def _is_crossed(shape: Shape, section: Section) -> bool:
    is_solid = shape.role in _CAPPED and shape.opacity >= _LEAST_OPACITY
    if not is_solid or not len(shape.faces):
        return False
    along = shape.vertices[:, AXES.index(section.axis)]
    return bool(along.min() < section.at < along.max())


def _cap(shape: Shape, outline: pv.PolyData, edges: np.ndarray) -> Shape:
    filled = outline.triangulate_contours().triangulate()
    return replace(
        shape,
        id=f"{shape.id}/cut",
        role="cut",
        vertices=np.asarray(filled.points, dtype=np.float64),
        faces=filled.faces.reshape(-1, 4)[:, 1:],
        edges=edges,
        colour=palette.mixed(shape.colour, palette.EDGE, _DARKER),
        edge_width=2.0,
        pivot=None,
        # What is in the way lies in the face of the thing it is a part of.
        lift=shape.lift + 1,
    )
