"""A whole scene: one room or outdoor place with everything in it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Self

from pydantic import PrivateAttr, ValidationInfo, model_validator

from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.item import Item
from model3d.scene.lesson import Lesson
from model3d.scene.mistakes import dotted
from model3d.scene.site import Site


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a scene comes from, given as the context of its validation.

    Attributes:
        file: The file it was read from; other files are looked for beside it.
        checked: Its reader makes the cross checks, and says the line of each mistake.
    """

    file: Path | None = None
    checked: bool = False


class Scene(Site):
    """One room, or one outdoor place, with everything that stands in it.

    Raises:
        pydantic.ValidationError: Something in it is wrong, or does not fit together;
            every mistake of that kind is listed.
    """

    items: tuple[Item, ...] = ()
    """Everything in the room."""
    lesson: Lesson | None = None
    """A lesson told with this scene."""

    _file: Path | None = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _fit_together(self, info: ValidationInfo) -> Self:
        origin = info.context if isinstance(info.context, Origin) else Origin()
        self._file = origin.file
        if not origin.checked:
            found = cross_mistakes(self, self.items, self.lesson, self.folder)
            if found:
                lines = (f"{dotted(loc)}: {message}" for loc, message in found)
                raise ValueError("\n".join(lines))
        return self

    @property
    def file(self) -> Path | None:
        """The file the scene was read from, if any."""
        return self._file

    @property
    def folder(self) -> Path:
        """The folder other files are looked for in: the file's, or the current one."""
        return self._file.parent if self._file else Path()
