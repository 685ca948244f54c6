"""Words that need a place on a drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.figure.drafting import pens

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.strokes import Box

SIZE: Final = 2.5
"""Millimetres. Height of the typeface of names and sizes: letters of 1.8 mm, the
least of ISO 3098."""

_NEAR: Final = 12.0
_FAR: Final = 45.0
"""Millimetres that what is not needed, and what is, is led away at most."""


_TOUCH: Final = 0.05
"""Millimetres that two boxes may overlap and count as beside one another."""


@dataclass(frozen=True, slots=True)
class FigureLabel:
    """Words that need a place.

    Attributes:
        lines: What is written, one below the other.
        thing: The box of what they belong to; a point is a box without a size.
        room: The box they must lie in.
        layer: Their meaning.
        size: Of the letters.
        bold: How many lines, from the first, are in heavy letters.
        inside: Middles of boxes to be tried first: in the thing itself.
        rows: Middles of boxes to be tried next: near the thing, with a leader to it.
        needed: It decides: where it finds no place it is told in a note beside the
            drawing. Otherwise it is left out, and with it the dimension that it
            belongs to, rather than led far away.
        far: Millimetres that it is led away at most; None: as far as is usual.
        about: What it is about, for a note: "depth"; "" where its words say it.
        others: Boxes of all things: led away it does not stand in one that is beside
            its own, where it would be taken for that one's name.
    """

    lines: tuple[str, ...]
    thing: Box
    room: Box
    layer: str = pens.NAME
    size: float = SIZE
    bold: int = 0
    inside: tuple[Spot, ...] = ()
    rows: tuple[Spot, ...] = ()
    needed: bool = True
    far: float | None = None
    about: str = ""
    others: Sequence[Box] = ()

    @property
    def reach(self) -> float:
        """How far it is led away at most, millimetres."""
        usual = _FAR if self.needed else _NEAR
        return usual if self.far is None else self.far


def are_apart(one: Box, other: Box) -> bool:
    """Tell whether two boxes do not overlap.

    >>> are_apart((0, 0, 2, 2), (2, 0, 4, 2)), are_apart((0, 0, 2, 2), (1, 1, 4, 2))
    (True, False)
    """
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return min(across, down) <= _TOUCH


def at_point(point: Spot) -> Box:
    """Return a point as a box without a size."""
    return (*point, *point)
