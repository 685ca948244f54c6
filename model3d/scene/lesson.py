"""The scripted part of a scene: steps that change it, each checked and shown."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from model3d.scene.item import Item
from model3d.scene.parts import Part, Point3

Verdict = Literal["met", "not-met", "open"]


class Look(Part):
    """Where the viewer looks."""

    at: str
    """The id of the item looked at."""
    from_: Annotated[str | None, Field(alias="from")] = None
    """Compass direction the viewer stands in, for example south-east, or above."""


class SetItem(Part):
    """Change fields of an item; the fields stand beside ``set``."""

    set: str
    """The id of the item."""
    fields: dict[str, Any]
    """The new values by field."""


class MoveItem(Part):
    """Move an item."""

    move: str
    """The id of the item."""
    by: Point3
    """East, north, up."""


class RemoveItem(Part):
    """Take an item away."""

    remove: str
    """The id of the item."""


class AddItem(Part):
    """Put a new item into the room."""

    add: Item
    """The item."""


class OpenLeaf(Part):
    """Show a door leaf opened to an angle."""

    open: str
    """The id of the item."""
    to: Annotated[float, Field(ge=0, le=180)]
    """Degrees from closed."""
    leaf: Annotated[int, Field(ge=0)] = 0
    """Which leaf, the first is 0."""


_CHANGES = {
    "set": SetItem,
    "move": MoveItem,
    "remove": RemoveItem,
    "add": AddItem,
    "open": OpenLeaf,
}


def _which(value: Any) -> str | None:
    if isinstance(value, Part):
        return next((k for k, cls in _CHANGES.items() if isinstance(value, cls)), None)
    if not isinstance(value, dict):
        return None
    found = [key for key in _CHANGES if key in value]
    return found[0] if len(found) == 1 else None


Change = Annotated[
    Annotated[SetItem, Tag("set")]
    | Annotated[MoveItem, Tag("move")]
    | Annotated[RemoveItem, Tag("remove")]
    | Annotated[AddItem, Tag("add")]
    | Annotated[OpenLeaf, Tag("open")],
    Discriminator(
        _which,
        custom_error_type="change",
        custom_error_message="one change: set, move, remove, add or open",
    ),
]


class Step(Part):
    """One step of a lesson; it starts from the scene the step before left."""

    say: str | None = None
    """What is said."""
    ask: str | None = None
    """A question, shown first; the answer follows when it is asked for."""
    do: tuple[Change, ...] = ()
    """The changes of this step."""
    look: Look | None = None
    """Where the viewer looks."""
    expect: dict[str, Verdict] = {}
    """What the check must say of an item after this step."""


class Lesson(Part):
    """A lesson told by the scene."""

    title: str
    """Title of the lesson."""
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
    """The steps in their order."""
