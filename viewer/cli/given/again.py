"""Do something again whenever a scene, or a file that it may use, is written."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Final

from viewer.cli.given.scene_files import ENDINGS, STANDARD_INPUT, scene_files
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Sequence
    from pathlib import Path

_USED: Final = (*ENDINGS, ".toml", ".glb", ".stl", ".obj", ".ply", ".step", ".stp")
"""What the names of scenes end with, and of the files that they name."""
PAUSE: Final = 0.3
"""Seconds between two looks; a file that is being written is whole by the next."""

Stamps = dict[str, tuple[int, int]]


def watch(paths: Sequence[Path], do: Callable[[list[Path]], None]) -> None:
    """Do something with the scenes that are meant, and again after every change.

    It never returns: Ctrl-C ends it.

    Args:
        paths: The files and folders of the command line.
        do: What is done; it is given the scene files.

    Raises:
        UnusableError: Standard input cannot be watched.
        KeyboardInterrupt: It was ended.
    """
    if STANDARD_INPUT in paths:
        msg = "-: found standard input with --watch, right is a file or a folder"
        raise UnusableError([msg])
    from model3d.scene.text.used import used_files

    seen: Stamps | None = None
    named: set[Path] = set()
    while True:
        now = _settled(paths, named)
        if now != seen:
            files, mistakes = scene_files(paths)
            if mistakes:
                raise UnusableError(mistakes)
            # What a scene names may lie in other folders. While it is no YAML, for it
            # is being written, it names what it named before.
            found = {one for file in files for one in used_files(file)}
            named = found or named
            seen = _stamps(paths, named)
            do(files)
        time.sleep(PAUSE)


def _settled(paths: Sequence[Path], named: Collection[Path]) -> Stamps:
    """Return when each file was written, once nothing is being written."""
    found = _stamps(paths, named)
    while True:
        time.sleep(PAUSE / 3)
        again = _stamps(paths, named)
        if again == found:
            return found
        found = again


def _stamps(paths: Sequence[Path], named: Collection[Path]) -> Stamps:
    found: Stamps = {}
    for file in _files(paths, named):
        try:
            stat = file.stat()
        except OSError:
            continue  # gone between two calls: the next look tells
        found[str(file)] = (stat.st_mtime_ns, stat.st_size)
    return found


def _files(paths: Sequence[Path], named: Collection[Path]) -> Iterator[Path]:
    for path in paths:
        beside = path.rglob("*") if path.is_dir() else path.parent.glob("*")
        yield from (file for file in beside if file.suffix.lower() in _USED)
        yield path
    yield from named
