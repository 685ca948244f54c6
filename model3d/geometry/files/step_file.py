"""STEP files, read by another process with an end: makers' files come from everywhere.

The process is a program of its own and not one of multiprocessing's, which would run
the script of a person who uses the model again. Source: ISO 10303-21.
"""

from __future__ import annotations

import importlib.util
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Final

from model3d.geometry.files import step_reader
from model3d.geometry.files.announced import TOO_SHORT, MeshFileError

SECONDS: Final = 120.0
"""Gear with thousands of faces takes a few."""
MEMORY: Final = 4 * 2**30
"""Bytes that the reader may have, where the system can hold it to that."""
_READER: Final = "cascadio"
_HEAD: Final = b"ISO-10303-21;"
_END: Final = b"END-ISO-10303-21;"
_LONGEST_END: Final = 2**16
_LONGEST_LOG: Final = 2**20
_NO_WINDOW: Final = getattr(subprocess, "CREATE_NO_WINDOW", 0)
"""Windows would else show one for a moment."""


def require_step(data: bytes) -> None:
    """Make sure that a STEP file is whole, as far as its first and last words tell.

    Raises:
        MeshFileError: It is not.
    """
    if not data.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(_HEAD):
        msg = "it is no STEP file"
        raise MeshFileError(msg)
    if _END not in data[-_LONGEST_END:]:
        raise MeshFileError(TOO_SHORT)


def glb_of(data: bytes, *, seconds: float = SECONDS, memory: int = MEMORY) -> bytes:
    """Return what is in a STEP file as a GLB file, in metres and z up.

    The file says itself in what unit it is. The z axis is not turned as glTF would have
    it: the library keeps the axes of the STEP file.

    Args:
        data: The file.
        seconds: After which reading is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        MeshFileError: It cannot be read, not wholly, or not in that time or memory; or
            the extra [step] is not installed.
    """
    if importlib.util.find_spec(_READER) is None:
        msg = 'a STEP file needs the extra [step]: pip install "standclear[step]"'
        raise MeshFileError(msg)
    with tempfile.TemporaryDirectory() as folder:
        answer, log = Path(folder, "answer"), Path(folder, "log")
        try:
            _run(data, answer, log, seconds=seconds, memory=memory)
        except subprocess.TimeoutExpired as error:
            msg = f"reading it took more than {seconds:g} s and was ended"
            raise MeshFileError(msg) from error
        except subprocess.CalledProcessError as error:
            msg = "the reader of STEP files ended without an answer"
            raise MeshFileError(msg) from error
        with log.open("rb") as stream:
            faults = b" ERR " in stream.read(_LONGEST_LOG)
        said = answer.read_bytes()
    if not said.startswith(step_reader.GLB):
        raise MeshFileError(said.decode())
    if faults:
        # The library goes on without what a line should have said.
        msg = "it has numbers that are none, or names what is not there"
        raise MeshFileError(msg)
    return said


def _run(data: bytes, answer: Path, log: Path, *, seconds: float, memory: int) -> None:
    # The library writes of faults on its own, past Python, to both streams.
    with log.open("wb") as stream:
        subprocess.run(  # noqa: S603 - this Python, with a file of ours
            [sys.executable, "-P", step_reader.__file__, str(answer), str(memory)],
            input=data,
            stdout=stream,
            stderr=subprocess.STDOUT,
            timeout=seconds,
            check=True,
            creationflags=_NO_WINDOW,
        )
