"""Where an item stands, as a person writes it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from model3d.scene.parts import Distance, Length, Part, Point2, Point3

Side = Literal["north", "east", "south", "west"]
Align = Literal["back", "front", "centre"]
Facing = Side | Annotated[float, Field(allow_inf_nan=False)]

BEARING: dict[str, float] = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}
"""Degrees clockwise from north of the compass words."""


class AtWall(Part):
    """The item's back is to a wall."""

    wall: str
    """The wall: north, east, south or west; an outline's walls are wall-1, wall-2 ..."""
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
    """Where the front points: a compass word, or degrees clockwise from north."""
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

    stands_on: str
    """The id of the item below."""


class Over(_Relative):
    """The item is mounted above another item."""

    over: str
    """The id of the item below."""
    gap: Distance = 0.0
    """Clear height between the two."""


class Under(_Relative):
    """The item is mounted below another item."""

    under: str
    """The id of the item above."""
    gap: Distance = 0.0
    """Clear height between the two."""


_KEYS = {
    "wall": AtWall,
    "at": At,
    "stands_on": StandsOn,
    "over": Over,
    "under": Under,
}


def _which(value: Any) -> str | None:
    if isinstance(value, Part):
        return next((key for key, cls in _KEYS.items() if isinstance(value, cls)), None)
    if not isinstance(value, dict):
        return None
    found = [key for key in _KEYS if key in value]
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
