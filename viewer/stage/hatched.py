"""Hatching on the faces of a body: it tells what is in the way without colour."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.surfaces import NO_EDGES

if TYPE_CHECKING:
    from viewer.stage.parts import Faces, Points

_ACROSS: Final = np.array([1.0, 0.62, 1.37])
"""Planes across this way cut the faces: no upright or level face lies along them, and
no two walls of a box are hatched alike."""
_WIDE: Final = 0.09
"""Metres between two lines of a large body."""
_LINES: Final = 9
"""A small body has about so many."""
_LEAST: Final = 0.012
_MOST: Final = 90
"""Lines across a body: a long one has them farther apart."""


def hatching(vertices: Points, faces: Faces) -> Points:
    """Return lines on the faces of a body, shape (k, 2, 3)."""
    if not len(faces):
        return NO_EDGES
    across = _ACROSS / np.linalg.norm(_ACROSS)
    levels = vertices @ across
    low, high = float(levels.min()), float(levels.max())
    step = max(min(_WIDE, (high - low) / _LINES), (high - low) / _MOST, _LEAST)
    corners, heights = vertices[faces], levels[faces]
    found = []
    for level in np.arange(np.ceil(low / step) * step, high, step):
        above = heights > level
        cut = above.any(axis=1) & ~above.all(axis=1)
        if cut.any():
            found.append(_cut(corners[cut], heights[cut], float(level)))
    return np.concatenate(found) if found else NO_EDGES


def _cut(corners: Points, heights: Points, level: float) -> Points:
    """Return where a plane crosses triangles that it crosses, shape (n, 2, 3)."""
    above = heights > level
    # The corner that is alone on its side comes first.
    alone = np.where(above.sum(axis=1) == 1, above.argmax(axis=1), above.argmin(axis=1))
    rows = np.arange(len(corners))
    tip, tip_at = corners[rows, alone], heights[rows, alone]
    ends = []
    for turn in (1, 2):
        other = (alone + turn) % 3
        foot, foot_at = corners[rows, other], heights[rows, other]
        share = (level - tip_at) / (foot_at - tip_at)
        ends.append(tip + share[:, None] * (foot - tip))
    return np.stack(ends, axis=1)
