"""A whole scene: one room or outdoor place with everything in it."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Literal

from pydantic import PrivateAttr

from model3d.scene.item import Item
from model3d.scene.lesson import Lesson
from model3d.scene.parts import Distance, Part
from model3d.scene.room import Room
from model3d.units import to_metres


class Scene(Part):
    """One room, or one outdoor place, with everything that stands in it."""

    title: str
    """Title of the scene."""
    units: Literal["mm", "m", "in", "ft"]
    """What a bare number means."""
    rules: str
    """The rule book, or a local amendment file relative to the scene."""
    measures: Literal["si", "inch-pound", "either"] | None = None
    """Which published figure of a limit counts; the system of units if left out."""
    installed: datetime.date | None = None
    """Date of the installation; picks values that depend on it."""
    premises: Literal["new", "existing", "existing-dwelling"] = "new"
    """New or existing premises."""
    use: str = "electrical-room"
    """electrical-room, battery-room, crawl-space, outdoor, ..."""
    survey_tolerance: Distance = 0.0
    """How well the dimensions are known; 0 for a design."""
    room: Room | None = None
    """The room; outdoors it may be left out."""
    items: tuple[Item, ...] = ()
    """Everything in the room."""
    lesson: Lesson | None = None
    """A lesson told with this scene."""

    _file: Path | None = PrivateAttr(default=None)

    def metres(self, length: float | str) -> float:
        """Return a length of this scene in metres."""
        return to_metres(length, self.units)

    @property
    def file(self) -> Path | None:
        """The file the scene was read from, if any."""
        return self._file
