"""The words for what a wall is made of."""

from typing import Final

GROUNDED_MATERIALS: Final = ("concrete", "block", "brick", "tile", "metal", "stone")
"""Wall materials whose surface counts as grounded.

Concrete, brick and tile: 29 CFR 1910.303 Tables S-1 and S-2. Block and stone walls
are masonry and metal sheet is bonded or bondable: common practice.
"""

OTHER_MATERIALS: Final = ("gypsum", "drywall", "plaster", "wood", "glass", "plastic")
"""Wall materials whose surface does not count as grounded (common practice)."""

OPEN_SIDE: Final = "open"
"""The word for a side of an outdoor place that has no wall."""

WALL_WORDS: Final = (*GROUNDED_MATERIALS, *OTHER_MATERIALS, OPEN_SIDE)
"""Every word a wall may carry."""
