"""What is in a file of unknown origin: only of a plain file, and never too much."""

from __future__ import annotations

import errno
import os
import stat
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from pathlib import Path

_AT_ONCE: Final = getattr(os, "O_NONBLOCK", 0)
"""Without it, to open a pipe that nobody writes to would take for ever."""
_PLAINLY: Final = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
NOT_PLAIN: Final = "not a plain file"


def is_plain(path: Path) -> bool:
    """Tell whether a path leads to a plain file, through links too.

    A pipe, a socket, a device and a folder are none.
    """
    try:
        return stat.S_ISREG(path.stat().st_mode)
    except (OSError, ValueError):
        return False


def content(path: Path, most: int) -> bytes:
    """Return what is in a plain file, at most one byte more than ``most``.

    Raises:
        OSError: It cannot be read, or is no plain file; what is no plain file is not
            even opened.
    """
    _require(path.stat().st_mode, path)
    with os.fdopen(os.open(path, os.O_RDONLY | _AT_ONCE | _PLAINLY), "rb") as stream:
        # Something else may have taken its place since it was looked at.
        _require(os.fstat(stream.fileno()).st_mode, path)
        return stream.read(most + 1)


def _require(mode: int, path: Path) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, NOT_PLAIN, str(path))
