"""What is wrong with a file of points, in a few words; and how much one may hold."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

MOST_POINTS: Final = 10_000_000
"""A scan of a whole room has a hundredth to a half of it."""
_FARTHEST: Final = 1e100
"""Of a file's own numbers; beyond, squares are no numbers any more."""


class PointFileError(ValueError):
    """A file of points that cannot be used; the message says why, in a few words."""


TOO_SHORT: Final = "the file ends too early"


def require_few(points: int) -> None:
    """Make sure that a cloud is not too large to be held, and not empty.

    Raises:
        PointFileError: It is.
    """
    if points > MOST_POINTS:
        msg = f"more than {MOST_POINTS} points"
        raise PointFileError(msg)
    if points <= 0:
        msg = "no points"
        raise PointFileError(msg)


def finite(points: Points) -> Points:
    """Return points, each a place.

    Raises:
        PointFileError: There are none or too many, or one is no finite place.
    """
    require_few(len(points))
    with np.errstate(invalid="ignore"):
        wrong = ~(np.abs(points) <= _FARTHEST).all(axis=1)
    if wrong.any():
        msg = f"point {int(np.argmax(wrong)) + 1} is no finite place"
        raise PointFileError(msg)
    return points
