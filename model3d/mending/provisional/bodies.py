"""Bodies as stacks of plan shapes, each between two heights."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.geometry.bodies.solid import Box
from model3d.geometry.plan.convex.pieces import convex_parts
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH
from model3d.mending.provisional.tenths import all_tenths, tenths

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.geometry.bodies.solid import Solid

Slab = list[Any]
"""Lowest and highest height, then convex rings as x, y, x, y and so on."""

_MOST_SLABS: Final = 24
"""So many slabs a body is cut into; where more would be needed the page is unsure."""
_SAME: Final = 1e-9


def stack(solid: Solid, heights: Iterable[float]) -> list[Slab]:
    """Return a body as slabs: the shadow of each part between two heights.

    The shadow between any two of the heights is that of the slabs between them.

    Args:
        solid: The body.
        heights: World heights at which it is cut, metres.
    """
    (_, _, low), (_, _, high) = solid.bounds
    if is_upright(solid):
        return [_slab(solid, low, high)]
    inside = sorted({h for h in heights if low + 2 * TOUCH < h < high - 2 * TOUCH})
    ends = [low, *inside[: _MOST_SLABS - 1], high]
    return list(_merged(_slab(solid, a, b) for a, b in pairwise(ends)))


def is_upright(solid: Solid) -> bool:
    """Tell whether a body has the same plan at every height."""
    if isinstance(solid, Box):
        return True
    vertices, faces = solid.mesh
    (_, _, low), (_, _, high) = solid.bounds
    z = vertices[:, 2]
    if not solid.measurable or np.minimum(abs(z - low), abs(z - high)).max() > _SAME:
        return False
    a, b, c = vertices[faces].transpose(1, 0, 2)
    volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6
    plan = footprint(solid, low, high)
    return bool(abs(abs(volume) - plan.area * (high - low)) <= _SAME)


def _slab(solid: Solid, low: float, high: float) -> Slab:
    plan = footprint(solid, low - TOUCH, high + TOUCH)
    rings = [all_tenths(ring.ravel().tolist()) for ring in convex_parts(plan)]
    return [tenths(low), tenths(high), *rings]


def _merged(slabs: Iterator[Slab]) -> Iterator[Slab]:
    """Yield slabs of which two that lie on each other differ."""
    last: Slab | None = None
    for one in slabs:
        if last is not None and last[2:] == one[2:]:
            last = [last[0], *one[1:]]
            continue
        if last is not None:
            yield last
        last = one
    if last is not None:
        yield last
