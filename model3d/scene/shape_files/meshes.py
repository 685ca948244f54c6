"""Mesh files of a scene: in metres, z up, turned as the scene asks for."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.files.announced import MeshFileError
from model3d.geometry.files.mesh import read_mesh, read_parts
from model3d.scene.checks.files import OWN_UNIT
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint
from model3d.units import FARTHEST, METRES

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.scene.parts.item import Item
    from model3d.scene.scene import Scene

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


class MeshError(ValueError):
    """A mesh file that cannot be used; the message says why."""


def mesh_of(item: Item, scene: Scene) -> tuple[Points, Faces]:
    """Return a mesh's vertices in metres, turned as asked for, and its faces."""
    folder = scene.file.parent if scene.file else Path()
    path = folder / str(item.mesh)
    try:
        points, faces = _of_file(path, path.stat().st_mtime_ns, item.part)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        msg = f'found "{item.mesh}" ({reason}), right is a file with triangles'
        raise MeshError(msg) from error
    is_gltf = path.suffix.lower() == ".glb"
    in_metres = path.suffix.lower() in OWN_UNIT
    unit = item.units or ("m" if in_metres else scene.units)
    points = points * (item.scale * METRES[unit])
    is_near = np.abs(points) <= FARTHEST
    if not is_near.all() and not is_near[faces].all():
        far = "a point more than 10 000 km away"
        msg = f'found "{item.mesh}" ({far}), right is a file with triangles'
        raise MeshError(msg)
    if is_gltf:
        # glTF has y up (glTF 2.0, 3.4 Coordinate System and Units).
        points = points[:, [0, 2, 1]] * (1.0, -1.0, 1.0)
    return turned(points, item), faces


def turned(points: Points, item: Item) -> Points:
    """Return points of a file, turned about its origin as the item asks for."""
    match item.turn:
        case None:
            return points
        case (float() | int(), _, _) as angles:
            turns = angles
        case degrees:
            turns = (0.0, 0.0, -float(degrees))
    for axis, degrees in enumerate(turns):
        points = points @ _rotation(axis, degrees).T
    return points


def _of_file(path: Path, changed: int, part: str | None) -> tuple[Points, Faces]:
    if part is None:
        return _loaded(path, changed)
    parts = _parts(path, changed)
    if part not in parts:
        msg = f"it has no part {found(part)}{hint(part, parts)}"
        raise MeshFileError(msg)
    return parts[part]


@lru_cache(maxsize=8)
def _parts(path: Path, _changed: int) -> dict[str, tuple[Points, Faces]]:
    return read_parts(path)


@lru_cache(maxsize=64)
def _loaded(path: Path, _changed: int) -> tuple[Points, Faces]:
    return read_mesh(path)


def _rotation(axis: int, degrees: float) -> Points:
    """Return the right-handed rotation about x, y or z."""
    sine, cosine = np.sin(np.radians(degrees)), np.cos(np.radians(degrees))
    matrix = np.eye(3)
    one, two = (axis + 1) % 3, (axis + 2) % 3
    matrix[one, one] = matrix[two, two] = cosine
    matrix[one, two], matrix[two, one] = -sine, sine
    return matrix
