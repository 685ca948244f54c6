"""The levels of a place in a building: its floor, what is open of that, its ceiling."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan.lines.enclosed import box_around
from model3d.geometry.plan.lines.ring import left_open, share_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from model3d.exchange.ifc.element import Building, Element
    from model3d.geometry.frame import Corner
    from model3d.geometry.plan.lines.enclosed import Turned

STEP: Final = 0.3
"""Metres by which a finished floor may lie above or below the bottom of its space."""
HEAD: Final = 2.0
"""Metres over a floor from where on a slab or roof may be its ceiling."""
_OVERHEAD: Final = ("IfcSlab", "IfcRoof")
_FLOORS: Final = ("IfcSlab", "IfcCovering", "IfcPlate")
_SUNK: Final = 0.1
"""Metres below a floor at which what is there is floor still."""
_MOST: Final = 0.5
"""Share of a room from which a level is its floor or its ceiling."""
_WHOLE: Final = 0.9
"""Share of a room from which a level far above the bottom of its space is its floor."""


def finished_floor(
    building: Building,
    outline: Sequence[Corner],
    near: float,
    below: float = STEP,
    above: float = STEP,
) -> float | None:
    """Return the height of what a person stands on in a place; None where none is.

    It is the highest level near the bottom of the space at which slabs and coverings
    end that make up most of the floor, not the storey's level: else floor coverings
    would stand in the way. What makes up less, such as a pad, stands on the floor; and
    so does a platform that is no raised floor of nearly all the room.
    """
    tops = [
        (float(one.points[:, 2].max()), one)
        for one in building.solids
        if one.is_a(*_FLOORS) and near - below <= one.points[:, 2].max() <= near + above
    ]
    usual = [pair for pair in tops if pair[0] <= near + STEP]
    raised = [pair for pair in tops if pair[0] > near + STEP]
    levels = _main_levels(usual, outline) + _main_levels(raised, outline, _WHOLE)
    return max(levels, default=None)


def holes_in(
    building: Building, outline: Sequence[Corner], floor: float
) -> tuple[Turned, ...]:
    """Return where nothing is at the height of a floor that a person stands on."""
    near = [Mesh(one.points, one.faces) for one in building.solids]
    open_ = left_open(outline, near, floor - _SUNK, floor + _SUNK / 2)
    return tuple(box_around(one) for one in open_)


def ceiling_over(
    building: Building, outline: Sequence[Corner], floor: float, least: float
) -> float | None:
    """Return the lowest level, from a height on, at which slabs end over a place."""
    least = max(least, floor + HEAD)
    undersides = [
        (float(one.points[:, 2].min()), one)
        for one in building.solids
        if one.is_a(*_OVERHEAD) and one.points[:, 2].min() >= least
    ]
    return min(_main_levels(undersides, outline), default=None)


def _main_levels(
    levels: Iterable[tuple[float, Element]],
    outline: Sequence[Corner],
    least: float = _MOST,
) -> list[float]:
    """Return the levels at which elements make up a share of an outline at least."""
    shares: dict[float, float] = {}
    tops: dict[float, float] = {}
    for level, one in levels:
        share = share_of(outline, Mesh(one.points, one.faces))
        step = round(level, 2)
        shares[step] = shares.get(step, 0.0) + share
        if share:
            tops[step] = max(level, tops.get(step, level))
    return [tops[step] for step, share in shares.items() if share >= least]
