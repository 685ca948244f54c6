"""Reading in a process of its own, with an end: models come from everywhere."""

from __future__ import annotations

import logging
import multiprocessing
import time
import warnings
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING, Any, Final, TypeVar

from model3d.exchange.ifc.element import ModelError
from model3d.geometry.files.held import hold_to

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from multiprocessing.connection import Connection
    from pathlib import Path

    from model3d.exchange.ifc.element import Building

SECONDS: Final = 600.0
"""A building of ten thousand elements takes one or two minutes."""
MEMORY: Final = 8 * 2**30
"""Bytes that the reader may have, where the system can hold it to that."""
_POLL: Final = 0.5
Found = TypeVar("Found")


def building_of(
    files: Sequence[Path],
    tell: Callable[[str], None],
    drawn_in: str | None = None,
    *,
    seconds: float = SECONDS,
    memory: int = MEMORY,
) -> Building:
    """Return what is in models of one building, read by another process.

    Args:
        files: The models.
        tell: Is told what is worked on.
        drawn_in: The unit of those that say none, where the user says one.
        seconds: After which it is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        ModelError: One cannot be read, or reading had to be ended.
    """
    names = ", ".join(str(file) for file in files)
    work = partial(_read, tuple(files), drawn_in)
    return read_apart(work, names, tell, seconds=seconds, memory=memory)


def _read(
    files: tuple[Path, ...], drawn_in: str | None, tell: Callable[[str], None]
) -> Building:
    from model3d.exchange.ifc.file.reader import read_building

    try:
        return read_building(files, tell, drawn_in)
    except ImportError as error:
        extra = 'a building model needs the extra [ifc]: pip install "standclear[ifc]"'
        msg = f"{files[0]}: {extra}"
        raise ModelError(msg) from error


def read_apart(
    read: Callable[[Callable[[str], None]], Found],
    name: str,
    tell: Callable[[str], None],
    *,
    seconds: float,
    memory: int,
) -> Found:
    """Return what another process reads.

    Args:
        read: Reads, and tells what it works at; another process must find it by name.
        name: Of the files, for what is told of them.
        tell: Is told what is worked on.
        seconds: After which it is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        ModelError: They cannot be read, or reading had to be ended.
    """
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(
        target=_work, args=(there, read, name, memory, seconds), daemon=True
    )
    process.start()
    there.close()
    try:
        found: Found = _answer(here, tell, time.monotonic() + seconds)
    except TimeoutError as error:
        msg = f"{name}: reading took more than {seconds:g} s and was ended"
        raise ModelError(msg) from error
    except EOFError as error:
        msg = f"{name}: the reader ended without an answer, right is a sound model"
        raise ModelError(msg) from error
    finally:
        process.kill()
        process.join()
        here.close()
    return found


def _answer(here: Connection, tell: Callable[[str], None], end: float) -> Any:
    while True:
        if not here.poll(_POLL):
            if time.monotonic() > end:
                raise TimeoutError
            continue
        match here.recv():
            case ("told", str(what)):
                tell(what)
            case ("wrong", tuple(mistakes)):
                raise ModelError(*mistakes)
            case ("read", found):
                return found
        if time.monotonic() > end:
            raise TimeoutError


def _work(
    there: Connection,
    read: Callable[[Callable[[str], None]], object],
    name: str,
    memory: int,
    seconds: float,
) -> None:
    hold_to(memory, seconds)
    # What a library has to say to programmers is nothing to a user.
    warnings.simplefilter("ignore")
    logging.getLogger().addHandler(logging.NullHandler())
    said: tuple[str, object]
    try:
        said = ("read", read(lambda what: there.send(("told", what))))
    except ModelError as error:
        said = ("wrong", error.mistakes)
    except MemoryError:
        said = ("wrong", (f"{name}: reading needs more than {memory} bytes",))
    except Exception:  # noqa: BLE001 - libraries meet all kinds of things in bad models
        msg = f"{name}: found what cannot be read, right is a sound model"
        said = ("wrong", (msg,))
    with suppress(OSError):  # whoever asked is gone
        there.send(said)
        there.close()
