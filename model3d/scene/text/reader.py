"""From a scene file to a Scene, or to every mistake in it with its line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from model3d.geometry.files.content import content, is_plain
from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.lesson import which_change
from model3d.scene.meshes import MeshError, mesh_of
from model3d.scene.mistakes import Loc, Mistake, SceneError, at_loc, dotted, found
from model3d.scene.salvage import usable
from model3d.scene.scene import Origin, Scene
from model3d.scene.text.composer import compose
from model3d.scene.text.nodes import START, Node, NotReadError, Position

if TYPE_CHECKING:
    from model3d.scene.mistakes import Found
    from model3d.scene.text.nodes import Fault

LARGEST: Final = 32 * 2**20
"""Bytes of a scene file; a room of 10 000 items has a tenth of it."""
MOST_MISTAKES: Final = 10_000
"""Lines of mistakes of one file; then a last line says how many more there are."""

__all__ = [
    "LARGEST",
    "Mistake",
    "SceneError",
    "read_scene",
    "read_text",
    "scene_bytes",
]


def read_scene(path: Path | str) -> Scene:
    """Read a scene file.

    Raises:
        SceneError: The file cannot be read, or something in it is wrong; all
            mistakes of the file are in it.
    """
    data = _bytes(path)
    try:
        content = data.decode()
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line = before.count(b"\n") + 1
        column = len(before[before.rfind(b"\n") + 1 :].decode()) + 1
        message = f"found the byte 0x{data[error.start]:02X}, right is UTF-8 text"
        raise _refused(path, Position(line, column), message) from None
    return read_text(content, path)


def _bytes(path: Path | str) -> bytes:
    file = Path(path)
    refusal = f"found more than {LARGEST // 2**20} MiB, right is a smaller file"
    data = b""
    try:
        if not file.exists():
            refusal = "found no such file, right is a scene file"
        elif not is_plain(file):
            refusal = f"found {_what(file)}, right is a scene file"
        else:
            data = scene_bytes(file)
            if len(data) <= LARGEST:
                return data
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        refusal = f"found a file that cannot be read ({reason}), right is one that can"
    raise _refused(path, START, refusal)


def scene_bytes(file: Path) -> bytes:
    """Return what is in a file, no more of it than a scene may have and a byte.

    Raises:
        OSError: It cannot be read, or is no plain file.
    """
    return content(file, LARGEST)


def _what(file: Path) -> str:
    return "a folder" if file.is_dir() else "no plain file"


def read_text(content: str, file: Path | str) -> Scene:
    """Read a scene from text; other files are looked for beside ``file``.

    Raises:
        SceneError: Something in it is wrong; all mistakes are in it.
    """
    if len(content) > LARGEST:
        message = f"found more than {LARGEST} characters, right is a smaller file"
        raise _refused(file, START, message)
    try:
        node, faults = compose(content.removeprefix("\ufeff"))
    except NotReadError as error:
        raise _refused(file, error.mark, str(error)) from None
    if node is None or node.value is None:
        raise _refused(file, START, "found an empty file, right is a scene")
    if not isinstance(node.value, dict):
        message = f"found {found(node.value)}, right is a mapping: title, units, ..."
        raise _refused(file, node.mark, message)
    return _scene(node, faults, file)


def _scene(node: Node, faults: list[Fault], file: Path | str) -> Scene:
    data: dict[str, Any] = node.value
    path = Path(file)
    scene, mistakes = usable(Scene, data, Origin(path, checked=True))
    mistakes += cross_mistakes(scene, scene.items, scene.lesson, path.parent)
    if not mistakes:
        mistakes = _unreadable_meshes(scene)
    if not mistakes and not faults:
        return scene
    placed = [(node.mark_of(loc), loc, message) for loc, message in mistakes]
    # The value of a tag or a key that cannot be used is no mistake of its own.
    faulty = {fault.mark for fault in faults}
    placed = [
        (mark, loc, message) for mark, loc, message in placed if mark not in faulty
    ]
    placed += faults
    placed.sort(key=lambda found: (found[0], found[2]))
    raise SceneError(_listed(placed, data, str(file)))


def _unreadable_meshes(scene: Scene) -> list[Found]:
    # Read here and kept, so that a bad file has its line like any other mistake.
    mistakes: list[Found] = []
    for number, item in enumerate(scene.items):
        if item.mesh is not None:
            try:
                mesh_of(item, scene)
            except MeshError as error:
                mistakes.append((("items", number, "mesh"), str(error)))
    return mistakes


def _listed(
    placed: list[tuple[Position, Loc, str]], data: dict[str, Any], file: str
) -> tuple[Mistake, ...]:
    lines = [
        Mistake(file, *mark, *_item_and_field(loc, data), message)
        for mark, loc, message in placed[:MOST_MISTAKES]
    ]
    more = len(placed) - len(lines)
    if more:
        mark = placed[MOST_MISTAKES][0]
        lines.append(
            Mistake(
                file,
                *mark,
                "",
                "",
                f"found at least {more} more mistakes, right is none",
            )
        )
    return tuple(lines)


def _item_and_field(loc: Loc, data: dict[str, Any]) -> tuple[str, str]:
    """Return the id of the item a place is in, and the field as a path from there."""
    match loc:
        case ("items", int(), *field) | ("room", "doors", int(), *field):
            own_id = _id(at_loc(data, (*loc[: len(loc) - len(field)], "id")))
            return own_id, dotted(tuple(field) if own_id else loc)
        case ("lesson", "steps", int(), "do", int(), *_):
            key = which_change(at_loc(data, loc[:5])) or ""
            own = (key, "id") if key == "add" else (key,)
            return _id(at_loc(data, (*loc[:5], *own))), dotted(loc)
    return "", dotted(loc)


def _id(value: object) -> str:
    """Return an id as written, text or a whole number, or nothing."""
    if isinstance(value, int) and not isinstance(value, bool):
        return found(value)
    return value if isinstance(value, str) else ""


def _refused(file: Path | str, mark: Position, message: str) -> SceneError:
    return SceneError((Mistake(str(file), *mark, "", "", message),))
