"""Shells of one mesh that overlap: united, so that nothing is counted twice."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.clipping import winding
from model3d.geometry.bodies.edges import bounds_a_volume
from model3d.geometry.bodies.self_crossing import is_tangle

if TYPE_CHECKING:
    from collections.abc import Iterator

    import trimesh
    from numpy.typing import NDArray

    Bounds = NDArray[np.float64]
    """Lowest and highest corners, shape (n, 2, 3)."""
    Corner = NDArray[np.float64]

_FLAT: Final = 1e-6
"""Share of its bounds below which the volume of a shell is rounding."""
_SAME: Final = 1e-5
"""Share of a mesh's size by which the engine of single precision may move it."""
_MOST_PAIRS: Final = 500
"""Of shells that are looked at one by one; very many are rather united."""
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
    bounds = np.array([shell.bounds for shell in shells])
    pairs = list(islice(_meeting(bounds), _MOST_PAIRS + 1))
    if len(pairs) <= _MOST_PAIRS and _are_hollows(shells, bounds, pairs):
        return mesh
    if any(abs(shell.volume) <= _FLAT * np.prod(shell.extents) for shell in shells):
        return mesh
    if is_tangle(np.asarray(mesh.vertices), np.asarray(mesh.faces)):
        return mesh
    # Near its own origin the single precision of the engine is fine enough.
    origin = mesh.bounds[0]
    for shell in shells:
        shell.apply_translation(-origin)
    found = union_of(shells)
    found.apply_translation(origin)
    same = found.is_volume and np.allclose(
        found.bounds, mesh.bounds, rtol=0.0, atol=_SAME * mesh.scale
    )
    return found if same else mesh


def _meeting(bounds: Bounds) -> Iterator[tuple[int, int]]:
    """Yield the pairs of some bounds that share a space."""
    order = np.argsort(bounds[:, 0, 0])
    bounds = bounds[order]
    for here, one in enumerate(bounds):
        rest = bounds[here + 1 :]
        rest = rest[: np.searchsorted(rest[:, 0, 0], one[1, 0])]
        low, high = np.maximum(rest[:, 0], one[0]), np.minimum(rest[:, 1], one[1])
        for other in np.flatnonzero((low < high).all(axis=1)).tolist():
            yield int(order[here]), int(order[here + 1 + other])


def _are_hollows(
    shells: list[trimesh.Trimesh], bounds: Bounds, pairs: list[tuple[int, int]]
) -> bool:
    """Tell whether shells surely touch nowhere, and none lies in a body but a hollow.

    Such a mesh is its own union: a room as a closed shell is one, whose walls would
    else be united in six times of what reading them takes.
    """
    inside = np.zeros(len(shells))
    for pair in pairs:
        low = np.maximum(*bounds[[*pair], 0])
        high = np.minimum(*bounds[[*pair], 1])
        if all(_reaches(shells[number], low, high) for number in pair):
            return False
        for one, other in (pair, pair[::-1]):
            if (bounds[one] == np.clip(bounds[one], *bounds[other])).all():
                point = shells[one].vertices[:1]
                inside[one] += winding(shells[other].triangles, point)[0].round()
    # A body stands where nothing is, a hollow where a body is.
    turned = [not bounds_a_volume(shell.vertices, shell.faces) for shell in shells]
    return bool((inside == turned).all())


def _reaches(shell: trimesh.Trimesh, low: Corner, high: Corner) -> bool:
    """Tell whether the bounds of any triangle of a shell meet a box."""
    a, b, c = shell.triangles.transpose(1, 0, 2)
    lows, highs = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    return bool(((lows <= high) & (highs >= low)).all(axis=1).any())


def union_of(shells: list[trimesh.Trimesh]) -> trimesh.Trimesh:
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
