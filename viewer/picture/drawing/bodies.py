"""Surfaces and lines as pyvista's meshes, in the colours of their cells.

From one picture of a film to the next little changes, so meshes are kept. They go by
the numbers they are made from: a leaf is turned anew for each picture.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import pyvista as pv

from viewer.stage import palette
from viewer.stage.bodies.surfaces import Surface, one_surface

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence

    from numpy.typing import NDArray

    from viewer.stage.drawn import Faces, Points, Shape
    from viewer.stage.kept import Kept

COLOURS: Final = "rgb"
"""Name of the colours of the cells."""
_SHARP: Final = 30.0
"""Degrees. Faces that meet at more are shaded apart, else as one that is round."""


def faces_of(
    group: Sequence[Shape], kept: Kept, name: Hashable, *, lit: bool
) -> pv.PolyData:
    """Return the faces of shapes as one mesh.

    Args:
        group: Shapes with faces.
        kept: Of the pictures before; what is as it was in them is not made again.
        name: Of the group, one of its own in a picture.
        lit: Shaded by the lamps.
    """
    whole = one_surface([Surface(one.vertices, one.faces, one.edges) for one in group])
    counts = [len(one.faces) for one in group]
    colours = np.repeat(_colours([one.colour for one in group]), counts, 0)
    return kept.again(
        ("faces", name),
        (whole.vertices.tobytes(), whole.faces.tobytes(), colours.tobytes()),
        lambda: surface(whole.vertices, whole.faces, colours, lit=lit),
    )


def edges_of(group: Sequence[Shape], kept: Kept, name: Hashable) -> pv.PolyData:
    """Return the edges of shapes as one mesh, as ``faces_of`` does their faces."""
    ends = np.concatenate([one.edges for one in group])
    counts = [len(one.edges) for one in group]
    colours = np.repeat(_colours([one.edge_colour for one in group]), counts, 0)
    return kept.again(
        ("edges", name),
        (ends.tobytes(), colours.tobytes()),
        lambda: lines(ends, colours),
    )


def _colours(colours: list[str]) -> NDArray[np.uint8]:
    return np.array([palette.channels(one) for one in colours], dtype=np.uint8)


def surface(
    vertices: Points, faces: Faces, colours: NDArray[np.uint8], *, lit: bool
) -> pv.PolyData:
    """Return triangles; where they are lit, with what is needed to shade them."""
    corners = np.full((len(faces), 1), 3)
    mesh = pv.PolyData(vertices, np.hstack([corners, faces]).ravel())
    mesh.cell_data[COLOURS] = colours
    if not lit:
        return mesh
    shaded: pv.PolyData = mesh.compute_normals(
        cell_normals=False,
        split_vertices=True,
        feature_angle=_SHARP,
        consistent_normals=False,
    )
    return shaded


def lines(ends: Points, colours: NDArray[np.uint8]) -> pv.PolyData:
    """Return straight lines by their two ends, shape (k, 2, 3)."""
    points = ends.reshape(-1, 3)
    cells = np.arange(len(points)).reshape(-1, 2)
    counted = np.column_stack([np.full(len(cells), 2), cells])
    mesh = pv.PolyData(points, lines=counted.ravel())
    mesh.cell_data[COLOURS] = colours
    return mesh
