"""A program that reads points of LAS, LAZ and E57 files: run by ``surveyed`` alone.

It needs nothing of the model, so that it starts fast and wherever Python does. What it
answers is an array as numpy saves it, or why there is none.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]


def answer(file: str, data: bytes, most: int) -> bytes:
    """Return the points of a file, or what is wrong with it.

    Args:
        file: An E57 file; "" for a LAS or LAZ file.
        data: What is in such a one.
        most: Points that it may hold.
    """
    try:
        found = _e57(file, most) if file else _las(data, most)
    except ValueError as error:
        return str(error).encode()
    with io.BytesIO() as stream:
        np.save(stream, np.ascontiguousarray(found, dtype=np.float64))
        return stream.getvalue()


def _las(data: bytes, most: int) -> Points:
    import laspy  # noqa: PLC0415 - an extra

    said = 0
    try:
        with laspy.open(io.BytesIO(data)) as reader:
            said = int(reader.header.point_count)
            if 0 < said <= most:
                found = np.array(reader.read().xyz).reshape(-1, 3)
    except BaseException as error:
        # Of damaged packed points its other half, in Rust, raises no Exception.
        msg = "it is damaged, or no LAS file"
        raise ValueError(msg) from error
    _require(said, most)
    if len(found) != said:
        msg = f"its header says {said} points, and it has {len(found)}"
        raise ValueError(msg)
    return found


def _e57(path: str, most: int) -> Points:
    import pye57  # noqa: PLC0415 - an extra

    said, is_short = 0, False
    try:
        file = pye57.E57(path)
        _clear(file)
        scans = range(file.scan_count)
        said = sum(file.get_header(scan).point_count for scan in scans)
        if 0 < said <= most:
            parts = [
                file.read_scan(scan, ignore_missing_fields=True, transform=True)
                for scan in scans
            ]
            places = [
                np.column_stack([part[f"cartesian{axis}"] for axis in "XYZ"])
                for part in parts
            ]
            found = np.concatenate(places)
            is_short = any(np.isnan(one[-1:]).any() for one in places)
        file.close()
    except Exception as error:
        msg = "it is damaged, or no E57 file"
        raise ValueError(msg) from error
    _require(said, most)
    if is_short:
        msg = f"its header says {said} points, and it has fewer"
        raise ValueError(msg)
    return found


def _clear(file: Any) -> None:  # noqa: ANN401 - of a library without types
    """Let pye57 hand out nothing where a file has fewer points than it says.

    It hands out what lay in memory there.
    """
    make = file.make_buffer

    def make_cleared(*names: object, **how: object) -> tuple[Any, Any]:
        places, buffer = make(*names, **how)
        places.fill(np.nan if places.dtype.kind == "f" else 0)
        return places, buffer

    file.make_buffer = make_cleared


def _require(said: int, most: int) -> None:
    if not 0 < said <= most:
        raise ValueError(f"more than {most} points" if said > 0 else "no points")


if __name__ == "__main__":
    Path(sys.argv[1]).write_bytes(
        answer(sys.argv[2], sys.stdin.buffer.read(), int(sys.argv[3]))
    )
