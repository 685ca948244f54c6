"""Colours and what they mean, once for every face.

Two strong colours carry the result, a third marks what is picked; they are told apart
by people with any colour vision (Okabe and Ito, "Color Universal Design", 2008). All
else is grey or blue-grey: a tan or brown would look like what is in the way to many.
Edges and numbered badges say the same without colour.
"""

from __future__ import annotations

from typing import Final

SPACE: Final = "#56B4E9"
"""A required space."""
SPACE_EDGE: Final = "#0072B2"
"""Edges of a required space, and a size that is required."""
CLEAR_EDGE: Final = "#66A9D0"
"""Edges of a required space that is clear: paler, for nothing is wrong with it."""
INTRUSION: Final = "#D55E00"
"""What stands in a required space, and a size that is too small."""
INTRUSION_EDGE: Final = "#4A1800"
"""Edges of what stands in a required space."""
INTRUSION_TEXT: Final = "#A84A00"
"""The same for letters on a light ground: darker, so that they can be read."""
WAY: Final = "#DDD3DC"
"""The ribbon of a way out that is too narrow or in question."""
WAY_EDGE: Final = "#5E4A5C"
"""The line along it."""
SELECTION: Final = "#F0E442"
"""What is picked."""
SELECTION_EDGE: Final = "#7A7000"
"""Outline of what is picked, on a light ground."""

FREE: Final = "#009E73"
"""Where a thing may be put."""
FREE_EDGE: Final = "#005C43"
FREE_OPACITY: Final = 0.5

INK: Final = "#1E252C"
"""Text."""
FAINT_INK: Final = "#5A6672"
"""Text that matters less."""
PAPER: Final = "#FFFFFF"
"""Behind text."""
BACKGROUND: Final = "#F7F9FB"
"""Behind the room, below."""
BACKGROUND_TOP: Final = "#E6ECF1"
"""Behind the room, above."""

EDGE: Final = "#2F353B"
"""Edges of all that is solid."""
CUT: Final = "#39424B"
"""Where a wall is cut away."""
WALL: Final = "#E4EAEF"
"""Faces of the room's walls."""
FLOOR: Final = "#F3F6F8"
"""The floor."""
SLAB: Final = "#C3CCD4"
"""The sides of the floor."""
GRID: Final = "#C6D0D9"
"""Lines on the floor and the room's own edges."""
MARK: Final = "#6B7783"
"""Lines that help to read the picture: head height, the round of a room door."""
LEAF: Final = "#B4C3D1"
"""Door leaves."""
CELL: Final = "#5C6C7C"
"""Battery cells."""

GHOST_OPACITY: Final = 0.22
"""Of what is overhead and all is well with."""
GHOST_EDGE_OPACITY: Final = 0.4
SPACE_OPACITY: Final = 0.08
"""Of a required space: more would dim the very thing that stands in it."""
FOOTPRINT_OPACITY: Final = 0.38
"""Of a required space's footprint."""
CLEAR_OPACITY: Final = 0.02
"""Of a required space that is clear."""
CLEAR_FOOTPRINT_OPACITY: Final = 0.14
OPEN_LEAF_OPACITY: Final = 0.32
"""Of a leaf that stands open."""
WAY_OPACITY: Final = 0.85
"""Of the ribbon of a way out: where its pieces overlap it is hardly darker."""
GLASS_OPACITY: Final = 0.3
"""Of what is in the way and belongs to a wall that is not drawn, and of what is drawn
as the most that it can take up."""
ENVELOPE_OPACITY: Final = 0.1
"""Of the outside of a rack whose inside is drawn."""

_GEAR: Final = "#97ABBE"
_ASSOCIATED: Final = "#A9B8C5"
_FOREIGN: Final = "#BCC3CA"
_STRUCTURE: Final = "#CED4DA"

_BY_KIND: Final = {
    "panelboard": _GEAR,
    "switchboard": _GEAR,
    "switchgear": _GEAR,
    "motor-control-center": _GEAR,
    "disconnect": _GEAR,
    "transfer-switch": _GEAR,
    "control-panel": _GEAR,
    "ups": _GEAR,
    "meter-socket": _GEAR,
    "transformer": "#7F93A6",
    "battery-rack": "#9AA8B5",
    "battery-cabinet": _GEAR,
    "meter": "#73879A",
    "pad": "#B4BAC0",
    "support": "#98A3AD",
    "luminaire": "#E3E8EC",
    "sprinkler": "#A8AEB4",
    "gas-pipe": "#9CA3AA",
    "floor": FLOOR,
    "wall": "#D3D9DF",
    "platform": "#D9DEE3",
    "ceiling": "#D9DEE3",
}

STRONG: Final = (SPACE, SPACE_EDGE, INTRUSION, INTRUSION_EDGE, SELECTION)
"""The colours that carry a meaning; nothing else may look like them."""


def neutral(kind: str, *, associated: bool = False, structure: bool = False) -> str:
    """Return the colour of a solid, by its kind.

    A kind that has no colour of its own takes that of its group.
    """
    if kind in _BY_KIND:
        return _BY_KIND[kind]
    if structure:
        return _STRUCTURE
    return _ASSOCIATED if associated else _FOREIGN


def channels(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue of a colour, each 0 to 255.

    >>> channels("#0072B2")
    (0, 114, 178)
    """
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def mixed(colour: str, other: str, share: float) -> str:
    """Return a colour with a share of another one in it.

    >>> mixed("#000000", "#FFFFFF", 0.5)
    '#808080'
    """
    parts = (
        round(a + (b - a) * share)
        for a, b in zip(channels(colour), channels(other), strict=True)
    )
    return "#" + "".join(f"{part:02X}" for part in parts)
