"""Reading plans in a process of its own, with an end; and what is wrong at once."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

from model3d.disk.files import lost_link
from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.file.worker import read_apart

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from model3d.exchange.dxf.drawn_plan import Plan

SECONDS: Final = 600.0
"""A plan of two hundred thousand lines in blocks takes one or two minutes."""
MEMORY: Final = 4 * 2**30
"""Bytes that the reader may have, where the system can hold it to that."""
LARGEST: Final = 256 * 2**20
_BINARY: Final = b"AutoCAD Binary DXF\r\n\x1a\x00"
"""What a binary DXF file begins with, as its reference has it."""
_HEAD: Final = 4096


def plan_of(
    file: Path,
    drawn_in: str | None,
    tell: Callable[[str], None],
    *,
    seconds: float = SECONDS,
    memory: int = MEMORY,
) -> Plan:
    """Return what is drawn on a plan, read by another process.

    Args:
        file: The plan.
        drawn_in: Its unit, where the user says one.
        tell: Is told what is worked on.
        seconds: After which it is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        ModelError: It cannot be read, or reading had to be ended.
        OSError: It cannot be opened.
    """
    if fault := _fault(file):
        msg = f"{file}: {fault}"
        raise ModelError(msg)
    work = partial(_read, file, drawn_in)
    return read_apart(work, str(file), tell, seconds=seconds, memory=memory)


def _read(file: Path, drawn_in: str | None, tell: Callable[[str], None]) -> Plan:
    import logging

    from model3d.exchange.dxf.file.reader import read_plan

    # The library tells of what it mends on the terminal.
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    try:
        return read_plan(file, drawn_in, tell)
    except ImportError as error:
        extra = 'a plan needs the extra [dxf]: pip install "standclear[dxf]"'
        msg = f"{file}: {extra}"
        raise ModelError(msg) from error


def _fault(file: Path) -> str | None:
    """Return what is wrong with a plan at first sight, or None."""
    if lost := lost_link(file):
        return f"found {lost}, right is a plan (.dxf)"
    if not file.is_file():
        return "found no plain file, right is a plan (.dxf)"
    size = file.stat().st_size
    if size > LARGEST:
        return f"found more than {LARGEST // 2**20} MiB, right is a smaller plan"
    with file.open("rb") as stream:
        head = stream.read(_HEAD)
        stream.seek(max(size - _HEAD, 0))
        tail = stream.read()
    if head.startswith(b"AC10"):
        return "found a DWG file, right is to save it as DXF"
    if head.startswith(_BINARY):
        return None
    words = head.removeprefix(b"\xef\xbb\xbf").split(maxsplit=1)
    if not words or words[0] not in (b"0", b"999"):
        return "found no DXF, right is a plan that begins with a SECTION"
    if tail.split()[-2:] != [b"0", b"EOF"]:
        return "found no end, right is a whole plan that ends with EOF"
    return None
