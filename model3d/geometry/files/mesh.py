"""Mesh files: GLB, STL, OBJ and PLY."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.files.shells import united

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


def read_mesh(path: Path) -> tuple[Points, Faces]:
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
        trimesh.repair.fix_normals(found, multibody=True)  # type: ignore[no-untyped-call]
    if found.is_volume:
        found = united(found)
    return (
        np.asarray(found.vertices, dtype=np.float64),
        np.asarray(found.faces, dtype=np.int64),
    )
