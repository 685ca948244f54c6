"""From a scene file to a Scene, or to every mistake in it with its line."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.faults.explanation import item_and_field
from model3d.scene.faults.salvage import usable
from model3d.scene.scene import Origin, Scene
from model3d.scene.shape_files.clouds import cloud_of
from model3d.scene.shape_files.meshes import MeshError, mesh_of
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.nodes import START, Node, NotReadError
from model3d.scene.text.composing.plain import plain_data
from model3d.scene.text.entries import WrittenItem
from model3d.scene.text.expansion import expanded, is_short
from model3d.scene.text.file_content import LARGEST, content_of, refusal_of, text_of
from model3d.scene.text.gear_file import is_gear
from model3d.scene.text.schema_link import KEY as LINK
from model3d.scene.text.telling import told_of
from model3d.scene.unswept import unswept
from model3d.scene.words.mistakes import (
    KeyStep,
    Mistake,
    SceneError,
    at_loc,
    dotted,
    found,
)
from model3d.wording.said import parts_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.scene.text.composing.nodes import Fault
    from model3d.scene.text.entries import Expansion
    from model3d.scene.text.gear_file import GearMistake
    from model3d.scene.words.mistakes import Found

MOST_MISTAKES: Final = 10_000
"""Lines of mistakes of one file; then a last line says how many more there are."""
_COMMENT: Final = " (what follows # is a comment; text with it stands in quotes)"
_LINE_END: Final = re.compile(r"\r\n|\r|\n")
"""As lines are counted for mistakes."""
_LISTS: Final = (".csv", ".tsv", ".xlsx", ".xls")
"""What the names of lists end with, which are no scenes."""

__all__ = [
    "LARGEST",
    "Mistake",
    "SceneError",
    "entries_of",
    "known_types",
    "read_scene",
    "read_text",
]


def read_scene(path: Path | str) -> Scene:
    """Read a scene file.

    Raises:
        SceneError: The file cannot be read, or something in it is wrong; all
            mistakes of the file, and of the gear files that it names, are in it.
    """
    if Path(path).suffix.lower() in _LISTS and Path(path).is_file():
        right = "a scene, which standclear import makes of a list"
        raise refusal_of(path, START, f"found a list of equipment, right is {right}")
    return read_text(content_of(path), path)


def read_data(data: bytes, path: Path | str) -> Scene:
    """Read a scene from the bytes of a file; other files are looked for beside it.

    Raises:
        SceneError: They are no UTF-8 text, or something in it is wrong.
    """
    return read_text(text_of(data, path), path)


def read_text(content: str, file: Path | str) -> Scene:
    """Read a scene from text; other files are looked for beside ``file``.

    Raises:
        SceneError: Something in it is wrong; all mistakes are in it.
    """
    if len(content) > LARGEST:
        message = f"found more than {LARGEST} characters, right is a smaller file"
        raise refusal_of(file, START, message)
    with unswept():
        return _read(content, file)


def _read(content: str, file: Path | str) -> Scene:
    text = content.removeprefix("\ufeff")
    return _faultless(text, file) or _looked_at(text, file)


def _faultless(text: str, file: Path | str) -> Scene | None:
    """Return a scene that has no mistakes and nothing to be written out; else None."""
    data = plain_data(text)
    if data is None or is_gear(data) or is_short(data):
        return None
    data.pop(LINK, None)
    scene, mistakes = _checked(data, Path(file))
    return None if mistakes else scene


def _looked_at(text: str, file: Path | str) -> Scene:
    try:
        node, faults = compose(text)
    except NotReadError as error:
        raise refusal_of(file, error.mark, str(error)) from None
    if node is None or node.value is None:
        what = "nothing on standard input" if str(file) == "-" else "an empty file"
        raise refusal_of(file, START, f"found {what}, right is a scene")
    if not isinstance(node.value, dict):
        message = f"found {found(node.value)}, right is a mapping: title, units, ..."
        raise refusal_of(file, node.mark, message)
    try:
        return _scene(node, faults, file)
    except SceneError as error:
        raise SceneError(tuple(_with_comments(error.mistakes, text, file))) from None


def _with_comments(
    mistakes: Iterable[Mistake], text: str, file: Path | str
) -> Iterator[Mistake]:
    """Yield mistakes; where nothing was found before a comment, they tell so."""
    lines: list[str] = []
    for one in mistakes:
        if one.message.startswith("found nothing") and one.file == str(file):
            lines = lines or _LINE_END.split(text)
            behind = lines[one.line - 1][one.column - 1 :].lstrip()
            yield replace(one, message=one.message + _COMMENT * behind.startswith("#"))
        else:
            yield one


def entries_of(content: str, file: Path | str) -> list[WrittenItem]:
    """Return where each item of a scene is written, from text that was read before.

    Raises:
        SceneError: It cannot be read.
    """
    try:
        node, _ = compose(content.removeprefix("\ufeff"))
    except NotReadError as error:
        raise refusal_of(file, error.mark, str(error)) from None
    if node is None or not isinstance(node.value, dict):
        return []
    short = expanded(node, str(file))
    many = len(short.data.get("items") or ())
    return [
        short.entries.get(("items", n), WrittenItem(("items", n))) for n in range(many)
    ]


def known_types(scene: Scene) -> dict[str, dict[str, Any]]:
    """Return each type of a scene and of its gear files, with all that it says."""
    named = [*scene.types_from]
    written = {"units": scene.units, "types": scene.types, "types_from": named}
    node, _ = compose(json.dumps(written))
    if node is None:
        return {}
    short = expanded(node, str(scene.file or "scene.yaml"))
    return {name: short.values_of(name) for name in short.types}


def _scene(node: Node, faults: list[Fault], file: Path | str) -> Scene:
    node.value.pop(LINK, None)
    if is_gear(node.value):
        message = "found a file of gear, right is a scene, which names it by types_from"
        raise refusal_of(file, node.mark, message)
    short = expanded(node, str(file))
    scene, mistakes = _checked(short.data, Path(file))
    if not mistakes and not faults and not short.mistakes:
        return scene
    raise SceneError(_listed(told_of(short, mistakes, faults), short))


def _checked(data: dict[str, Any], path: Path) -> tuple[Scene, list[Found]]:
    """Return the scene that plain data is, and what is wrong with it."""
    scene, mistakes = usable(Scene, data, Origin(path, checked=True))
    mistakes += cross_mistakes(scene, scene.items, scene.lesson, path.parent)
    mistakes = _without_what_was_meant(mistakes, data)
    return scene, mistakes or _unreadable_meshes(scene)


def _without_what_was_meant(mistakes: list[Found], data: object) -> list[Found]:
    # A key that was misspelt is one mistake, not a second one for being missing.
    meant = {
        (*loc[:-1], parts_of(message)[-1])
        for loc, message in mistakes
        if loc and isinstance(loc[-1], KeyStep)
    }
    return [
        (loc, message)
        for loc, message in mistakes
        if loc not in meant or at_loc(data, loc) is not None
    ]


def _unreadable_meshes(scene: Scene) -> list[Found]:
    # Read here and kept, so that a bad file has its line like any other mistake.
    mistakes: list[Found] = []
    for number, item in enumerate(scene.items):
        if item.mesh is not None:
            try:
                mesh_of(item, scene)
            except MeshError as error:
                mistakes.append((("items", number, "mesh"), str(error)))
        if item.points is not None:
            try:
                cloud_of(item, scene)
            except MeshError as error:
                mistakes.append((("items", number, "points"), str(error)))
    return mistakes


def _listed(told: list[GearMistake], short: Expansion) -> tuple[Mistake, ...]:
    data = short.source.root.value
    lines = [
        Mistake(one.file, *one.mark, *_item_and_field(one, short, data), one.message)
        for one in told[:MOST_MISTAKES]
    ]
    more = len(told) - len(lines)
    if more:
        message = f"found at least {more} more mistakes, right is none"
        mark = told[MOST_MISTAKES].mark
        lines.append(Mistake(told[MOST_MISTAKES].file, *mark, "", "", message))
    return tuple(lines)


def _item_and_field(
    told: GearMistake, short: Expansion, data: dict[str, Any]
) -> tuple[str, str]:
    """Return the item of a mistake and its field; of a gear file the field alone."""
    if told.file != short.source.file:
        return "", dotted(told.loc)
    return item_and_field(told.loc, data)
