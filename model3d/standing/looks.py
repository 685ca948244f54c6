"""What is drawn of an item in place of its box: a mesh or a scan beside its size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.clouds.body import Cloud
from model3d.scene.shape_files.clouds import cloud_of
from model3d.scene.shape_files.meshes import mesh_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model3d.geometry.bodies.solid import Solid
    from model3d.scene.parts.item import Item
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Front

    Points = NDArray[np.float64]


def drawn_of(item: Item, scene: Scene, front: Front | None) -> Mesh | None:
    """Return the mesh beside a size, where it stands, or None where there is none."""
    if front is None or item.size is None or item.mesh is None:
        return None
    points, faces = mesh_of(item, scene)
    return Mesh(in_box(points, front), faces)


def surveyed_of(
    item: Item, scene: Scene, solid: Solid, front: Front | None
) -> Cloud | None:
    """Return the scan that an item is, or that stands beside its size, or None."""
    if isinstance(solid, Cloud):
        return solid
    if front is None or item.points is None:
        return None
    points, sifted = cloud_of(item, scene)
    return Cloud(in_box(points, front), sifted)


def in_box(points: Points, front: Front) -> Points:
    """Return where points are whose origin is the front lower left corner of a box."""
    # A file's own axes are those of an item that faces south: x right, y to the
    # back. The turn from there keeps it right-handed, so its faces stay outwards.
    local = points * (1.0, -1.0, 1.0)
    local[:, 2] += front.bottom
    return front.frame.world(local)
