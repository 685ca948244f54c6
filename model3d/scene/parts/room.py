"""The room: its outline, its walls, its personnel doors."""

from typing import Annotated, Any, Final, Literal

from pydantic import Discriminator, Field, Tag

from model3d.scene.parts.part import (
    Distance,
    Id,
    Length,
    Name,
    Number,
    Part,
    Point2,
    PositiveLength,
)
from model3d.scene.parts.stated import Stated


class RoomDoor(Part):
    """A personnel door in a wall."""

    id: Id
    """Unique name in the file."""
    wall: Name
    """The wall it is in."""
    along: Distance
    """From the wall's left end, seen from inside, to the opening's left side."""
    width: PositiveLength
    """Clear width of the opening."""
    height: PositiveLength
    """Clear height of the opening."""
    sill: Length = 0.0
    """Height of the threshold above the floor."""
    opens: Literal["in", "out"] | None = None
    """Into the room, or out of it."""
    hinge: Literal["left", "right", "pair"] | None = None
    """The side of the hinge, seen from inside."""
    hardware: Literal["panic", "fire-exit", "lever", "knob", "none"] | None = None
    """What opens it; panic and fire-exit mean listed hardware."""
    opens_to: Annotated[Number, Field(gt=0, le=180)] | None = None
    """How far it opens, in degrees."""
    overall: bool = False
    """Width and height are over its frame, as building models give them: ways out stay
    open until the clear opening is measured."""


def _which(value: Any) -> str | None:  # noqa: ANN401 - whatever is written
    if isinstance(value, dict):
        return "each"
    return "all" if isinstance(value, str) else None


Walls = Annotated[
    Annotated[str, Tag("all")] | Annotated[dict[str, str], Tag("each")],
    Discriminator(
        _which,
        custom_error_type="walls",
        custom_error_message="a word for all walls, or a mapping with one for each",
    ),
]

FEWEST_CORNERS: Final = 3
MOST_CORNERS: Final = 1000
"""Of an outline: a round hall with a corner every half a hand has as many."""


class Room(Stated):
    """A room, or an outdoor place."""

    size: tuple[PositiveLength, PositiveLength] | None = None
    """x and y between the wall faces of a rectangular room."""
    outline: (
        Annotated[
            tuple[Point2, ...],
            Field(min_length=FEWEST_CORNERS, max_length=MOST_CORNERS),
        ]
        | None
    ) = None
    """Corners of the floor, counter-clockwise, instead of size."""
    height: PositiveLength | None = None
    """Floor to structural ceiling; outdoors none if nothing is said."""
    walls: Walls | None = None
    """What faces the room: one word for all walls, or one for each."""
    doors: tuple[RoomDoor, ...] = ()
    """Personnel doors."""
