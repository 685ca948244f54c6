"""Where an item stands, as a person writes it."""

import re
from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Discriminator, Tag

from model3d.scene.parts.part import Angle, Distance, Length, Name, Part, Point2, Point3
from model3d.scene.words.nearest import hint

Side = Literal["north", "east", "south", "west"]
Align = Literal["back", "front", "centre"]

BEARING: Final[dict[str, float]] = {
    "north": 0.0,
    "east": 90.0,
    "south": 180.0,
    "west": 270.0,
}
"""Degrees clockwise from north of the compass words."""
_BETWEEN: Final = {
    f"{one}{sign}{other}": degrees
    for one, other, degrees in (
        ("north", "east", 45),
        ("south", "east", 135),
        ("south", "west", 225),
        ("north", "west", 315),
    )
    for sign in ("-", "", " ")
}

PLACES: Final = ("wall", "at", "stands_on", "over", "under")
"""The keys of which a place has exactly one."""

REFERENCES: Final = ("stands_on", "over", "under")
"""The keys of a place that name another item."""


def _facing(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    if isinstance(value, str) and value in BEARING:
        return value
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if is_number and -_TURN <= value <= _TURN:
        return value
    near = _near(value) if isinstance(value, str) else ""
    msg = f"north, east, south, west, or degrees from -360 to 360{near}"
    raise ValueError(msg)


def _near(word: str) -> str:
    if degrees := _DEGREES.fullmatch(word):
        return f" (nearest: {degrees[1]}, without a unit)"
    if word.casefold() in _BETWEEN:
        return f" (nearest: {_BETWEEN[word.casefold()]})"
    return hint(word, BEARING)


_TURN: Final = 360
_DEGREES: Final = re.compile(
    r"(-?\d+(?:\.\d+)?)\s*(?:\N{DEGREE SIGN}|deg(?:rees?)?\.?)"
)
Facing = Annotated[Side | Angle, BeforeValidator(_facing)]


class AtWall(Part):
    """The item's back is to a wall."""

    wall: Name
    """The wall: north, east, south or west; of an outline wall-1, wall-2 ..."""
    along: Length
    """From the wall's left end, seen from inside, to the item's left side."""
    bottom: Length | None = None
    """Height of the item's underside above the floor; 0 if nothing is said."""
    top: Length | None = None
    """Height of the item's top above the floor, instead of bottom."""
    gap: Length = 0.0
    """Clear distance between the wall and the item's back."""


class At(Part):
    """The middle of the item's footprint is at a point."""

    at: Point2
    """x, y of the middle of the footprint."""
    facing: Facing | None = None
    """Where the front points: a compass word, or degrees clockwise from north; south
    if nothing is said."""
    bottom: Length | None = None
    """Height of the item's underside above the floor; 0 if nothing is said."""
    top: Length | None = None
    """Height of the item's top above the floor, instead of bottom."""


class _Relative(Part):
    align: Align = "back"
    """Which faces line up in depth; widths are centred."""
    shift: Point3 = (0.0, 0.0, 0.0)
    """Move from there: right, out, up."""


class StandsOn(_Relative):
    """The item stands on another item."""

    stands_on: Name
    """The id of the item below."""


class Over(_Relative):
    """The item is mounted above another item."""

    over: Name
    """The id of the item below."""
    gap: Distance = 0.0
    """Clear height between the two."""


class Under(_Relative):
    """The item is mounted below another item."""

    under: Name
    """The id of the item above."""
    gap: Distance = 0.0
    """Clear height between the two."""


def _which(value: Any) -> str | None:  # noqa: ANN401 - whatever is written
    if isinstance(value, Part):
        return next((key for key in PLACES if hasattr(value, key)), None)
    found = [key for key in PLACES if isinstance(value, dict) and key in value]
    return found[0] if len(found) == 1 else None


Place = Annotated[
    Annotated[AtWall, Tag("wall")]
    | Annotated[At, Tag("at")]
    | Annotated[StandsOn, Tag("stands_on")]
    | Annotated[Over, Tag("over")]
    | Annotated[Under, Tag("under")],
    Discriminator(
        _which,
        custom_error_type="place",
        custom_error_message="one place: wall, at, stands_on, over or under",
    ),
]


def support_of(place: object) -> tuple[str, str] | None:
    """Return the key of a place that names another item, and the id of that one."""
    # Not by getattr: the library looks long for what a place does not have.
    said = getattr(place, "__dict__", {})
    for key in REFERENCES:
        target = said.get(key)
        if isinstance(target, str):
            return key, target
    return None
