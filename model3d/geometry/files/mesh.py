"""Mesh files: GLB, STL, OBJ, PLY and STEP."""

from __future__ import annotations

import io
import logging
import warnings
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.disk.files import content
from model3d.geometry.bodies.edges import bounds_a_volume, edges_of
from model3d.geometry.files.announced import (
    MOST_TRIANGLES,
    MeshFileError,
    require_few,
    require_obj,
    require_ply,
)
from model3d.geometry.files.glb import require_glb
from model3d.geometry.files.obj import numbered, plain_obj
from model3d.geometry.files.scans.large import mended_scan, stl_triangles
from model3d.geometry.files.scans.ply_scan import ply_triangles
from model3d.geometry.files.shells import united
from model3d.geometry.files.step_file import glb_of, require_step
from model3d.geometry.files.stl import is_text_stl, require_stl, stl_corners

if TYPE_CHECKING:
    from pathlib import Path

    import trimesh
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

LARGEST: Final = 512 * 2**20
"""Bytes; ten million triangles of an STL file, which writes each corner anew."""
_BEFORE: Final = {
    ".glb": require_glb,
    ".stl": require_stl,
    ".obj": require_obj,
    ".ply": require_ply,
    ".step": require_step,
    ".stp": require_step,
}
# Without a handler what the reader logs would go to the user's terminal.
logging.getLogger("trimesh").addHandler(logging.NullHandler())
_A_TRIANGLE: Final = {".stl": 50, ".ply": 13}
"""Bytes, at the least; files that may have too many for the library have a reader."""
_FLAT: Final = "no triangles of finite size"
_FARTHEST: Final = 1e100
"""Of a mesh's own numbers; beyond, squares are no numbers any more."""


def read_mesh(path: Path) -> tuple[Points, Faces]:
    """Read vertices and faces of a mesh file as they stand in it; of STEP in metres.

    Raises:
        MeshFileError: The file holds no triangles or too many, or is not what its
            ending says.
        OSError: It cannot be read, or is no plain file.
    """
    data, ending = _content(path)
    with warnings.catch_warnings():
        # Of numbers that are none; they are looked at below.
        warnings.simplefilter("ignore")
        points, faces = _loaded(data, ending)
        del data
        return _mended(points, faces)


def read_parts(path: Path) -> dict[str, tuple[Points, Faces]]:
    """Read vertices and faces of each part of a GLB file, by the part's name.

    Raises:
        MeshFileError: The file holds no triangles or too many, or is not what its
            ending says.
        OSError: It cannot be read, or is no plain file.
    """
    import trimesh  # noqa: PLC0415 - takes half a second, and few scenes have a mesh

    data, ending = _content(path)
    parts = {}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        _loaded(data, ending)  # says what is wrong with the file as a whole
        scene = trimesh.load_scene(
            io.BytesIO(data), file_type="glb", process=False, skip_materials=True
        )
        for name in sorted(scene.graph.nodes_geometry):
            matrix, shape = scene.graph[name]
            mesh = scene.geometry[shape]
            if isinstance(mesh, trimesh.Trimesh):
                points = trimesh.transform_points(mesh.vertices, matrix)
                parts[str(name)] = _mended(points, np.array(mesh.faces))
    return parts


def mended(points: Points, faces: Faces) -> tuple[Points, Faces]:
    """Return triangles without doubles, their winding put right where that is certain.

    Raises:
        MeshFileError: There is no triangle of finite size.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return _mended(points, faces)


def _content(path: Path) -> tuple[bytes, str]:
    data = content(path, LARGEST)
    if len(data) > LARGEST:
        msg = f"more than {LARGEST // 2**20} MiB"
        raise MeshFileError(msg)
    ending = path.suffix.lower()
    if ending == ".obj":
        data = plain_obj(data)
    before = _BEFORE[ending]
    before(data)
    if before is require_step:
        data, ending = glb_of(data), ".glb"
        require_glb(data)
    return data, ending


def _mended(points: Points, faces: Faces) -> tuple[Points, Faces]:
    if len(faces) > MOST_TRIANGLES:
        points, faces = mended_scan(points, faces)
        if not len(faces):
            raise MeshFileError(_FLAT)
        return points, faces
    import trimesh  # noqa: PLC0415 - takes half a second, and few scenes have a mesh

    # Anew, without what the file says of colours and of directions.
    found = trimesh.Trimesh(points, faces, process=False)
    # Formats that repeat each corner for each face would else never be closed.
    found.merge_vertices(merge_tex=True, merge_norm=True)
    found.update_faces(found.nondegenerate_faces())
    if not len(found.faces):
        raise MeshFileError(_FLAT)
    points, faces = _plain(found)
    is_volume = bounds_a_volume(points, faces)
    if not is_volume and edges_of(points, faces).paired:
        # Closed but turned inside out, or mixed: mending the turn loses nothing.
        trimesh.repair.fix_normals(found, multibody=True)  # type: ignore[no-untyped-call]
        points, faces = _plain(found)
        is_volume = bounds_a_volume(points, faces)
    whole = united(found) if is_volume else found
    return (points, faces) if whole is found else _plain(whole)


def _plain(mesh: trimesh.Trimesh) -> tuple[Points, Faces]:
    """Return arrays of our own: trimesh looks at its own at each touch."""
    return (
        np.array(mesh.vertices, dtype=np.float64),
        np.array(mesh.faces, dtype=np.int64),
    )


def _loaded(data: bytes, ending: str) -> tuple[Points, Faces]:
    """Return the triangles of a file, each with corners that are there.

    Raises:
        MeshFileError: There are none, or the file is not what its ending says.
    """
    try:
        return _triangles(data, ending)
    except MeshFileError:
        if ending == ".obj":
            numbered(data)  # says which line it is
        raise


def _triangles(data: bytes, ending: str) -> tuple[Points, Faces]:
    points, faces = _arrays(data, ending)
    if not len(faces):
        msg = "no triangles"
        raise MeshFileError(msg)
    if points.ndim != 2 or points.shape[1] != 3 or faces.shape[1:] != (3,):  # noqa: PLR2004
        msg = "its points are not in space"
        raise MeshFileError(msg)
    require_few(len(points), len(faces), 0 if ending == ".obj" else len(data))
    if faces.min() < 0 or faces.max() >= len(points):
        wrong = ((faces < 0) | (faces >= len(points))).any(axis=1)
        msg = f"face {int(np.argmax(wrong)) + 1} names a point that is not there"
        raise MeshFileError(msg)
    is_used = np.zeros(len(points), dtype=bool)
    is_used[faces] = True
    if not (np.abs(points[is_used]) <= _FARTHEST).all():
        msg = "a point that is no finite place"
        raise MeshFileError(msg)
    return points, faces


def _arrays(data: bytes, ending: str) -> tuple[Points, Faces]:
    """Return vertices and faces of a file, whatever they are.

    Raises:
        MeshFileError: The file is not what its ending says.
    """
    import trimesh  # noqa: PLC0415 - takes half a second, and few scenes have a mesh

    if ending == ".stl" and is_text_stl(data):
        points = stl_corners(data)
        return points, np.arange(len(points)).reshape(-1, 3)
    if len(data) > MOST_TRIANGLES * _A_TRIANGLE.get(ending, LARGEST):
        return stl_triangles(data) if ending == ".stl" else ply_triangles(data)
    try:
        # Given the bytes alone, it can look for no other files beside them.
        loaded = trimesh.load(
            io.BytesIO(data),
            file_type=ending.removeprefix("."),
            force="mesh",
            process=False,
            skip_materials=True,
        )
        if not isinstance(loaded, trimesh.Trimesh):
            return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
        return (
            np.array(loaded.vertices, dtype=np.float64),
            np.array(loaded.faces, dtype=np.int64),
        )
    except Exception as error:
        # The readers of four formats raise whatever their parsing trips over.
        msg = f"it is damaged, or no {ending.removeprefix('.').upper()} file"
        raise MeshFileError(msg) from error
