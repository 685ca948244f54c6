"""Whole tenths of a millimetre, and the axes of a frame."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.geometry.frame import Frame

PER_METRE: Final = 10_000
_DIGITS: Final = 9


def tenths(metres: float) -> int:
    """Return a length in whole tenths of a millimetre.

    >>> tenths(0.0254)
    254
    """
    return round(metres * PER_METRE)


def all_tenths(metres: Iterable[float]) -> list[int]:
    """Return lengths in whole tenths of a millimetre."""
    return [tenths(one) for one in metres]


def axes(frame: Frame) -> list[float]:
    """Return a frame: its origin in tenths, right and out as unit vectors."""
    ways = (round(part, _DIGITS) + 0.0 for part in (*frame.right, *frame.out))
    return [tenths(frame.x), tenths(frame.y), *ways]
