"""Reading by another process, with an end: files come from everywhere.

The process is a program of its own and not one of multiprocessing's, which would run
the script of a person who uses the model again.
"""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING, Final, NamedTuple

from model3d.disk.scratch import scratch
from model3d.geometry.files import held

if TYPE_CHECKING:
    from types import ModuleType

SECONDS: Final = 120.0
"""Gear with thousands of faces takes a few; so do millions of packed points."""
MEMORY: Final = 4 * 2**30
"""Bytes that a reader may have, where the system can hold it to that."""
_LONGEST_LOG: Final = 2**20
_NO_WINDOW: Final = getattr(subprocess, "CREATE_NO_WINDOW", 0)
"""Windows would else show one for a moment."""


class ApartError(Exception):
    """A reader without an answer; the message says why, in a few words."""


class Answer(NamedTuple):
    """What a reader answers.

    Attributes:
        said: The answer.
        log: What it, or a library that it uses, wrote on its streams.
    """

    said: bytes
    log: bytes


def answer_of(
    reader: ModuleType,
    data: bytes,
    *words: str,
    seconds: float = SECONDS,
    memory: int = MEMORY,
) -> Answer:
    """Return what a reader makes of a file.

    Args:
        reader: Its program: it gets the name of a file for its answer, and words.
        data: What it finds on its standard input.
        words: What else it is told.
        seconds: After which reading is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        ApartError: It had to be ended, or ended without an answer.
    """
    with scratch() as folder:
        answer, log = folder / "answer", folder / "log"
        limits = [str(memory), str(seconds)]
        program = [held.__file__, *limits, str(reader.__file__)]
        # Libraries write of faults on their own, past Python, to both streams.
        with log.open("wb") as stream:
            try:
                subprocess.run(  # noqa: S603 - this Python, with a file of ours
                    [sys.executable, "-P", *program, str(answer), *words],
                    input=data,
                    stdout=stream,
                    stderr=subprocess.STDOUT,
                    timeout=seconds,
                    check=True,
                    creationflags=_NO_WINDOW,
                )
            except subprocess.TimeoutExpired as error:
                msg = f"reading it took more than {seconds:g} s and was ended"
                raise ApartError(msg) from error
            except subprocess.CalledProcessError as error:
                msg = "its reader ended without an answer"
                raise ApartError(msg) from error
        with log.open("rb") as stream:
            return Answer(answer.read_bytes(), stream.read(_LONGEST_LOG))
