"""Files of unknown origin are read plainly, and never too much; written whole or not.

What is written is all there, or what was there before.
"""

from __future__ import annotations

import ctypes
import errno
import os
import re
import stat
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any, BinaryIO, Final

try:
    import fcntl
except ImportError:  # on Windows, where a file that is open cannot be removed anyway
    fcntl = None  # type: ignore[assignment]

_OWN: Final = ".standclear-"
_LEFT: Final = re.compile(rf"{re.escape(_OWN)}[0-9a-f]{{16}}\.tmp")
"""The name of a file on its way to another one's place."""
_TRIES: Final = 5
_AT_ONCE: Final = getattr(os, "O_NONBLOCK", 0)
"""Without it, to open a pipe that nobody writes to would take for ever."""
_HERE: Final = -100
"""AT_FDCWD of Linux: a name is looked up from the working folder."""
_EXCHANGE: Final = 2
"""RENAME_EXCHANGE of Linux and RENAME_SWAP of macOS."""
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


def lost_link(path: Path) -> str:
    """Say of a link that leads to no file what it is; "" of anything else."""
    try:
        if not path.is_symlink():
            return ""
        path.stat()
    except FileNotFoundError:
        return "a link that leads to nothing"
    except OSError as error:
        # Where links make a circle the system gives up after some of them.
        return "a link that leads in a circle" if error.errno == errno.ELOOP else ""
    return ""


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


def write_whole(file: Path, data: bytes, instead_of: bytes | None = None) -> bool:
    """Write a file so that there is all of it or the old one, and never a part.

    Args:
        file: A link stays one, and what it leads to is written. A device or a pipe is
            written to as it is.
        data: What it gets.
        instead_of: What is in it; where it holds anything else, it is left. On Linux
            and macOS the two change places at once, so what somebody else writes at
            the very last moment is found in the old one and put back; where that is
            not to be had (on Windows, in some file systems) it is looked at just
            before. None: it is written whatever is in it.

    Returns:
        Whether it was written.

    Raises:
        OSError: It cannot be written; then nothing has changed.
    """
    if file.exists() and not file.is_file() and not file.is_dir():
        # A device or a pipe, which nothing may take the place of.
        try:
            file.write_bytes(data)
        except OSError as error:
            raise OSError(error.errno, error.strerror, str(file)) from error
        return True
    if file.is_symlink():
        with suppress(FileNotFoundError):
            file.stat()  # a circle of links has no end to be written at
    target = Path(os.path.realpath(file))
    _clear(target.parent)
    try:
        for _ in range(_TRIES):
            written = _replaced(target, data, instead_of)
            if written is not None:
                return written
    except OSError as error:
        # The reader knows the file by its own name, not by that of the one beside it.
        raise OSError(error.errno, error.strerror, str(file)) from error
    raise OSError(errno.EAGAIN, os.strerror(errno.EAGAIN), str(file))


def _replaced(target: Path, data: bytes, instead_of: bytes | None) -> bool | None:
    """Return whether a file got data, or None where another run was in the way."""
    beside = target.with_name(f"{_OWN}{os.urandom(8).hex()}.tmp")
    try:
        with beside.open("xb") as stream:
            is_locked(stream)
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
            if target.is_file():
                with suppress(FileNotFoundError):
                    beside.chmod(stat.S_IMODE(target.stat().st_mode))
            if instead_of is not None:
                if not _holds(target, instead_of):
                    return False
                with suppress(OSError):
                    _exchange(beside, target)
                    return _is_taken(beside, target, data, instead_of)
            if fcntl is not None:
                return _is_moved(beside, target)
        return _is_moved(beside, target)  # Windows wants it closed before
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def _is_taken(beside: Path, target: Path, data: bytes, instead_of: bytes) -> bool:
    """Tell whether a file that was exchanged was the right one; else put it back."""
    given, expected = data, instead_of
    # Where another run took the old one for left there is nothing to put back.
    with suppress(OSError):
        for _ in range(_TRIES):
            taken = content(beside, len(expected))
            if taken == expected:
                break
            # What is put back may again take the place of something newer.
            taken = beside.read_bytes()
            _exchange(beside, target)
            given, expected = taken, given
        return given is data
    return False


def _holds(file: Path, expected: bytes) -> bool:
    with suppress(OSError):
        return content(file, len(expected)) == expected
    return False


def _exchange(one: Path, other: Path) -> None:
    """Let two files change places, so that at no moment one of the names is missing.

    Raises:
        OSError: The system, or the file system, cannot.
    """
    library: Any = None
    if sys.platform != "win32":
        library = ctypes.CDLL(None, use_errno=True)
    names = os.fsencode(one), os.fsencode(other)
    if hasattr(library, "renameat2"):
        failed = library.renameat2(_HERE, names[0], _HERE, names[1], _EXCHANGE)
    elif hasattr(library, "renamex_np"):
        failed = library.renamex_np(*names, _EXCHANGE)
    else:
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS), str(one))
    if failed:
        error = ctypes.get_errno()
        raise OSError(error, os.strerror(error), str(one), None, str(other))


def _is_moved(beside: Path, target: Path) -> bool | None:
    try:
        beside.replace(target)
    except FileNotFoundError:
        # Another run took it for left, before it was locked.
        return None
    return True


def _clear(folder: Path) -> None:
    """Remove what runs left that were ended while they wrote; not what one writes."""
    with suppress(OSError):
        for file in folder.iterdir():
            if _LEFT.fullmatch(file.name):
                _remove(file)


def _remove(left: Path) -> None:
    with suppress(OSError):
        with left.open("rb+") as stream:
            if not is_locked(stream):
                return
        left.unlink()


def is_locked(stream: BinaryIO) -> bool:
    """Take a file for this run alone, and tell whether that could be done."""
    if fcntl is None:
        return True  # nobody can remove it there while it is open
    try:
        fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        # Another run has it; or the file system has no locks, and nobody can tell.
        return False
    return True
