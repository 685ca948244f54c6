"""A whole scene: one room or outdoor place with everything in it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, Self

from pydantic import PrivateAttr, ValidationInfo, model_validator

from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.item import Item
from model3d.scene.lesson import Lesson
from model3d.scene.mistakes import dotted
from model3d.scene.parts import Day, Distance, Words
from model3d.scene.room import Room
from model3d.scene.sheet import Sheet
from model3d.scene.stated import Stated
from model3d.units import to_metres


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a scene comes from, given as the context of its validation.

    Attributes:
        file: The file it was read from; other files are looked for beside it.
        checked: The cross checks were made already, on the text itself.
    """

    file: Path | None = None
    checked: bool = False


class Scene(Stated):
    """One room, or one outdoor place, with everything that stands in it.

    Raises:
        pydantic.ValidationError: Something in it is wrong, or does not fit together;
            every mistake of that kind is listed.
    """

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
    """electrical-room, battery-room, crawl-space, above-ceiling, outdoor, ..."""
    survey_tolerance: Distance = 0.0
    """How well the dimensions are known; 0 for a design."""
    room: Room | None = None
    """The room; outdoors it may be left out."""
    items: tuple[Item, ...] = ()
    """Everything in the room."""
    sheet: Sheet | None = None
    """What title blocks print; nothing is judged by it."""
    lesson: Lesson | None = None
    """A lesson told with this scene."""

    _file: Path | None = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _fit_together(self, info: ValidationInfo) -> Self:
        origin = info.context if isinstance(info.context, Origin) else Origin()
        self._file = origin.file
        if not origin.checked:
            found = cross_mistakes(self.written(), self.folder)
            if found:
                lines = (f"{dotted(loc)}: {message}" for loc, message in found)
                raise ValueError("\n".join(lines))
        return self

    def written(self) -> dict[str, Any]:
        """Return the scene as plain data, with the keys of the file format."""
        return self.model_dump(by_alias=True, exclude_unset=True)

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

    @property
    def file(self) -> Path | None:
        """The file the scene was read from, if any."""
        return self._file

    @property
    def folder(self) -> Path:
        """The folder other files are looked for in: the file's, or the current one."""
        return self._file.parent if self._file else Path()
