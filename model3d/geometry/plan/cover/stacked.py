"""What stands on one another: of things of one plan only what is seen from above.

A thing that is drawn as two, one on the other, is in the way as the one would be.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.plan import flat
from model3d.geometry.plan.union import less
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    Named = tuple[str, flat.Geometry]


def each_once(plans: Iterable[Named]) -> tuple[Named, ...]:
    """Return plans without those that another covers exactly; the first of them stays.

    Two bodies in one place would each hide what is narrow beside the other.
    """
    given = tuple(plans)
    shapes = flat.to_wkb(np.array([plan for _, plan in given], dtype=object))
    known: dict[bytes, int] = {}
    for number, shape in enumerate(shapes.tolist()):
        known.setdefault(shape, number)
    return tuple(given[number] for number in known.values())


def beside(plan: flat.Geometry, walked: Iterable[flat.Geometry]) -> flat.Geometry:
    """Return what is beside all that is walked on, without slivers along its edge.

    What carries something of the same plan would leave such ones, as long as a wall.
    """
    near = [one for one in walked if one.intersects(plan)]
    if not near:
        return plan
    parts = flat.get_parts(less(plan, near))
    edge = flat.union_all(near).buffer(TOUCH)
    return flat.union_all(parts[~flat.covers(edge, parts)])
