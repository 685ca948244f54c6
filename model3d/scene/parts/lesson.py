"""The scripted part of a scene: steps that change it, each checked and shown."""

from collections.abc import Mapping
from typing import Annotated, Any, Final, Literal

from pydantic import (
    Discriminator,
    Field,
    Tag,
    ValidationInfo,
    model_serializer,
    model_validator,
)

from model3d.scene.parts.item import Count, Item
from model3d.scene.parts.look import Look
from model3d.scene.parts.part import Flag, Name, Number, Part, Point3, Words
from model3d.scene.parts.stated import Stated

Verdict = Literal["met", "not-met", "open"]

PLACES: Final = ("room", "scene")
"""What has no id and may be changed all the same, by these words."""

SCENE_KEYS: Final = (
    "rules",
    "installed",
    "premises",
    "use",
    "measures",
    *Stated.model_fields,
)
"""What a step may change of the scene itself."""


Written = Mapping[str, Any]
"""A part as plain data, with the keys of the file."""


class SetItem(Part):
    """Change keys of an item, a room door, the room or the scene, beside ``set``."""

    set: Name
    """The id of the item or of the room door, or one of the words room and scene."""
    fields: dict[str, Any]
    """The new values by field, as in the file; null takes a field away."""

    @model_validator(mode="before")
    @classmethod
    def _gather(cls, value: Any, info: ValidationInfo) -> Any:  # noqa: ANN401 - whatever is written
        if not isinstance(value, dict) or value.keys() <= {"set"}:
            return value
        # Only Python gathers them itself; a file, which has a context, never does.
        if value.keys() == {"set", "fields"} and info.context is None:
            return value
        beside = {key: new for key, new in value.items() if key != "set"}
        return {"set": value.get("set"), "fields": beside}

    @model_serializer
    def _as_written(self) -> dict[str, Any]:
        return {"set": self.set, **self.fields}


class MoveItem(Part):
    """Move an item."""

    move: Name
    """The id of the item."""
    by: Point3
    """East, north, up."""


class RemoveItem(Part):
    """Take an item away."""

    remove: Name
    """The id of the item."""


class AddItem(Part):
    """Put a new item into the room."""

    add: Item
    """The item."""


class OpenLeaf(Part):
    """Show a door leaf opened to an angle."""

    open: Name
    """The id of the item, or of a personnel door."""
    to: Annotated[Number, Field(ge=0, le=180)]
    """Degrees from closed."""
    leaf: Annotated[int, Field(strict=True, ge=0)] = 0
    """Which leaf, the first is 0."""


CHANGES: Final = ("set", "move", "remove", "add", "open")
"""The keys of which a change has exactly one."""


def which_change(value: Any) -> str | None:  # noqa: ANN401 - whatever is written
    """Return which change is written, or None where it is not exactly one."""
    if isinstance(value, Part):
        return next((key for key in CHANGES if key in type(value).model_fields), None)
    if not isinstance(value, dict):
        return None
    # Beside ``set`` stand fields of the item, and ``open`` is one of a battery rack.
    rivals = [key for key in CHANGES if key in value]
    if "set" in rivals and "open" in rivals:
        rivals.remove("open")
    return rivals[0] if len(rivals) == 1 else None


Change = Annotated[
    Annotated[SetItem, Tag("set")]
    | Annotated[MoveItem, Tag("move")]
    | Annotated[RemoveItem, Tag("remove")]
    | Annotated[AddItem, Tag("add")]
    | Annotated[OpenLeaf, Tag("open")],
    Discriminator(
        which_change,
        custom_error_type="change",
        custom_error_message="one change: set, move, remove, add or open",
    ),
]


def _which_expectation(value: Any) -> str:  # noqa: ANN401 - whatever is written
    return "each" if isinstance(value, dict) else "all"


Expectation = Annotated[
    Annotated[Verdict, Tag("all")]
    | Annotated[dict[str, Verdict], Field(min_length=1), Tag("each")],
    Discriminator(_which_expectation),
]
"""What is expected of an item: of all its requirements together, or of some by name.

Together the worst one counts: not-met where one is not met, else open where one is
open, else met.
"""


def changed_fields(written: Written, fields: Written) -> dict[str, Any]:
    """Return what is written of a part with other fields; None takes a field away.

    >>> changed_fields({"id": "A", "door": "left"}, {"door": None, "rear": "bolted"})
    {'id': 'A', 'rear': 'bolted'}
    """
    changed = {**written, **fields}
    return {key: value for key, value in changed.items() if value is not None}


def changed_site(written: Written, name: str, fields: Written) -> dict[str, Any]:
    """Return what is written of a site with other keys of its own, or of a part of it.

    Args:
        written: The site.
        name: The word scene or room, or the id of a room door.
        fields: The other keys.
    """
    if name == "scene":
        return changed_fields(written, fields)
    room = written.get("room")
    room = room if isinstance(room, dict) else {}
    if name == "room":
        return {**written, "room": changed_fields(room, fields)}
    doors = [
        changed_fields(door, fields)
        if isinstance(door, dict) and door.get("id") == name
        else door
        for door in room["doors"]
    ]
    return {**written, "room": {**room, "doors": doors}}


class Choice(Part):
    """One of the answers that a class may choose from."""

    text: Words
    """The answer."""
    right: Flag
    """Whether it is right."""
    why: Words
    """Why it is right, or wrong."""


class ShownSize(Part):
    """A dimension of the author's own, drawn in the room; its length is measured."""

    from_: Annotated[Point3, Field(alias="from")]
    """One end: east, north, up, in the room."""
    to: Point3
    """The other end."""
    label: Annotated[str, Field(min_length=1, max_length=60)] | None = None
    """What is written before the length, for example free."""


class Step(Part):
    """One step of a lesson; it starts from the scene the step before left."""

    say: Words | None = None
    """What is said."""
    ask: Words | None = None
    """A question, shown first; the answer follows when it is asked for."""
    choices: Annotated[tuple[Choice, ...], Field(max_length=8)] = ()
    """Answers to choose from; at least one of them is right."""
    find: tuple[Name, ...] = ()
    """Ids of the items and room doors that the class shall find and name."""
    drag: Name | None = None
    """Id of the item that the class shall move until all is met that the step expects
    to be met."""
    notes: Words | None = None
    """What only the trainer reads."""
    minutes: Annotated[Number, Field(gt=0, le=600)] | None = None
    """How long the step takes in class."""
    do: tuple[Change, ...] = ()
    """The changes of this step."""
    look: Look | None = None
    """Where the viewer looks."""
    show: Annotated[tuple[ShownSize, ...], Field(max_length=12)] = ()
    """Dimensions of the author's own, drawn as long as the step is shown."""
    expect: Annotated[dict[str, Expectation], Field(default_factory=dict)]
    """What the check must say of an item after this step, by the item's id: the worst
    of its verdicts, or a verdict for each requirement that is named."""


class Lesson(Part):
    """A lesson told by the scene."""

    title: Words
    """Title of the lesson."""
    number: Count | None = None
    """Where it stands in a course that is made of a folder; those without a number come
    after the others."""
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
    """The steps in their order."""
