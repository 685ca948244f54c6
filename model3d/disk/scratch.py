"""Folders for a moment, which a later run clears where theirs was killed."""

from __future__ import annotations

import errno
import os
import re
import shutil
import tempfile
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d.disk.files import is_locked

if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import BinaryIO

_NAME: Final = re.compile(r"standclear-[a-z0-9_]{8}")
_LOCK: Final = "in-use"
"""A file in each that is locked for as long as its process lives."""
_TRIES: Final = 5
_PLAINLY: Final = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0)


@contextmanager
def scratch() -> Iterator[Path]:
    """Give an empty folder beside those of other runs, and remove it in the end.

    Raises:
        OSError: None can be made.
    """
    _clear()
    home, stream = _own()
    try:
        with stream:
            inner = home / "files"
            inner.mkdir()
            yield inner
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _own() -> tuple[Path, BinaryIO]:
    """Return a new folder, and the open file in it that says that it is in use."""
    for _ in range(_TRIES):
        home = Path(tempfile.mkdtemp(prefix="standclear-"))
        with suppress(FileNotFoundError):
            stream = (home / _LOCK).open("xb")
            is_locked(stream)
            if (home / _LOCK).exists():
                return home, stream
            stream.close()  # another run took it for left, before it was locked
    raise OSError(errno.EAGAIN, os.strerror(errno.EAGAIN), tempfile.gettempdir())


@cache
def _clear() -> None:
    """Remove what runs left that were killed, once a process; never what one uses."""
    with suppress(OSError):
        for folder in Path(tempfile.gettempdir()).iterdir():
            if _NAME.fullmatch(folder.name):
                _remove(folder)


def _remove(left: Path) -> None:
    with suppress(OSError):
        about = left.lstat()
        if left.is_symlink() or about.st_uid != getattr(os, "getuid", lambda: 0)():
            return
        lock = left / _LOCK
        with os.fdopen(os.open(lock, os.O_RDWR | _PLAINLY), "rb+") as stream:
            if not is_locked(stream):
                return
            if os.name != "nt":
                shutil.rmtree(left, ignore_errors=True)
                return
        lock.unlink()  # Windows refuses while another run has it open
        shutil.rmtree(left, ignore_errors=True)
