"""A scene to begin with: a room with a door and one panel, and what each line means."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class _Sizes:
    """Sizes for a beginning in one unit: common practice.

    Attributes:
        height: Of the room, where none is said.
        door: How far along its wall it is, its width and height.
        panel: Width, depth, height.
        bottom: Of the panel above the floor.
    """

    height: str
    door: tuple[str, str, str]
    panel: str
    bottom: str


_INCHES: Final = _Sizes("120", ("12", "36", "84"), "[20, 6, 36]", "36")
_SIZES: Final = {
    "mm": _Sizes("3000", ("300", "900", "2100"), "[500, 150, 900]", "900"),
    "m": _Sizes("3", ("0.3", "0.9", "2.1"), "[0.5, 0.15, 0.9]", "0.9"),
    "in": _INCHES,
    "ft": _Sizes("10", ("1", "3", "7"), "[20 in, 6 in, 36 in]", "3"),
}


def skeleton(title: str, units: str, rules: str, size: Sequence[str]) -> str:
    """Return the text of a scene with comments.

    Args:
        title: Of the scene.
        units: What a bare number means.
        rules: The rule book.
        size: East, north and, if it is known, the height, each as written.
    """
    east, north, *high = size
    sizes = _SIZES[units]
    height = high[0] if high else sizes.height
    measure = "floor to structural ceiling"
    known = measure if high else f"{measure}: NOT SAID, so measure it and put it right"
    along, width, tall = sizes.door
    door = f"along: {along}, width: {width}, height: {tall}, opens: out, hinge: left"
    return f"""\
# A room to begin with. Everything here may be changed; `standclear check` this file
# after each step, and every mistake is told with its line. x runs east, y north, z up.
# The kinds of items: `standclear kinds`. Every key: scenes/format.md of standclear.
title: {_quoted(title)}

# What a bare number means: mm, m, in or ft. 30 in or 0.9 m may stand anywhere.
units: {units}
# The rule book; `standclear rules` lists them.
rules: {_quoted(rules)}
premises: new            # new, existing or existing-dwelling
use: electrical-room     # battery-room, crawl-space, above-ceiling, outdoor, ...

room:
  # Between the wall faces: east, north.
  size: [{east}, {north}]
  # {known[0].upper()}{known[1:]}.
  height: {height}
  # What faces the room: a word for all four walls, or one each, such as
  # {{north: concrete, east: block, south: gypsum, west: brick}}. Grounded surfaces,
  # such as concrete, may ask for more depth in front of what faces them.
  walls: concrete
  # What switches the light: manual, automatic or both.
  # lighting: {{control: manual}}
  doors:
    # along: from the wall's left end, as seen from inside the room, facing the wall.
    - {{id: D1, wall: south, {door}}}

items:
  # One panel in the corner, to be changed into yours.
  - id: LP1
    kind: panelboard
    # Width, depth, height.
    size: {sizes.panel}
    # Its back is to the wall; along: from the wall's left end to the panel's left side.
    place: {{wall: north, along: 0, bottom: {sizes.bottom}}}
    supply: {{system: 208Y/120, amps: 225}}
    # One leaf over the whole front, hinged left.
    door: left

  # Free on the floor, its front to the south; `at` is the middle of its footprint:
  # - {{id: T1, kind: transformer, size: [...], place: {{at: [x, y], facing: south}}}}
  # A pipe from one point to another:
  # - {{id: P1, kind: pipe, from: [x, y, z], to: [x, y, z], diameter: ...}}
"""


def _quoted(text: str) -> str:
    plain = text.replace("-", "").replace(".", "").replace(" ", "")
    if plain.isalnum() and plain[0].isalpha() and text == text.strip():
        return text
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
