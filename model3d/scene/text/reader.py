"""From a scene file to a Scene, or to every mistake in it with its line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.checks.crosschecks import cross_mistakes
from model3d.scene.explanation import item_and_field
from model3d.scene.meshes import MeshError, mesh_of
from model3d.scene.mistakes import Loc, Mistake, SceneError, found
from model3d.scene.salvage import usable
from model3d.scene.scene import Origin, Scene
from model3d.scene.text.composer import compose
from model3d.scene.text.nodes import START, Node, NotReadError, Position
from model3d.scene.text.schema_link import KEY as LINK

if TYPE_CHECKING:
    from model3d.scene.mistakes import Found
    from model3d.scene.text.nodes import Fault

LARGEST: Final = 32 * 2**20
"""Bytes of a scene file; a room of 10 000 items has a tenth of it."""
MOST_MISTAKES: Final = 10_000
"""Lines of mistakes of one file; then a last line says how many more there are."""
_TOO_LARGE: Final = f"found more than {LARGEST // 2**20} MiB, right is a smaller file"

__all__ = ["LARGEST", "Mistake", "SceneError", "read_scene", "read_text"]


def read_scene(path: Path | str) -> Scene:
    """Read a scene file.

    Raises:
        SceneError: The file cannot be read, or something in it is wrong; all
            mistakes of the file are in it.
    """
    return read_data(_bytes(path), path)


def read_data(data: bytes, path: Path | str) -> Scene:
    """Read a scene from the bytes of a file; other files are looked for beside it.

    Raises:
        SceneError: They are no UTF-8 text, or something in it is wrong.
    """
    if len(data) > LARGEST:
        raise _refused(path, START, _TOO_LARGE)
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
    try:
        if not file.exists():
            refusal = "found no such file, right is a scene file"
        elif not file.is_file():
            refusal = f"found {_what(file)}, right is a scene file"
        else:
            with file.open("rb") as stream:
                return stream.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        refusal = f"found a file that cannot be read ({reason}), right is one that can"
    raise _refused(path, START, refusal)


def _what(file: Path) -> str:
    return "a folder" if file.is_dir() else "no ordinary file"


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
    data.pop(LINK, None)
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
        Mistake(file, *mark, *item_and_field(loc, data), message)
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


def _refused(file: Path | str, mark: Position, message: str) -> SceneError:
    return SceneError((Mistake(str(file), *mark, "", "", message),))
