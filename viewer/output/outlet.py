"""Where a command's text goes: the terminal, a pipe, or a file that is whole or not."""

from __future__ import annotations

import errno
import io
import os
import sys
import unicodedata
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

STANDARD_OUTPUT: Final = "standard output"
_HARMFUL: Final = frozenset({"Cc", "Cf", "Co", "Cs", "Zl", "Zp"})
"""Unicode categories that a terminal may obey; those that turn text about too."""

_guard: ContextVar[Callable[[Path], str | None]] = ContextVar("guard")


@contextmanager
def guarded(why_not: Callable[[Path], str | None]) -> Iterator[None]:
    """Keep files from being written over while a command runs.

    Args:
        why_not: Says of a file that is there why it must stay, or None.
    """
    token = _guard.set(why_not)
    try:
        yield
    finally:
        _guard.reset(token)


def emit(text: str, file: Path | None = None, *, exact: bool = False) -> None:
    """Write text to a file, or to standard output where there is none.

    Args:
        text: What is written, with line feeds.
        file: It gets UTF-8, and is left as it was where anything goes wrong.
        exact: JSON, for programs: UTF-8 and line feeds on standard output too,
            whatever the system's habits are. What has no UTF-8 (half a surrogate
            pair), and there what a terminal might obey, is written as JSON escapes it.

    Raises:
        OSError: It cannot be written. A reader that has gone is no error.
    """
    if file is not None:
        write_whole(file, text.encode("utf-8", "backslashreplace"))
        return
    stream = sys.stdout
    if stream is None:
        raise OSError(errno.EBADF, "it is closed", STANDARD_OUTPUT)
    if isinstance(stream, io.TextIOWrapper):
        if exact:
            stream.reconfigure(
                encoding="utf-8", errors="backslashreplace", newline="\n"
            )
        else:
            stream.reconfigure(errors="replace")
    with reader_may_leave():
        stream.write(escaped(text) if exact else text)
        stream.flush()


def escaped(text: str) -> str:
    r"""Return JSON in which what a terminal may obey is written as an escape.

    >>> escaped('{"a": "b\u202e\x7f"}\n')
    '{"a": "b\\u202e\\u007f"}\n'
    """
    if text.isascii() and "\x7f" not in text:
        return text
    return "".join(_escape(char) for char in text)


def _escape(char: str) -> str:
    if char == "\n" or unicodedata.category(char) not in _HARMFUL:
        return char
    units = char.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[at : at + 4]}" for at in range(0, len(units), 4))


@contextmanager
def reader_may_leave() -> Iterator[None]:
    """Be quiet where the reader of standard output has gone, as ``head`` does.

    Raises:
        OSError: It cannot be written for another reason; standard output is named.
    """
    try:
        yield
    except OSError as error:
        # What is left in the buffer would be complained about at the very end.
        nowhere = os.open(os.devnull, os.O_WRONLY)
        with suppress(OSError, ValueError):
            os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
        if not _is_gone(error):
            raise OSError(error.errno, error.strerror, STANDARD_OUTPUT) from error


def _is_gone(error: OSError) -> bool:
    # Windows has no signal of its own for a pipe without a reader.
    invalid = os.name == "nt" and error.errno == errno.EINVAL
    return isinstance(error, BrokenPipeError) or invalid


def write_whole(file: Path, data: bytes, instead_of: bytes | None = None) -> bool:
    """Write a file whole or not at all, unless the command must keep it.

    Args:
        file: It is written as ``model3d.disk.files`` does.
        data: What it gets.
        instead_of: What must be in it until the last moment, or None.

    Returns:
        Whether it was written.

    Raises:
        OSError: It cannot be written, or must not; then nothing has changed.
    """
    # The help of every command is there without the model.
    from model3d.disk import files  # noqa: PLC0415

    why_not = _guard.get(_nothing)(file) if file.exists() else None
    if why_not:
        raise OSError(errno.EEXIST, why_not, str(file))
    return files.write_whole(file, data, instead_of)


def _nothing(_: Path) -> None:
    return None
