"""Where a command's text goes: the terminal, a pipe, or a file that is whole or not."""

from __future__ import annotations

import errno
import io
import os
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


def emit(text: str, file: Path | None = None, *, exact: bool = False) -> None:
    """Write text to a file, or to standard output where there is none.

    Args:
        text: What is written, with line feeds.
        file: It gets UTF-8, and is left as it was where anything goes wrong.
        exact: For programs: UTF-8 and line feeds on standard output too, whatever
            the system's habits are. A character that has no UTF-8 (half a surrogate
            pair) is then written as JSON escapes it.

    Raises:
        OSError: It cannot be written. A reader that has gone is no error.
    """
    if file is not None:
        write_whole(file, text.encode("utf-8", "backslashreplace"))
        return
    stream = sys.stdout
    if isinstance(stream, io.TextIOWrapper):
        if exact:
            stream.reconfigure(
                encoding="utf-8", errors="backslashreplace", newline="\n"
            )
        else:
            stream.reconfigure(errors="replace")
    with reader_may_leave():
        stream.write(text)
        stream.flush()


@contextmanager
def reader_may_leave() -> Iterator[None]:
    """Be quiet where the reader of standard output has gone, as ``head`` does."""
    try:
        yield
    except OSError as error:
        if not _is_gone(error):
            raise
        # What is left in the buffer would be complained about at the very end.
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _is_gone(error: OSError) -> bool:
    # Windows has no signal of its own for a pipe without a reader.
    invalid = os.name == "nt" and error.errno == errno.EINVAL
    return isinstance(error, BrokenPipeError) or invalid


def write_whole(file: Path, data: bytes) -> None:
    """Write a file so that there is all of it or the old one, and never a part.

    Raises:
        OSError: It cannot be written; then nothing has changed.
    """
    # The help of every command is there without the model.
    from model3d import whole  # noqa: PLC0415

    whole.write_whole(file, data)
