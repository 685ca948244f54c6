"""A box as the text of an OBJ file, whole or with sides that are not there."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

_SIDES: Final = (
    *((1, 2, 4, 3), (5, 7, 8, 6), (1, 5, 6, 2)),
    *((3, 4, 8, 7), (1, 3, 7, 5), (2, 6, 8, 4)),
)


def corners(*ends: tuple[float, float]) -> NDArray[np.float64]:
    """Return the corners of a box between ends along three axes, shape (8, 3)."""
    return np.array([*product(*ends)])


def written(points: Iterable[Iterable[float]], sides: int = 6) -> str:
    """Return an OBJ file of so many sides of a box.

    Args:
        points: Its corners, in the order of ``corners``.
        sides: How many of its six sides it has.
    """
    lines = [("v", *point) for point in points]
    lines += [("f", *side) for side in _SIDES[:sides]]
    return "".join(f"{' '.join(map(str, line))}\n" for line in lines)
