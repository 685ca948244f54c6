"""A program that turns a STEP file into a GLB file: run by ``step``, never imported.

It needs nothing of the model, so that it starts fast and wherever Python does. What
the library would leave out without a word is refused here, for what is left out would
be in nobody's way. Source: ISO 10303-21 (the file), ISO 10303-41 (units), 10303-42
(faces).
"""

from __future__ import annotations

import json
import re
import struct
import sys
from pathlib import Path
from typing import Final

ANGLE: Final = 0.2
"""Radians between the pieces of a curve: a pipe lies half a percent too far in."""
DEVIATION: Final = 1.0
"""Millimetres, whatever the file's unit, between a curve and its pieces."""
GLB: Final = b"glTF"
_NO_STEP: Final = "it is damaged, or no STEP file"
_TRIANGLES: Final = 4
_ASIDE: Final = re.compile(rb"'[^']*'|/\*.*?\*/", re.DOTALL)
"""Texts and remarks, which may hold anything."""
_LENGTH: Final = re.compile(rb"#(\d+)\s*=\s*\([^;]*?\bLENGTH_UNIT\s*\(")
_UNITS: Final = re.compile(rb"\bGLOBAL_UNIT_ASSIGNED_CONTEXT\s*\(\s*\(([^)]*)\)")
_FACE: Final = re.compile(rb"=\s*(?:ADVANCED_FACE|FACE_SURFACE)\s*\(")
_NUMBER: Final = re.compile(rb"\d+")


def answer(data: bytes) -> bytes:
    """Return a STEP file as GLB, in metres and z up, or what is wrong with it."""
    text = _ASIDE.sub(b"''", data)
    if not _says_its_unit(text):
        return b"it does not say its unit of length"
    # One by one, for the library drops a face that it cannot make triangles of.
    made = _glb(data, merged=False)
    if not made:
        return _NO_STEP.encode()
    faces = len(_FACE.findall(text))
    lost = faces - _parts(made)
    if lost > 0:
        return f"{lost} of its {faces} faces cannot be read".encode()
    return _glb(data, merged=True) or _NO_STEP.encode()


def _glb(data: bytes, *, merged: bool) -> bytes:
    """Return a STEP file as GLB, each face a part or all of a body; nothing if bad."""
    import cascadio  # noqa: PLC0415 - an extra

    # Not several threads: the same file is to give the same bytes.
    return cascadio.load(
        data,
        tol_linear=DEVIATION,
        tol_angular=ANGLE,
        merge_primitives=merged,
        use_parallel=False,
    )


def _says_its_unit(text: bytes) -> bool:
    """Tell whether all that has units has one of length; else millimetres are taken."""
    lengths = set(_LENGTH.findall(text))
    named = [set(_NUMBER.findall(units)) for units in _UNITS.findall(text)]
    return bool(named) and all(units & lengths for units in named)


def _parts(glb: bytes) -> int:
    """Return how many parts of triangles the meshes of a GLB file have."""
    (size,) = struct.unpack_from("<I", glb, 12)
    header = json.loads(glb[20 : 20 + size])
    parts = [part for mesh in header.get("meshes", []) for part in mesh["primitives"]]
    return sum(part.get("mode", _TRIANGLES) >= _TRIANGLES for part in parts)


if __name__ == "__main__":
    Path(sys.argv[1]).write_bytes(answer(sys.stdin.buffer.read()))
