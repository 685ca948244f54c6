"""Which scene files are meant by the files and folders of a command line."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable

ENDINGS: Final = (".yaml", ".yml", ".json")
"""What the name of a scene file ends with, where a folder is looked through."""

_SCENE_KEYS: Final = frozenset({"title", "units", "rules", "room", "items"})
_OTHER_KEYS: Final = frozenset({"judgements", "$defs"})
"""Keys of what standclear itself writes: a report, the schema."""
_KEY: Final = re.compile(r"""^( *)["']?([$\w-]+)["']?\s*:(?:\s|$)""", re.MULTILINE)


def scene_files(paths: Iterable[Path]) -> tuple[list[Path], list[str]]:
    """Return the scene files meant, and a line for each mistake.

    A file is taken as it is. A folder stands for the scenes in it and in its folders,
    sorted by name; what is hidden is passed over, and so are files of those endings
    that say by their keys that they are something else.
    """
    files: list[Path] = []
    mistakes: list[str] = []
    for path in paths:
        if not path.is_dir():
            files.append(path)
            continue
        found = sorted(_below(path, mistakes))
        scenes = [file for file in found if _may_be_a_scene(file)]
        if not scenes:
            mistakes.append(
                f"{path}: found no scene in this folder, right is a folder with scene "
                f"files ({', '.join(ENDINGS)})"
            )
        files += scenes
    return files, mistakes


def _below(folder: Path, mistakes: list[str]) -> Iterable[Path]:
    def refuse(error: OSError) -> None:
        mistakes.append(f"{error.filename}: cannot be read ({error.strerror})")

    for name, folders, files in os.walk(folder, onerror=refuse):
        folders[:] = [below for below in folders if not below.startswith(".")]
        for file in files:
            if not file.startswith(".") and file.lower().endswith(ENDINGS):
                yield Path(name, file)


def _may_be_a_scene(file: Path) -> bool:
    """Tell whether a file is a scene, or one with mistakes, by its outermost keys.

    In doubt it is: then reading it says what is wrong.
    """
    from model3d.scene.text.reader import LARGEST, scene_bytes

    try:
        data = scene_bytes(file)
        if len(data) > LARGEST:
            return True
        text = data.decode()
    except (OSError, UnicodeError):
        return True
    keys = _json_keys(text) if file.suffix.lower() == ".json" else _yaml_keys(text)
    return not keys or (bool(keys & _SCENE_KEYS) and not keys & _OTHER_KEYS)


def _json_keys(text: str) -> set[str]:
    try:
        # Only the first document: several reports stand one a line.
        content, _ = json.JSONDecoder().raw_decode(text.lstrip("\ufeff \t\r\n"))
    except (ValueError, RecursionError):
        return set()
    return set(content) if isinstance(content, dict) else {""}


def _yaml_keys(text: str) -> set[str]:
    found = _KEY.findall(text.lstrip("\ufeff"))
    return {key for indent, key in found if indent == found[0][0]}
