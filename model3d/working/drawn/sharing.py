"""Whether two things share room, by their plans at the heights that both are at."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.standing.placed import Placed

_SAME: Final = 1e-9
"""Metres. Rounding."""


def shares(one: Placed, other: Placed, was: Placed) -> bool:
    """Tell whether two things share room.

    Args:
        one: A thing.
        other: Another one.
        was: The first where it was before it was moved.
    """
    (low, high), (bottom, top) = one.solid.bounds, other.solid.bounds
    depths = [
        min(b, d) - max(a, c) for a, b, c, d in zip(low, high, bottom, top, strict=True)
    ]
    if min(depths) <= TOUCH:
        return False
    between = max(low[2], bottom[2]), min(high[2], top[2])
    plans = _plan(one, was, between), footprint(other.solid, *between)
    return bool(plans[0].intersection(plans[1]).area > TOUCH**2)


def _plan(one: Placed, was: Placed, between: tuple[float, float]) -> flat.Geometry:
    """Return what a thing covers between two heights; of a mesh as it was, moved.

    Its plan is dear, and the same wherever it is put at its height.
    """
    now, old = one.solid, was.solid
    if now is old or not isinstance(now, Mesh) or not isinstance(old, Mesh):
        return footprint(now, *between)
    if now.vertices.shape != old.vertices.shape or now.faces is not old.faces:
        return footprint(now, *between)
    away = now.vertices - old.vertices
    by = away[0]
    if abs(by[2]) > _SAME or np.abs(away - by).max() > _SAME:
        return footprint(now, *between)
    return flat.transform(footprint(old, *between), lambda at: at + by[:2])
