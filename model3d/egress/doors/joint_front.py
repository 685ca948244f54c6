"""Gear that touches with its fronts in one plane: one front to whoever walks past."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from model3d.geometry.frame import Frame
    from model3d.standing.placed import Front, Placed

_TOUCHING: Final = 1e-3
"""Metres. Sections that are drawn nearer to each other touch."""

_SAME_WAY: Final = 1e-6
"""By how much the cosine between two directions may lack of one."""


@dataclass(frozen=True, slots=True)
class Row:
    """A front of one item or of several that touch.

    Attributes:
        items: The items with their fronts, from left to right.
        frame: Of the leftmost: its origin is the left end of the row.
        width: From end to end, metres.
    """

    items: tuple[Placed, ...]
    frame: Frame
    width: float

    def ahead(self, depth: float) -> flat.Polygon:
        """Return what is before the front to a depth, in plan."""
        corners = ((0.0, 0.0), (self.width, 0.0), (self.width, depth), (0.0, depth))
        return flat.Polygon([self.frame.to_plan(u, v) for u, v in corners])

    def is_before(self, at: tuple[float, float], depth: float = float("inf")) -> bool:
        """Tell whether a point of the plan is before the front and not beside it.

        Args:
            at: The point.
            depth: How far ahead of the front it is at the most, metres.
        """
        along, ahead = self.frame.to_frame(*at)
        return 0.0 <= along <= self.width and ahead <= depth


def rows(items: Iterable[Placed]) -> tuple[Row, ...]:
    """Put items together into rows; each that has a front is in one."""
    fronted = [(one, one.front) for one in items if one.front is not None]
    fronts = [front for _, front in fronted]
    table = np.array(
        [(one.frame.x, one.frame.y, *one.frame.out, one.width) for one in fronts]
    )
    left = np.arange(len(fronts))
    found = []
    while len(left):
        here, left = [int(left[0])], left[1:]
        for one in here:
            near = _touching(fronts[one], table[left])
            here += left[near].tolist()
            left = left[~near]
        found.append(row_of([fronted[one] for one in here]))
    return tuple(found)


def row_of(together: Sequence[tuple[Placed, Front]]) -> Row:
    """Return the row of some items that touch."""
    frame = together[0][1].frame
    starts = [frame.to_frame(one.frame.x, one.frame.y)[0] for _, one in together]
    order = sorted(range(len(together)), key=lambda n: (starts[n], together[n][0].id))
    first = order[0]
    ends = [starts[n] + one.width for n, (_, one) in enumerate(together)]
    return Row(
        tuple(together[n][0] for n in order),
        frame.moved(starts[first], 0.0),
        max(ends) - starts[first],
    )


def _touching(front: Front, table: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Tell which of other fronts continue one.

    Args:
        front: The one.
        table: By other front: its origin, the way it faces and its width, shape (n, 5).
    """
    frame = front.frame
    step = table[:, :2] - (frame.x, frame.y)
    start, ahead = step @ frame.right, step @ frame.out
    same = table[:, 2:4] @ frame.out >= 1.0 - _SAME_WAY
    same &= np.abs(ahead) <= _TOUCHING
    same &= start <= front.width + _TOUCHING
    same &= start + table[:, 4] >= -_TOUCHING
    return np.asarray(same)
