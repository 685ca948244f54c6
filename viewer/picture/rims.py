"""What is outlined, as an eye sees it: the rims of what is round, and a dark casing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.bodies.surfaces import NO_FACES

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.drawn import Points, Shape, View


_CASING: Final = 3.4
"""Pixels. So much wider than an outline is the dark line below it."""


def rimmed(shapes: Iterable[Shape], view: View) -> Iterator[Shape]:
    """Yield shapes, those that are outlined with their rims as a camera sees them.

    Below an outline lies a wider dark line: in grey print it is as light as gear.
    """
    for shape in shapes:
        outlined = shape
        if shape.role == "solid" and shape.through and len(shape.faces):
            rim = _rim(shape, view)
            outlined = replace(shape, edges=np.concatenate([shape.edges, rim]))
        if shape.through and shape.edge_colour == palette.INTRUSION:
            yield _cased(outlined)
        yield outlined


def _cased(shape: Shape) -> Shape:
    return replace(
        shape,
        id=f"{shape.id}/casing",
        vertices=shape.vertices[:0],
        faces=NO_FACES,
        edge_colour=palette.INTRUSION_EDGE,
        edge_width=shape.edge_width + _CASING,
        lift=shape.lift - 1,
        pickable=False,
    )


def _rim(shape: Shape, view: View) -> Points:
    """Return the edges between faces that are seen and such that are not, (k, 2, 3)."""
    corners = shape.vertices[shape.faces]
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    towards = np.array(view.eye) - (view.target if view.parallel else corners[:, 0])
    seen = (across * towards).sum(axis=1) > 0.0
    ends = np.sort(shape.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    edges, whose = np.unique(ends, axis=0, return_inverse=True)
    facing = np.bincount(whose.ravel(), weights=np.repeat(seen, 3))
    found: Points = shape.vertices[edges[facing == 1]]
    return found
