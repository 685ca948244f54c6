"""A scene to begin with: a room with a door and one panel, and what each line means."""

from __future__ import annotations

import re
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
    return f"""\
# A room to begin with. Everything here may be changed; `standclear check` this file
# after each step, and every mistake is told with its line. x runs east, y north, z up.
# The kinds of items: `standclear kinds`. Every key: scenes/format.md of standclear.
{_top(title, units, rules)}
room:
{_measures(units, size)}
{_WALLS}
  walls: concrete
{_LIGHTS}
  doors:
    # {_ALONG}
    - {_door(units)}

items:
  # One panel in the corner, to be changed into yours.
  - id: LP1
    kind: panelboard
    # Width, depth, height.
    size: {_SIZES[units].panel}
    # Its back is to the wall; along: from the wall's left end to the panel's left side.
    place: {{wall: north, along: 0, bottom: {_SIZES[units].bottom}}}
    supply: {{system: 208Y/120, amps: 225}}
    # One leaf over the whole front, hinged left.
    door: left

  # Free on the floor, its front to the south; `at` is the middle of its footprint:
  # - {{id: T1, kind: transformer, size: [...], place: {{at: [x, y], facing: south}}}}
  # A pipe from one point to another:
  # - {{id: P1, kind: pipe, from: [x, y, z], to: [x, y, z], diameter: ...}}
"""


def skeleton_of_list(
    title: str, units: str, rules: str, size: Sequence[str], source: str
) -> str:
    """Return the text of a scene for a list of equipment, which says no more of it.

    What a list does not tell, walls and doors, stands in comments: nothing is guessed.

    Args:
        title: Of the scene.
        units: What a bare number means.
        rules: The rule book.
        size: East, north and, if it is known, the height, each as written.
        source: The list's name.
    """
    return f"""\
# From {source}. What has no place waits for one, such as these:
#   place: {{wall: north, along: 0}}          its back to the wall
#   place: {{at: [x, y], facing: south}}      the middle of its footprint
# `standclear check` this file after each step. x runs east, y north, z up.
# Every key: scenes/format.md of standclear.
{_top(title, units, rules)}
room:
{_WALLS}
  # walls: concrete
{_LIGHTS}
  # Where the doors are;
  # {_ALONG}
  # doors:
  #   - {_door(units)}
{_measures(units, size)}
"""


def as_yaml(length: float | str) -> str:
    r"""Return a length of a command line as it is written in a scene.

    >>> as_yaml(6000.0), as_yaml("20 ft"), as_yaml("6'-6\"")
    ('6000', '20 ft', '"6\'-6\\""')
    """
    if not isinstance(length, str):
        return str(int(length)) if length == int(length) else repr(length)
    if re.fullmatch(r"[\w./ ]+", length):
        return length
    quoted = length.replace('"', r"\"")
    return f'"{quoted}"'


_WALLS: Final = """\
  # What faces the room: a word for all four walls, or one each, such as
  # {north: concrete, east: block, south: gypsum, west: brick}. Grounded surfaces,
  # such as concrete, may ask for more depth in front of what faces them."""
_LIGHTS: Final = """\
  # What switches the light: manual, automatic or both.
  # lighting: {control: manual}"""
_ALONG: Final = (
    "along: from the wall's left end, as seen from inside the room, facing the wall."
)


def _top(title: str, units: str, rules: str) -> str:
    return f"""\
title: {_quoted(title)}

# What a bare number means: mm, m, in or ft. 30 in or 0.9 m may stand anywhere.
units: {units}
# The rule book; `standclear rules` lists them.
rules: {_quoted(rules)}
premises: new            # new, existing or existing-dwelling
use: electrical-room     # battery-room, crawl-space, above-ceiling, outdoor, ...
"""


def _measures(units: str, size: Sequence[str]) -> str:
    east, north, *high = size
    height = high[0] if high else _SIZES[units].height
    measure = "Floor to structural ceiling"
    known = measure if high else f"{measure}: NOT SAID, so measure it and put it right"
    return f"""\
  # Between the wall faces: east, north.
  size: [{east}, {north}]
  # {known}.
  height: {height}"""


def _door(units: str) -> str:
    along, width, tall = _SIZES[units].door
    where = f"along: {along}, width: {width}, height: {tall}, opens: out, hinge: left"
    return f"{{id: D1, wall: south, {where}}}"


def _quoted(text: str) -> str:
    plain = text.replace("-", "").replace(".", "").replace(" ", "")
    if plain.isalnum() and plain[0].isalpha() and text == text.strip():
        return text
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
