"""How often an item stands there, and the type it is made from, as a person writes it.

A file says less this way; reading it writes both out, and no item of a scene has them.
"""

from typing import Annotated, Any, Final

from pydantic import Discriminator, Field, Tag

from model3d.scene.parts.part import Flag, Length, Name, Part, Point3

FEWEST: Final = 2
MOST: Final = 1000
"""Copies of one item."""


def _which_step(value: Any) -> str:  # noqa: ANN401 - whatever is written
    return "three" if isinstance(value, list | tuple) else "one"


class Repeat(Part):
    """Copies of an item, side by side: exactly one of step and touching."""

    count: Annotated[int, Field(strict=True, ge=FEWEST, le=MOST)]
    """How many there are, the first included."""
    step: (
        Annotated[
            Annotated[Length, Tag("one")] | Annotated[Point3, Tag("three")],
            Discriminator(_which_step),
        ]
        | None
    ) = None
    """From one to the next: to the right, or right, out and up, as who stands in front
    sees it. A run is seen from where it begins: right is across it, out is back."""
    touching: Flag | None = None
    """Sections side by side: the step is the item's width; gear gets one line_up."""


class Short(Part):
    """What an item of a file may say instead of writing everything out."""

    type: Name | None = None
    """The type it is made from; whatever key stands at the item itself goes before, and
    an empty value (null) takes the type's away."""
    repeat: Repeat | None = None
    """Copies of it in a row; their ids number on from the last number in its id, or
    from 1 where {n} stands in it."""
