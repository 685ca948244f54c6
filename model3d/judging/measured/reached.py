"""How far what stands above or below an item comes past its face."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from model3d.judging.measured.fit import Hit
    from model3d.judging.space import Space

REACH: Final = "reach"
"""The size of what stands out past a face: a greatest figure."""


def reach(hit: Hit, space: Space) -> float | None:
    """Return how far an associated item above or below comes past the face."""
    if hit.stretch.start <= 0 or space.reach is None:
        return None
    endless = float("inf")
    whole = hit.view.extents((-endless,) * 3, (endless,) * 3)
    return None if whole is None else whole[1][1]
