"""The faces that a section leaves of what is solid."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.picture.section import cap
from viewer.window.section import AXES

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.drawn import Shape
    from viewer.window.section import Section

_CAPPED: Final = ("solid", "leaf", "intrusion")
"""Roles of shapes that are full inside."""
_LEAST_OPACITY: Final = 0.9
"""What is fainter than that is drawn without an inside."""
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
        normal = tuple(float(axis == section.axis) for axis in AXES)
        face = cap(shape, (normal[0], normal[1], normal[2]), section.point)
        if face is not None:
            yield face


def _is_crossed(shape: Shape, section: Section) -> bool:
    is_solid = shape.role in _CAPPED and shape.opacity >= _LEAST_OPACITY
    if not is_solid or not len(shape.faces):
        return False
    along = shape.vertices[:, AXES.index(section.axis)]
    return bool(along.min() < section.at < along.max())
