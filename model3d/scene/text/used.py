"""Which other files a scene names, as far as its text can be read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.scene.mistakes import SceneError
from model3d.scene.text.composer import compose
from model3d.scene.text.content import content_of
from model3d.scene.text.nodes import NotReadError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_NAMING: Final = ("mesh", "rules", "types_from")
"""Keys that name a file, or several in a list."""


def used_files(file: Path) -> list[Path]:
    """Return the files that a scene and its files of gear name, whether there or not.

    A scene with mistakes names them as well; one that is no YAML names none.

    Args:
        file: The scene.
    """
    found: dict[Path, None] = {}
    for key, path in _named(file):
        found[path] = None
        if key == "types_from" and path != file:
            found |= dict.fromkeys(one for _, one in _named(path))
    return [*found]


def _named(file: Path) -> Iterator[tuple[str, Path]]:
    try:
        node, _ = compose(content_of(file).removeprefix("\ufeff"))
    except (SceneError, NotReadError):
        return
    for key, name in _names(node.value if node else None):
        yield key, file.parent / name


def _names(value: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401 - any part of a scene
    if isinstance(value, dict):
        for key, one in value.items():
            if key in _NAMING:
                many = one if isinstance(one, list) else [one]
                yield from ((key, name) for name in many if _is_name(name))
            else:
                yield from _names(one)
    elif isinstance(value, list):
        for one in value:
            if isinstance(one, dict | list):
                yield from _names(one)


def _is_name(value: object) -> bool:
    return isinstance(value, str) and bool(value) and "\0" not in value
