"""A whole scene: one room or outdoor place with everything in it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import (
    BeforeValidator,
    Field,
    PrivateAttr,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)

from model3d.disk.files import write_whole
from model3d.scene.checks.crosschecks import changed_mistakes, cross_mistakes
from model3d.scene.manuscript import json_text, scene_text
from model3d.scene.notebook import html_table
from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import Lesson
from model3d.scene.parts.part import Name, Words
from model3d.scene.parts.sheet import Sheet
from model3d.scene.parts.site import Site
from model3d.scene.words.mistakes import Mistake, NotFittingError, SceneError, found
from model3d.scene.words.nearest import hint


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a scene comes from, given as the context of its validation.

    Attributes:
        file: The file it was read from; other files are looked for beside it.
        checked: Its reader makes the cross checks, and says the line of each mistake.
        before: Its items before some of them were changed, where all else of it is as
            it was and fits together; what was not changed is the very same.
    """

    file: Path | None = None
    checked: bool = False
    before: tuple[Item, ...] | None = None


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
        SceneError: Something in it is wrong, or does not fit together; every mistake
            of that kind is listed.
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
            if origin.before is None:
                wrong = cross_mistakes(self, self.items, self.lesson, self.folder)
            else:
                wrong = changed_mistakes(self, origin.before, self.items, self.folder)
            if wrong:
                raise NotFittingError(tuple(wrong))
        return self

    @property
    def no_place(self) -> tuple[str, ...]:
        """The ids of the items that have no place yet, in their order."""
        return tuple(item.id for item in self.items if not item.stands)

    def standing(self) -> Self:
        """Return the scene without the items that have no place yet."""
        if not self.no_place:
            return self
        items = tuple(item for item in self.items if item.stands)
        return self.model_copy(update={"items": items})

    def with_item(self, item: Item | str, /, **keys: Any) -> Self:  # noqa: ANN401 - whatever is written
        """Return the scene with an item changed, or with another item.

        Args:
            item: The id of an item that is there; or an item, which takes the place of
                the one with its id, or is the last.
            keys: Its keys that are other than before; None takes one away.

        Raises:
            SceneError: There is no such item, or what comes of it is no scene.

        >>> from model3d import Item, Room
        >>> scene = Scene(title="A", units="m", rules="nec-2023", room=Room(size=(4, 3),
        ...     height=3), items=[Item(id="B1", kind="machine", size=(1, 1, 1),
        ...     place={"at": (2, 2)})])
        >>> scene.with_item("B1", size=(1, 1, 2)).items
        (<Item B1: machine 1 x 1 x 2>,)
        """
        items = {one.id: one for one in self.items}
        if not isinstance(item, Item) and str(item) not in items:
            right = f"the id of an item, or an item{hint(str(item), items)}"
            message = f"found {found(item)}, right is {right}"
            raise SceneError((Mistake("", 0, 0, "", "", message),))
        old = item if isinstance(item, Item) else items[str(item)]
        new = {name: getattr(old, name) for name in old.model_fields_set} | keys
        items[old.id] = Item(**{k: v for k, v in new.items() if v is not None})
        return self._again(self._file, items=tuple(items.values()))

    def save(self, file: Path | str) -> None:
        """Write the scene into a file, whole or not at all.

        The text is YAML, or JSON where the file's name ends in .json. It is laid out
        anew: comments of a file that it was read from are not in it. Other files that
        it names are looked for beside the new one.

        Raises:
            SceneError: A file that it names is not there.
            OSError: It cannot be written.
        """
        target = Path(file)
        self._again(target)
        as_json = target.suffix.lower() == ".json"
        text = (json_text if as_json else scene_text)(self.written())
        write_whole(target, text.encode())

    def _again(self, file: Path | None, **changed: Any) -> Self:  # noqa: ANN401
        """Return the scene with other values, of a file, all checks made again."""
        said = {name: getattr(self, name) for name in self.model_fields_set} | changed
        try:
            return type(self).model_validate(said, context=Origin(file))
        except ValidationError as error:
            raise Scene.refusal(error, Scene, said) from None

    def __repr__(self) -> str:
        return f"<Scene {self.title!r}: {len(self.items)} items, {self.rules}>"

    __str__ = __repr__

    def _repr_html_(self) -> str:
        columns = ("id", "kind", "name", "size", "place", "supply")
        rows = []
        for item in self.items:
            said = item.written()
            if not item.stands:
                said["place"] = "no place yet"
            rows.append([said.get(key) for key in columns])
        title = f"{self.title}: {len(self.items)} items, {self.units}, {self.rules}"
        return html_table(title, columns, rows)

    @property
    def file(self) -> Path | None:
        """The file the scene was read from, if any."""
        return self._file

    @property
    def folder(self) -> Path:
        """The folder other files are looked for in: the file's, or the current one."""
        return self._file.parent if self._file else Path()


def require_scene(scene: object) -> None:
    """Refuse what is no scene, and say how one is had.

    Raises:
        TypeError: It is none.
    """
    if not isinstance(scene, Scene):
        right = "a scene: read_scene(FILE) reads one, Scene(...) makes one"
        msg = f"found {found(scene)}, right is {right}"
        raise TypeError(msg)
