"""Many places of a floor that are asked about together.

Rules ask about every working space of a room, one after another, and of each the same:
what is free of it, and where a person has room there. Asked together that takes half
the time, for most of it goes by between the calls; the answers are the same.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.plan import flat
from model3d.geometry.plan.grown import grown_each
from model3d.geometry.plan.union import less_each
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor

    Numbers = NDArray[np.int64]
    Points = NDArray[np.float64]
    Shapes = NDArray[np.object_]


def free_each(floor: Floor, areas: Shapes) -> Shapes:
    """Return what is free of each of some areas."""
    of, number = floor.tree.query(areas, predicate="intersects")
    whole = flat.intersection(areas, floor.region)
    return less_each(whole, floor.tree.geometries[number], of)


def pieces_each(floor: Floor, areas: Shapes, width: float) -> tuple[Shapes, Numbers]:
    """Return where in each of some areas the middle of a person can be.

    Args:
        floor: With the areas on it.
        areas: Free floor.
        width: Of the person, as ``Floor.parts`` has it, metres.

    Returns:
        Connected pieces, and of which area each is, rising.
    """
    radius = width / 2
    of, number = floor.tree.query(areas, predicate="dwithin", distance=radius)
    about = floor.middles.about_each(np.unique(number).tolist(), radius)
    edge = floor.middles.edge(radius)
    beside, rim = flat.intersects(areas[:, None], edge[None]).nonzero()
    taken = [about[one] for one in number.tolist()]
    radii = np.full(len(areas), radius)
    return _left(floor, areas, (taken, of), (edge[rim], beside), radii)


def pieces_of_each(
    floor: Floor, areas: Shapes, widths: Points
) -> tuple[Shapes, Numbers]:
    """Return the same as ``pieces_each`` where each area is asked about its own width.

    Args:
        floor: With the areas on it.
        areas: Free floor.
        widths: Metres, one of each area.
    """
    radii = widths / 2
    of, number = floor.tree.query(areas, predicate="dwithin", distance=radii)
    asked = np.stack([number, radii[of]], axis=1)
    ones, which = np.unique(asked, axis=0, return_inverse=True)
    shapes = floor.tree.geometries[ones[:, 0].astype(np.int64)]
    about = grown_each(shapes, ones[:, 1])
    edges, beside = [], []
    for one in _near_the_edge(floor, areas, radii):
        rim = floor.middles.edge(float(radii[one]))
        here = rim[flat.intersects(rim, areas[one])].tolist()
        edges += here
        beside += [one] * len(here)
    taken = [about[one] for one in which.ravel().tolist()]
    along = np.array(edges, dtype=object), np.array(beside, dtype=np.int64)
    return _left(floor, areas, (taken, of), along, radii)


def _left(
    floor: Floor,
    areas: Shapes,
    taken: tuple[Sequence[Sequence[flat.Geometry]], Numbers],
    along: tuple[Shapes, Numbers],
    radii: Points,
) -> tuple[Shapes, Numbers]:
    """Return what is left of areas, in pieces, and of which area each is.

    Args:
        floor: With the areas on it.
        areas: Free floor.
        taken: What bodies take from one, in pieces each, and from which area.
        along: What the edge of the region takes, and from which area.
        radii: Of whom it is asked, metres, one of each area.
    """
    bodies, of = taken
    edges, beside = along
    pieces = np.array([piece for one in bodies for piece in one], dtype=object)
    counts = np.array([len(one) for one in bodies], dtype=np.int64)
    of = np.concatenate([np.repeat(of, counts), beside])
    order = np.argsort(of, kind="stable")
    left = less_each(areas, np.concatenate([pieces, edges])[order], of[order])
    found, of = flat.get_parts(left, return_index=True)
    kept = floor.is_place(found, radii[of])
    return found[kept], of[kept]


def _near_the_edge(floor: Floor, areas: Shapes, radii: Points) -> list[int]:
    """Return which areas what lies along the edge of the region may take from."""
    near = flat.dwithin(floor.edge, areas, radii + TOUCH)
    found: list[int] = near.nonzero()[0].tolist()
    return found
