"""Which files a scene uses, told from its text: gear, meshes and a rule book."""

from __future__ import annotations

from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Final

from model3d.scene.checks.files import LARGEST_MESH, MESH_ENDINGS, file_fault
from model3d.scene.mistakes import SceneError
from model3d.scene.text.composer import compose
from model3d.scene.text.content import LARGEST, content_of, text_of
from model3d.scene.text.gear import GEAR_ENDINGS
from model3d.scene.text.nodes import NotReadError

if TYPE_CHECKING:
    from collections.abc import Iterator

_KEYS: Final = frozenset({"mesh", "points", "rules"})
"""Keys at which a file may stand; a rule book's name is one with an ending."""
_WORDS: Final = (b"mesh", b"points", b".toml", b"types_from")
"""One of these stands in every text that names a file, unless it is escaped."""
_ENDINGS: Final = (*MESH_ENDINGS, *GEAR_ENDINGS, ".toml")


def files_used(data: bytes, file: Path, more: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Return the names of the files that a scene uses, relative to its folder, sorted.

    They are told from the text alone, without checking it: what a mistake stands at may
    be among them. What is not there, or lies outside the folder, is not, for no scene
    can use it; a text that cannot be read uses nothing.

    Args:
        data: The scene, as its file has it.
        file: The scene's file; others are looked for beside it.
        more: Names that are looked at as if they stood in the scene.
    """
    folder = file.parent
    if not more and _names_nothing(data):
        return ()
    content = _content(data, file)
    names = {*more, *_named(content)}
    for name in _gear(content):
        if not file_fault(name, folder, GEAR_ENDINGS, LARGEST):
            names.add(name)
            within = PurePosixPath(name).parent
            inside = _gear_content(folder / name)
            names |= {(within / one).as_posix() for one in _named(inside)}
    good = (
        name for name in names if not file_fault(name, folder, _ENDINGS, LARGEST_MESH)
    )
    return tuple(sorted(good))


def _names_nothing(data: bytes) -> bool:
    """Tell whether a text has no key for a file, without reading it as YAML."""
    return b"\\" not in data and not any(word in data for word in _WORDS)


def _content(data: bytes, file: Path) -> object:
    try:
        return _value(text_of(data, file))
    except SceneError:
        return None


def _gear_content(file: Path) -> object:
    try:
        return _value(content_of(file))
    except SceneError:
        return None


def _value(text: str) -> object:
    try:
        node, _ = compose(text.removeprefix("\ufeff"))
    except NotReadError:
        return None
    return node.value if node else None


def _named(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, one in value.items():
            if key in _KEYS and isinstance(one, str):
                yield one
            else:
                yield from _named(one)
    elif isinstance(value, list):
        for one in value:
            yield from _named(one)


def _gear(content: object) -> list[str]:
    said = content.get("types_from") if isinstance(content, dict) else None
    many = said if isinstance(said, list) else [said]
    return [name for name in many if isinstance(name, str) and name]
