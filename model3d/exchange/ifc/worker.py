"""Reading in a process of its own, with an end: models come from everywhere."""

from __future__ import annotations

import multiprocessing
import time
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.ifc.element import Building, ModelError
from model3d.geometry.files.step_reader import hold_to

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from multiprocessing.connection import Connection
    from pathlib import Path

SECONDS: Final = 600.0
"""A building of ten thousand elements takes one or two minutes."""
MEMORY: Final = 8 * 2**30
"""Bytes that the reader may have, where the system can hold it to that."""
_POLL: Final = 0.5


def building_of(
    files: Sequence[Path],
    tell: Callable[[str], None],
    *,
    seconds: float = SECONDS,
    memory: int = MEMORY,
) -> Building:
    """Return what is in models of one building, read by another process.

    Args:
        files: The models.
        tell: Is told what is worked on.
        seconds: After which it is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        ModelError: One cannot be read, or reading had to be ended.
    """
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(
        target=_work, args=(there, tuple(files), memory), daemon=True
    )
    process.start()
    there.close()
    names = ", ".join(str(file) for file in files)
    try:
        return _answer(here, tell, time.monotonic() + seconds)
    except TimeoutError as error:
        msg = f"{names}: reading took more than {seconds:g} s and was ended"
        raise ModelError(msg) from error
    except EOFError as error:
        msg = f"{names}: the reader ended without an answer, right is a sound model"
        raise ModelError(msg) from error
    finally:
        process.kill()
        process.join()
        here.close()


def _answer(here: Connection, tell: Callable[[str], None], end: float) -> Building:
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
            case ("read", Building() as building):
                return building
        if time.monotonic() > end:
            raise TimeoutError


def _work(there: Connection, files: tuple[Path, ...], memory: int) -> None:
    from model3d.exchange.ifc.reading import read_building

    hold_to(memory)
    said: Any
    try:
        said = ("read", read_building(files, lambda what: there.send(("told", what))))
    except ModelError as error:
        said = ("wrong", error.mistakes)
    except MemoryError:
        said = ("wrong", (f"{files[0]}: reading needs more than {memory} bytes",))
    except ImportError:
        extra = 'a building model needs the extra [ifc]: pip install "standclear[ifc]"'
        said = ("wrong", (f"{files[0]}: {extra}",))
    there.send(said)
    there.close()
