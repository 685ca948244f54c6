"""A whole scene: one room or outdoor place with everything in it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import (
    BeforeValidator,
    Field,
    PrivateAttr,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)

from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.item import Item
from model3d.scene.lesson import Lesson
from model3d.scene.mistakes import dotted
from model3d.scene.parts import Name, Words
from model3d.scene.sheet import Sheet
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


def _several(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    return (value,) if isinstance(value, str) and value else value


TypesFrom = Annotated[
    tuple[Words, ...],
    BeforeValidator(_several),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "minLength": 1},
                {"type": "array", "items": {"type": "string", "minLength": 1}},
            ]
        }
    ),
]


class Scene(Site):
    """One room, or one outdoor place, with everything that stands in it.

    Raises:
        pydantic.ValidationError: Something in it is wrong, or does not fit together;
            every mistake of that kind is listed.
    """

    types_from: TypesFrom = ()
    """Files of gear, a name or a list of them, relative to the scene and in its folder:
    each holds types, and units of its own."""
    types: dict[Name, dict[str, Any]] = Field(default_factory=dict)
    """Items by the names of their types, each without id and place: what several items
    have is written once, and an item takes it by its type."""
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
