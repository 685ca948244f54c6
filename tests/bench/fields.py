"""Fields of many boxes, as shapes to be drawn. Invented data."""

from __future__ import annotations

from typing import Final

import numpy as np

from viewer.stage import palette
from viewer.stage.drawn import Shape

_CORNERS: Final = np.array(
    [(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], float
)
_FACES: Final = np.array(
    [
        *((0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1)),
        *((2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)),
    ]
)
_EDGES: Final = np.array(
    [
        *((0, 1), (0, 2), (0, 4), (1, 3), (1, 5), (2, 3)),
        *((2, 6), (3, 7), (4, 5), (4, 6), (5, 7), (6, 7)),
    ]
)


def many_boxes(count: int) -> tuple[Shape, ...]:
    """Return a square field of boxes, a metre apart."""
    side = int(count**0.5) + 1
    return tuple(
        _box(n, np.array([n % side, n // side, 0.0]) + _CORNERS * [0.6, 0.5, 1.0])
        for n in range(count)
    )


def _box(number: int, vertices: np.ndarray) -> Shape:
    return Shape(
        id=f"B{number}",
        item=f"B{number}",
        layer="gear",
        role="solid",
        kind="obstacle",
        about="",
        vertices=vertices,
        faces=_FACES,
        edges=vertices[_EDGES],
        colour=palette.LEAF,
        edge_colour=palette.EDGE,
    )
