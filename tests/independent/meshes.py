"""Mesh files for tests, written by trimesh: the reference library itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import trimesh  # noqa: TID251 - tests write files with the library, not with the engine

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Vertices = NDArray[np.float64]
    Faces = NDArray[np.int64]

ENDINGS: Final = (".glb", ".stl", ".obj", ".ply")

KILLER_FACES: Final = np.array([[3, 5, 4], [2, 5, 3], [0, 4, 3], [1, 3, 2], [1, 0, 3]])
"""interchange.md, section 0: five triangles of a real pump that end the process of a
boolean engine, whatever the coordinates."""


def box(low: tuple[float, ...], high: tuple[float, ...]) -> tuple[Vertices, Faces]:
    """Return a closed box whose faces look outwards."""
    made = trimesh.creation.box(bounds=[low, high])
    return np.array(made.vertices), np.array(made.faces)


def joined(*bodies: tuple[Vertices, Faces]) -> tuple[Vertices, Faces]:
    """Return several bodies as one mesh."""
    starts = np.cumsum([0, *(len(vertices) for vertices, _ in bodies)])
    faces = [faces + start for (_, faces), start in zip(bodies, starts, strict=False)]
    return np.concatenate([vertices for vertices, _ in bodies]), np.concatenate(faces)


def open_box(low: tuple[float, ...], high: tuple[float, ...]) -> tuple[Vertices, Faces]:
    """Return a box without its top."""
    vertices, faces = box(low, high)
    top = (vertices[faces][:, :, 2] == high[2]).all(axis=1)
    assert top.sum() == 2
    return vertices, faces[~top]


def sheet(low: tuple[float, ...], high: tuple[float, ...]) -> tuple[Vertices, Faces]:
    """Return an upright sheet without thickness, from one corner to the other."""
    vertices = np.array(
        [
            [low[0], low[1], low[2]],
            [high[0], high[1], low[2]],
            [high[0], high[1], high[2]],
            [low[0], low[1], high[2]],
        ]
    )
    return vertices, np.array([[0, 1, 2], [0, 2, 3]])


def write(path: Path, vertices: Vertices, faces: Faces) -> str:
    """Write a mesh file in its own ending's format; return its name.

    Of a GLB file the coordinates are turned so that y is up (glTF 2.0, 3.4).
    """
    if path.suffix == ".glb":
        vertices = np.column_stack([vertices[:, 0], vertices[:, 2], -vertices[:, 1]])
    trimesh.Trimesh(vertices, faces, process=False).export(path)
    return path.name
