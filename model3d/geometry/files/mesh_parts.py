"""Triangles as the named parts of one GLB file."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class MeshPart:
    """One part of a file.

    Attributes:
        name: Of its node; no two are alike.
        points, faces: Metres, z up.
        colour: Red, green, blue and opacity, each from 0 to 255.
        extras: What else is said of it, as plain data.
    """

    name: str
    points: Points
    faces: Faces
    colour: tuple[int, int, int, int] = (190, 190, 190, 255)
    extras: Mapping[str, Any] = field(default_factory=dict)


_OPAQUE = 255


def glb(parts: Iterable[MeshPart], about: Mapping[str, Any]) -> bytes:
    """Return a GLB file: y up and in single precision, as glTF 2.0 has it.

    Args:
        parts: Its nodes, in their order.
        about: What is said of the file as a whole, as extras of its scene.
    """
    import trimesh  # noqa: PLC0415 - takes half a second
    from trimesh.visual import TextureVisuals  # noqa: PLC0415
    from trimesh.visual.material import PBRMaterial  # noqa: PLC0415

    scene = trimesh.Scene(metadata=dict(about))
    for part in parts:
        up = part.points[:, [0, 2, 1]] * (1.0, 1.0, -1.0)
        mesh = trimesh.Trimesh(
            up, part.faces, process=False, metadata=dict(part.extras)
        )
        material = PBRMaterial(  # type: ignore[no-untyped-call]
            name="-".join(map(str, part.colour)),
            baseColorFactor=np.array(part.colour, dtype=np.uint8),
            metallicFactor=0.0,
            roughnessFactor=0.8,
            doubleSided=True,
            alphaMode="OPAQUE" if part.colour[3] == _OPAQUE else "BLEND",
        )
        mesh.visual = TextureVisuals(material=material)  # type: ignore[no-untyped-call]
        scene.add_geometry(mesh, node_name=part.name, geom_name=part.name)
    data: bytes = scene.export(  # type: ignore[no-untyped-call]
        file_type="glb", include_normals=False
    )
    return data
