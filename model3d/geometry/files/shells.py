"""Shells of one mesh that overlap: united, so that nothing is counted twice."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.clipping import winding
from model3d.geometry.bodies.self_crossing import is_tangle

if TYPE_CHECKING:
    import trimesh
    from numpy.typing import NDArray

    Bounds = NDArray[np.float64]
    """Lowest and highest corners, shape (n, 2, 3)."""

_FLAT: Final = 1e-6
"""Share of its bounds below which the volume of a shell is rounding."""
_SAME: Final = 1e-5
"""Share of a mesh's size by which the engine of single precision may move it."""
_HALF: Final = 0.5
"""Of a winding: more is inside."""


def united(mesh: trimesh.Trimesh) -> trimesh.Trimesh:
    """Return a closed mesh whose shells overlap as the surface of their union.

    Where none overlap, or no union is found that is as large, it is the mesh itself; so
    is a tangle that would be taken to cross itself after minutes of work, as before.
    """
    if mesh.body_count == 1:
        return mesh
    shells = list(mesh.split(only_watertight=False, repair=False))
    if not _meet(np.array([shell.bounds for shell in shells])) or any(
        abs(shell.volume) <= _FLAT * np.prod(shell.extents) for shell in shells
    ):
        return mesh
    if is_tangle(np.asarray(mesh.vertices), np.asarray(mesh.faces)):
        return mesh
    # Near its own origin the single precision of the engine is fine enough.
    origin = mesh.bounds[0]
    for shell in shells:
        shell.apply_translation(-origin)
    found = _union(shells)
    found.apply_translation(origin)
    same = found.is_volume and np.allclose(
        found.bounds, mesh.bounds, rtol=0.0, atol=_SAME * mesh.scale
    )
    return found if same else mesh


def _meet(bounds: Bounds) -> bool:
    """Tell whether any two of some bounds share a space."""
    bounds = bounds[np.argsort(bounds[:, 0, 0])]
    for here, one in enumerate(bounds):
        rest = bounds[here + 1 :]
        rest = rest[: np.searchsorted(rest[:, 0, 0], one[1, 0])]
        low, high = np.maximum(rest[:, 0], one[0]), np.minimum(rest[:, 1], one[1])
        if (low < high).all(axis=1).any():
            return True
    return False


def _union(shells: list[trimesh.Trimesh]) -> trimesh.Trimesh:
    """Return the union of shells; one that looks inwards is a hollow in its body.

    Its body is the smallest around it, and without one it is no hollow.
    """
    import trimesh  # noqa: PLC0415 - takes half a second, and few scenes have a mesh

    bodies = [shell for shell in shells if shell.volume > 0]
    hollows: dict[int, list[trimesh.Trimesh]] = {}
    alone = []
    for shell in shells:
        if shell.volume > 0:
            continue
        shell.invert()
        point = shell.vertices[:1]
        around = [
            (float(body.volume), number)
            for number, body in enumerate(bodies)
            if winding(body.triangles, point)[0] > _HALF
        ]
        if around:
            hollows.setdefault(min(around)[1], []).append(shell)
        else:
            alone.append(shell)
    for number, inside in hollows.items():
        bodies[number] = trimesh.boolean.difference(
            [bodies[number], *inside], engine="manifold", check_volume=False
        )
    found: trimesh.Trimesh = trimesh.boolean.union(
        [*bodies, *alone], engine="manifold", check_volume=False
    )
    return found
