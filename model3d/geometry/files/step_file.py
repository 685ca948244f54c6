"""STEP files, read by another process with an end. Source: ISO 10303-21."""

from __future__ import annotations

import importlib.util
from typing import Final

from model3d.geometry.files import step_reader
from model3d.geometry.files.announced import TOO_SHORT, MeshFileError
from model3d.geometry.files.apart import MEMORY, SECONDS, ApartError, answer_of

_READER: Final = "cascadio"
_HEAD: Final = b"ISO-10303-21;"
_END: Final = b"END-ISO-10303-21;"
_LONGEST_END: Final = 2**16


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
    try:
        said, log = answer_of(step_reader, data, seconds=seconds, memory=memory)
    except ApartError as error:
        raise MeshFileError(str(error)) from error
    if not said.startswith(step_reader.GLB):
        raise MeshFileError(said.decode())
    if b" ERR " in log:
        # The library goes on without what a line should have said.
        msg = "it has numbers that are none, or names what is not there"
        raise MeshFileError(msg)
    return said
