"""Which scene files are meant by the files and folders of a command line."""

from __future__ import annotations

import glob
import json
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

ENDINGS: Final = (".yaml", ".yml", ".json")
"""What the name of a scene file ends with, where a folder is looked through."""

STANDARD_INPUT: Final = Path("-")
"""What stands for a scene that is read from standard input."""

_SHELL_EXPANDS: Final = os.name != "nt"
"""Whether a shell has put what a pattern matches in its place."""
_SCENE_KEYS: Final = frozenset({"title", "units", "rules", "room", "items"})
_OTHER_KEYS: Final = frozenset({"judgements", "$defs"})
"""Keys of what standclear itself writes: a report, the schema."""
_GEAR_KEYS: Final = frozenset({"types", "units"})
"""Keys of a file of gear, which scenes name."""
_KEY: Final = re.compile(r"""^( *)["']?([$\w-]+)["']?\s*:(?:\s|$)""", re.MULTILINE)


def scene_files(paths: Iterable[Path]) -> tuple[list[Path], list[str]]:
    """Return the scene files meant, and a line for each mistake.

    A file is taken as it is, - is standard input. A pattern stands for what it matches
    where no shell puts that in its place. A folder stands for the scenes in it and in
    its folders, sorted by name; what is hidden is passed over, and so are files of
    those endings that say by their keys that they are something else.
    """
    files: list[Path] = []
    mistakes: list[str] = []
    named = [*paths]
    if named.count(STANDARD_INPUT) > 1:
        mistakes.append("-: found standard input twice, right is once")
    for path in _expanded(named, mistakes):
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


def _expanded(paths: Iterable[Path], mistakes: list[str]) -> Iterator[Path]:
    for path in paths:
        if not glob.has_magic(str(path)) or path.exists():
            yield path
            continue
        matched = [] if _SHELL_EXPANDS else sorted(glob.glob(str(path)))  # noqa: PTH207 - a path that may begin anywhere
        yield from map(Path, matched)
        if not matched:
            mistakes.append(
                f"{path}: found a pattern that was not expanded, for it is quoted or "
                "matches nothing, right is the pattern without quotes, or a folder"
            )


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
    from model3d.scene.text.file_content import LARGEST, scene_bytes

    try:
        data = scene_bytes(file)
        if len(data) > LARGEST:
            return True
        text = data.decode()
    except (OSError, UnicodeError):
        return True
    keys = _json_keys(text) if file.suffix.lower() == ".json" else _yaml_keys(text)
    if "types" in keys and keys <= _GEAR_KEYS:
        return False
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
