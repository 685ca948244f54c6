"""Broken meshes: read whole, or refused with a reason in our words, in little time."""

from __future__ import annotations

import base64
import logging
import re
import tempfile
import time
import warnings
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
import trimesh  # noqa: TID251 - its writers make what is broken here

from model3d.geometry.files.announced import MeshFileError
from model3d.geometry.files.mesh import read_mesh
from tests.fuzz.part import smaller_files as smaller

if TYPE_CHECKING:
    from random import Random

    from tests.fuzz.part import Example

__all__ = ["example", "smaller", "wrong"]

ENDINGS: Final = ("glb", "stl", "stl_ascii", "obj", "ply", "ply_ascii")
_LONGEST: Final = 20.0
"""Seconds one of these small files may take."""
_OURS: Final = re.compile(r"[a-z0-9][\w ,.\[\]()/:-]*", re.IGNORECASE)
_NOT_OURS: Final = re.compile(r"array|index|dtype|None|object|Error|buffer size|axis")


def example(draw: Random) -> Example:
    """Write a mesh and break its bytes."""
    ending = draw.choice(ENDINGS)
    data = bytearray(_written(ending))
    for _ in range(draw.choice((1, 1, 2, 4, 16))):
        at = draw.randrange(max(len(data), 1))
        match draw.randrange(6):
            case 0:
                del data[at:]
            case 1:
                data[at : at + 1] = bytes([draw.randrange(256)])
            case 2:
                data[at : at + 4] = draw.choice(_WORDS)
            case 3:
                del data[at : at + draw.choice((1, 4, 50))]
            case 4:
                data[at:at] = data[: draw.choice((1, 12, 84, 300))]
            case _:
                data[at : at + 2] = draw.choice((b"99", b"-9", b"1e", b" ", b"nan"))
    return {"ending": ending, "data": base64.b64encode(bytes(data)).decode()}


_WORDS: Final = (
    b"\xff\xff\xff\xff",
    b"\x00\x00\x00\x00",
    b"\x00\x00\x00\x80",
    b"\x00\x00\xc0\x7f",
    b"\xff\xff\xff\x7f",
    b"\x10\x27\x00\x00",
)


def wrong(example: Example) -> str:
    """Say whether anything is raised but a refusal, or it takes too long."""
    data = base64.b64decode(example["data"])
    name = f"broken.{example['ending'].partition('_')[0]}"
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / name
        file.write_bytes(data)
        start = time.monotonic()
        found = _wrong(file)
    if not found and time.monotonic() - start > _LONGEST:
        return f"slow: {time.monotonic() - start:.1f} s"
    return found


def _wrong(file: Path) -> str:
    logging.getLogger("trimesh").addHandler(logging.NullHandler())
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            points, faces = read_mesh(file)
    except MeshFileError as error:
        words = str(error)
        is_ours = _OURS.fullmatch(words) and not _NOT_OURS.search(words)
        return "" if is_ours else f"not our words: {words}"
    except Exception as error:  # noqa: BLE001 - that is what is looked for
        return f"{type(error).__name__}: {error}"
    if not np.isfinite(points).all() or faces.min() < 0 or faces.max() >= len(points):
        return "read wrongly: no mesh"
    return ""


@cache
def _written(ending: str) -> bytes:
    body = trimesh.creation.icosphere(subdivisions=1)
    if ending == "ply_ascii":
        found: bytes | str = body.export(file_type="ply", encoding="ascii")
    else:
        found = body.export(file_type=ending)
    return found.encode() if isinstance(found, str) else bytes(found)
