"""The rim of what is round, as an eye sees it: edges alone outline only its ends."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.drawn import Points, Shape, View


def rimmed(shapes: Iterable[Shape], view: View) -> Iterator[Shape]:
    """Yield shapes, those that are outlined with their rims as a camera sees them."""
    for shape in shapes:
        if shape.role == "solid" and shape.through and len(shape.faces):
            rim = _rim(shape, view)
            yield replace(shape, edges=np.concatenate([shape.edges, rim]))
        else:
            yield shape


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
