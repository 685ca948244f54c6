"""Damaged files of other programs: read, or refused with a line and nothing written."""

from __future__ import annotations

import base64
import contextlib
import io
import os
import re
import tempfile
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING, Final

from tests.fuzz.files import whole_files
from tests.fuzz.part import smaller_files as smaller
from viewer.cli.main import NOT_USABLE, main

try:
    import resource
except ImportError:  # on Windows, where nobody tells how much memory there was
    resource = None  # type: ignore[assignment]

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

    from tests.fuzz.part import Example

__all__ = ["example", "smaller", "wrong"]

_LONGEST: Final = 30.0
"""Seconds of processor time one of these small files may take, in a process apart too:
to load what reads building models takes some of them."""
_MOST: Final = 1.5 * 2**30
"""Bytes that a process may have more than it had before."""
_LINES: Final = 60
"""Of mistakes; a list has one a cell at most."""
_ODD: Final = re.compile(
    r"[^\n\x20-\x7e\xa0-\u1fff\u2010-\u2027\u2030-\ufeee\U00010000-\U0001fbff]"
)
_NUMBER: Final = re.compile(rb"-?\d+\.?\d*")
_NUMBERS: Final = (
    *(b"0", b"-1", b"1", b"1e308", b"-1e308", b"nan", b"inf", b"1e-300", b"2147483647"),
    *(b"4294967295", b"9" * 40, b"-0.0", b"1e400", b"", b"x", b"*", b"$", b"#1"),
)
_PIECES: Final = (
    *(b"\x00", b"\xff\xff\xff\xff", b"\x00\x00\x00\x80", b"\xff\xff\xff\x7f"),
    *(b"\n", b"\r\n", b",", b";", b"\t", b'"', b"'", b"=1+1", b"&x;", b"<", b"]]>"),
    *(b"\xe2\x80\xae", b"\x1b[2J", b"\xef\xbb\xbf", b"\xc3", b"\xff\xfe", b"\\X\\0"),
)
_SLOW: Final = (
    "model.ifc",
    "into.ifc",
    "plan.dxf",
    "layers.csv",
    "box.step",
    "e57.e57",
)
"""What a process of its own reads, which takes seconds to begin."""


def example(draw: Random) -> Example:
    """Choose a file and damage it."""
    files = whole_files()
    quick = [name for name in files if name not in _SLOW]
    name = draw.choice(quick if draw.random() < 0.7 else _SLOW)
    data = files[name].data
    if name.endswith(".xlsx") and draw.random() < 0.8:
        data = _repacked(draw, data)
    else:
        data = _damaged(draw, data)
    return {"name": name, "data": base64.b64encode(data).decode()}


def wrong(example: Example) -> str:
    """Say whether anything comes out but what is promised."""
    with _asked(example) as command:
        before = {*Path().iterdir()}
        start, memory = _seconds(), _memory()
        status, out, err = _said(command)
        seconds, more = _seconds() - start, _memory() - memory
        made = {*Path().iterdir()} - before
        if found := _wrong(status, out, err, made):
            return found
        if seconds > _LONGEST:
            return f"slow: {seconds:.1f} s"
        if more > _MOST:
            return f"much memory: {more / 2**20:.0f} MiB more"
        return _unread() if made == {Path("made.yaml")} else ""


def status_of(example: Example) -> int:
    """Return the exit status alone."""
    with _asked(example) as command:
        return _said(command)[0]


@contextlib.contextmanager
def _asked(example: Example) -> Iterator[tuple[str, ...]]:
    """Work in a folder with the files, and yield what is asked of them."""
    name = example["name"]
    _, command, beside = whole_files()[name]
    with tempfile.TemporaryDirectory() as home, contextlib.chdir(home):
        for other, data in beside.items():
            Path(other).write_bytes(data)
        Path(name).write_bytes(base64.b64decode(example["data"]))
        yield command


def _said(command: tuple[str, ...]) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main([*command])
    return status, out.getvalue(), err.getvalue()


def _wrong(status: int, out: str, err: str, made: set[Path]) -> str:
    lines = err.splitlines()
    if status not in (0, 1, NOT_USABLE) or "fault of standclear" in err:
        return f"fault: {status} {err}"
    if "Traceback" in out + err or "Warning" in err:
        return f"not our words: {err}"
    if odd := _ODD.search(out + err):
        return f"a sign that is obeyed: {odd[0]!r}"
    if status != NOT_USABLE:
        return ""
    if made:
        return f"written though refused: {made}"
    if not lines or len(lines) > _LINES or any(": " not in line for line in lines[-1:]):
        return f"no clear line: {err}"
    if len({*lines}) < len(lines):
        return f"said twice: {err}"
    return ""


def _unread() -> str:
    """Say whether a scene that was made cannot be read again."""
    status, _, err = _said(("check", "made.yaml"))
    return f"made but refused: {err}" if status not in (0, 1) else ""


def _damaged(draw: Random, whole: bytes) -> bytes:
    data = whole
    for _ in range(draw.choice((1, 1, 1, 2, 3, 8))):
        at = draw.randrange(max(len(data), 1))
        end = at + draw.choice((0, 1, 2, 4, 30, 300))
        match draw.randrange(8):
            case 0:
                data = data[:at]
            case 1:
                data = data[:at] + data[end:]
            case 2:
                data = data[:at] + draw.choice(_PIECES) + data[end:]
            case 3:
                data = data[:at] + bytes([draw.randrange(256)]) + data[at + 1 :]
            case 4:
                data = data[:end] + data[at:]
            case 5:
                lines = data.splitlines(keepends=True) or [b""]
                one, other = (draw.randrange(len(lines)) for _ in range(2))
                lines[one] = draw.choice((b"", lines[other], lines[one] * 2))
                data = b"".join(lines)
            case _:
                numbers = [*_NUMBER.finditer(data)]
                if numbers:
                    here = draw.choice(numbers)
                    new = draw.choice((*_NUMBERS, draw.choice(numbers)[0]))
                    data = data[: here.start()] + new + data[here.end() :]
    return data


def _repacked(draw: Random, whole: bytes) -> bytes:
    """Damage one of the files that are packed together."""
    made = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(whole)) as old,
        zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        names = old.namelist()
        hit = draw.choice(names)
        for name in names:
            data = old.read(name)
            if name == hit:
                if draw.random() < 0.1:
                    continue
                data = _damaged(draw, data)
            new.writestr(name, data)
    return made.getvalue()


def _seconds() -> float:
    return sum(os.times()[:4])


def _memory() -> float:
    """Return the most memory that this process or one of its own had, bytes."""
    if resource is None:
        return 0.0
    who = resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN
    return max(resource.getrusage(one).ru_maxrss for one in who) * 1024.0
