"""Where items stand: the room or outdoor place, and what is said of it as a whole."""

from typing import Annotated, Final, Literal

from pydantic import Field

from model3d.scene.parts.part import (
    Angle,
    Day,
    Distance,
    Length,
    Name,
    Part,
    Point3,
    Words,
)
from model3d.scene.parts.room import Room
from model3d.scene.parts.stated import Stated
from model3d.units import to_metres

OUTDOOR: Final = "outdoor"
LIMITED: Final = ("crawl-space", "above-ceiling")
"""Uses of a place that is entered through an opening, not by a door."""
USES: Final = ("electrical-room", "battery-room", *LIMITED, OUTDOOR)
"""The uses some rule knows; any other word is a use without rules of its own."""


class ModelFrame(Part):
    """A building model that a scene came from, or the map, and where the scene lies."""

    model: Words | None = None
    """The file of the model."""
    project: Words | None = None
    """The GlobalId of its project: a file may be called otherwise one day."""
    map: Words | None = None
    """Of the map instead: what its coordinates are called."""
    storey: Words | None = None
    """The name of the storey there."""
    elevation: Length | None = None
    """The height of that storey, as the model says it."""
    origin: Point3
    """Where the scene's own origin lies there."""
    turn: Angle = 0.0
    """Degrees that the scene is turned there, counter-clockwise."""


class NotRead(Part):
    """Something of what a scene came from that could not be read: it may be there."""

    name: Name
    """What it is called there."""
    count: Annotated[int, Field(strict=True, gt=0, le=1_000_000)] = 1
    """How many of them there are."""
    at: Point3 | None = None
    """Where it is placed, of several the one nearest to the room. Its body may lie
    elsewhere."""
    guid: Words | None = None
    """The identity it has in the model."""


class Site(Stated):
    """All of a scene but its items and its lesson."""

    title: Words
    """Title of the scene."""
    units: Literal["mm", "m", "in", "ft"]
    """What a bare number means."""
    rules: Words
    """The rule book, or a local amendment file relative to the scene."""
    measures: Literal["si", "inch-pound", "either"] | None = None
    """Which published figure of a limit counts; either if left out."""
    installed: Day | None = None
    """Date of the installation; picks values that depend on it."""
    premises: Literal["new", "existing", "existing-dwelling"] = "new"
    """New or existing premises."""
    use: Words = "electrical-room"
    """What it is used as: electrical-room, battery-room, crawl-space, above-ceiling,
    outdoor, or another word, for which no rule of its own is known."""
    survey_tolerance: Distance = 0.0
    """How well the dimensions are known; 0 for a design."""
    origin: Point3 | None = None
    """Where the scene's own origin lies in the model it came from: exports go back
    there."""
    frames: tuple[ModelFrame, ...] = ()
    """Where it lies in each model that it came from, and on the map, as an import has
    found it: what is put into one of these models goes there."""
    not_read: tuple[NotRead, ...] = ()
    """What an import could not read of the model or plan: it may be in the way, so it
    is asked about till it is struck from here. Within 1 m of where it is placed, and up
    to 3 m above, nothing is met and no place is free."""
    room: Room | None = None
    """The room; outdoors it may be left out."""

    def metres(self, length: float | str) -> float:
        """Return a length of this scene in metres."""
        return to_metres(length, self.units)

    @property
    def stated(self) -> Stated:
        """What is said of the place as a whole, here or in the room."""
        said = {
            name: value
            for part in (self, self.room)
            for name in Stated.model_fields
            if (value := getattr(part, name, None)) is not None
        }
        return Stated.model_construct(**said)
