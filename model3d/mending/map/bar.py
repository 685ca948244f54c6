"""What bars places: displacements of an item that something forbids."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from model3d.geometry.plan import flat, swept
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner, Frame
    from model3d.geometry.intervals import Interval

    Points = NDArray[np.float64]

Sure = Literal["barred", "asked", "open"]
"""Certainly not met there; a question for the rule itself; met but for what is not
known."""

CONTACT: Final = 0.3 * TOUCH
"""Metres that every bar is smaller at its rim, so that what only touches is free and a
thing fits a slot of its own size; less than contact, so that rounding changes nothing.
"""
FAR: Final = 1e4
"""Metres. Further than any scene reaches."""


@dataclass(frozen=True, slots=True, eq=False)
class Bar:
    """Displacements at which a requirement is not met, or may not be.

    Attributes:
        plan: The displacements, east and north, metres.
        by: Ids of what is in the way.
        requirement: The rule's name; "body" where one thing would stand in another.
        of: Id of the item whose requirement it is.
        sure: How sure it is.
        why: Why it is open, where nothing in the way makes it so.
    """

    plan: flat.Geometry
    by: tuple[str, ...]
    requirement: str
    of: str
    sure: Sure = "barred"
    why: str = ""

    @property
    def key(self) -> tuple[str, str]:
        """The question to ask: requirement and subject."""
        return self.requirement, self.of


def bar(
    plan: flat.Geometry, by: str, requirement: str, of: str, sure: Sure = "barred"
) -> Bar:
    """Return a bar of one thing, without the rim that is contact."""
    return Bar(swept.shrunk(plan, CONTACT), (by,), requirement, of, sure)


def lying_in(moved: flat.Geometry, there: flat.Geometry) -> flat.Geometry:
    """Return the displacements at which a plan lies in another one."""
    parts = flat.get_parts(moved)
    return flat.union_all(
        [swept.meeting(there, flat.get_coordinates(one.convex_hull)) for one in parts]
    )


def doubted(bars: Iterable[Bar], where: flat.Geometry | None) -> list[Bar]:
    """Return bars of which the part in a doubtful area is only asked about.

    Args:
        bars: The bars.
        where: The area; None where nothing is doubtful.
    """
    if where is None:
        return list(bars)
    found = []
    for one in bars:
        if one.sure != "barred" or not one.plan.intersects(where):
            found.append(one)
            continue
        found.append(replace(one, plan=one.plan.difference(where)))
        found.append(replace(one, plan=one.plan.intersection(where), sure="asked"))
    return found


def rectangle(
    frame: Frame, left: float, right: float, low: float, high: float
) -> Points:
    """Return the plan corners of a rectangle: left to right, low to high ahead."""
    corners = ((left, low), (right, low), (right, high), (left, high))
    return np.array([frame.to_plan(u, v) for u, v in corners])


def ahead_of(out: tuple[float, float], least: float) -> flat.Polygon:
    """Return the displacements that go further than ``least`` along a unit vector."""
    (x, y), aside = out, (-out[1], out[0])
    corners = [
        (least, -FAR),
        (least + 2 * FAR, -FAR),
        (least + 2 * FAR, FAR),
        (least, FAR),
    ]
    return flat.Polygon(
        [(a * x + b * aside[0], a * y + b * aside[1]) for a, b in corners]
    )


def spans(
    line: flat.LineString, plans: Iterable[flat.Geometry], way: Corner, least: float
) -> list[Interval]:
    """Return where a straight line is in shapes, as distances from its start.

    Args:
        line: The line.
        plans: The shapes.
        way: The line's unit vector.
        least: What is no longer is left out, metres.

    >>> plans = [flat.box(1, 0, 2, 1), flat.box(9, 0, 9, 1), flat.box(5, -1, 6, 0)]
    >>> spans(flat.LineString([(0, 0), (9, 0)]), plans, (1.0, 0.0), 0.1)
    [(1.0, 2.0), (5.0, 6.0)]
    """
    shared = flat.intersection(line, np.array([*plans], dtype=object))
    corners, of = flat.get_coordinates(flat.get_parts(shared), return_index=True)
    if not len(corners):
        return []
    (x, y), *_ = line.coords
    along = (corners[:, 0] - x) * way[0] + (corners[:, 1] - y) * way[1]
    first = np.flatnonzero(np.diff(of, prepend=-1))
    low, high = np.minimum.reduceat(along, first), np.maximum.reduceat(along, first)
    kept = high - low > least
    return list(zip(low[kept].tolist(), high[kept].tolist(), strict=True))
