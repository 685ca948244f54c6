"""Which other files a scene names or uses, as far as its text can be read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.geometry.clouds.reader import LARGEST, POINT_ENDINGS
from model3d.scene.checks.files import MESH_ENDINGS, file_fault
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.nodes import NotReadError
from model3d.scene.text.file_content import content_of, text_of
from model3d.scene.text.gear_file import GEAR_ENDINGS
from model3d.scene.words.mistakes import SceneError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_NAMING: Final = ("mesh", "points", "rules", "types_from")
"""Keys that name a file; files of gear may be several, in a list."""
_WORDS: Final = (b"mesh", b"points", b".toml", b"types_from")
"""One of these stands in every text that names a file, unless it is escaped."""
_ENDINGS: Final = (*MESH_ENDINGS, *POINT_ENDINGS, *GEAR_ENDINGS, ".toml")


def files_used(data: bytes, file: Path, more: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Return the names of the files that a scene uses, relative to its folder, sorted.

    What is not there, or lies outside the folder, is not among them, for no scene can
    use it.

    Args:
        data: The scene, as its file has it.
        file: The scene's file; others are looked for beside it.
        more: Names that are looked at as if they stood in the scene.
    """
    if not more and _names_nothing(data):
        return ()
    folder = file.parent
    named = used_files(file, data)
    inside = [one for one in named if one.is_relative_to(folder)]
    names = {*more, *(one.relative_to(folder).as_posix() for one in inside)}
    good = (name for name in names if not file_fault(name, folder, _ENDINGS, LARGEST))
    return tuple(sorted(good))


def _names_nothing(data: bytes) -> bool:
    """Tell whether a text has no key for a file, without reading it as YAML."""
    return b"\\" not in data and not any(word in data for word in _WORDS)


def used_files(file: Path, data: bytes | None = None) -> list[Path]:
    """Return the files that a scene and its files of gear name, whether there or not.

    A scene with mistakes names them as well; one that is no YAML names none.

    Args:
        file: The scene.
        data: What is in it, where it has been read already.
    """
    found: dict[Path, None] = {}
    for key, path in _named(file, data):
        found[path] = None
        if key == "types_from" and path != file:
            found |= dict.fromkeys(one for _, one in _named(path))
    return [*found]


def _named(file: Path, data: bytes | None = None) -> Iterator[tuple[str, Path]]:
    try:
        text = content_of(file) if data is None else text_of(data, file)
        node, _ = compose(text.removeprefix("\ufeff"))
    except (SceneError, NotReadError):
        return
    for key, name in _names(node.value if node else None):
        yield key, file.parent / name


def _names(value: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401 - any part of a scene
    if isinstance(value, dict):
        for key, one in value.items():
            if key in _NAMING:
                is_list = key == "types_from" and isinstance(one, list)
                many = one if is_list else [one]
                yield from ((key, name) for name in many if _is_name(name))
            else:
                yield from _names(one)
    elif isinstance(value, list):
        for one in value:
            if isinstance(one, dict | list):
                yield from _names(one)


def _is_name(value: object) -> bool:
    return isinstance(value, str) and bool(value) and "\0" not in value
