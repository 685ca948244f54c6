"""What is in a file, as text, or why it cannot be had."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import Final

from model3d.disk.files import content, is_plain, lost_link
from model3d.scene.text.composing.nodes import START, Position
from model3d.scene.words.mistakes import Mistake, SceneError
from model3d.scene.words.nearest import hint

LARGEST: Final = 32 * 2**20
"""Bytes of a scene file; a room of 10 000 items has a tenth of it."""
_ENDINGS: Final = (".yaml", ".yml", ".json")
_MOST_FILES: Final = 500
"""Of a folder; who mistypes a name in a larger one is not helped."""
_TOO_LARGE: Final = f"found more than {LARGEST // 2**20} MiB, right is a smaller file"


def content_of(path: Path | str) -> str:
    """Return the text of a scene file.

    Raises:
        SceneError: It cannot be read, is too large, or is no UTF-8.
    """
    return text_of(_bytes(path), path)


def text_of(data: bytes, path: Path | str) -> str:
    """Return the text of what was read from a file.

    Raises:
        SceneError: It is too large, or is no UTF-8.
    """
    if len(data) > LARGEST:
        raise refusal_of(path, START, _TOO_LARGE)
    try:
        return data.decode()
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line = before.count(b"\n") + 1
        column = len(before[before.rfind(b"\n") + 1 :].decode()) + 1
        message = f"found the byte 0x{data[error.start]:02X}, right is UTF-8 text"
        raise refusal_of(path, Position(line, column), message) from None


def scene_bytes(file: Path) -> bytes:
    """Return what is in a file, no more of it than a scene may have and a byte.

    Raises:
        OSError: It cannot be read, or is no plain file.
    """
    return content(file, LARGEST)


def refusal_of(file: Path | str, mark: Position, message: str) -> SceneError:
    """Return the error of a file that is refused as a whole."""
    return SceneError((Mistake(str(file), *mark, "", "", message),))


def _like(file: Path) -> str:
    """Name the file in the same folder that may have been meant, if one is like it."""
    there = islice(file.parent.iterdir(), _MOST_FILES) if file.parent.is_dir() else ()
    names = [one.name for one in there if one.suffix in _ENDINGS]
    by_stem = [name for name in names if Path(name).stem == file.stem]
    return hint(by_stem[0] if by_stem else file.name, names)


def _bytes(path: Path | str) -> bytes:
    file = Path(path)
    try:
        if lost := lost_link(file):
            refusal = f"found {lost}, right is a scene file"
        elif not file.exists():
            refusal = f"found no such file, right is a scene file{_like(file)}"
        elif not is_plain(file):
            other = "a folder" if file.is_dir() else "no plain file"
            refusal = f"found {other}, right is a scene file"
        else:
            return scene_bytes(file)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        refusal = f"found a file that cannot be read ({reason}), right is one that can"
    raise refusal_of(path, START, refusal)
