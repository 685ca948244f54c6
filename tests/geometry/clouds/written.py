"""Files of points for tests, in every format, of the same points."""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, Final

import laspy
import numpy as np
import pye57

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from numpy.typing import NDArray

    Points = NDArray[np.float64]


def xyz(path: Path, points: Points) -> None:
    """Write three columns parted by blanks."""
    np.savetxt(path, points, fmt="%.17g")


def csv(path: Path, points: Points) -> None:
    """Write a row of words, then columns parted by semicolons, a fourth one too."""
    rows = [";".join(f"{one:.17g}" for one in point) + ";7" for point in points]
    path.write_text("\n".join(["x;y;z;strength", *rows, ""]), encoding="utf-8-sig")


def ply_text(path: Path, points: Points) -> None:
    """Write a text PLY, with a number before the places."""
    rows = [" ".join(["7", *(f"{one:.17g}" for one in point)]) for point in points]
    head = _ply_head("ascii", len(points))
    path.write_text("\n".join([head + rows[0], *rows[1:], ""]), encoding="ascii")


def ply_little(path: Path, points: Points) -> None:
    """Write a binary PLY, the lowest byte first."""
    _ply(path, points, "little", "<")


def ply_big(path: Path, points: Points) -> None:
    """Write a binary PLY, the highest byte first."""
    _ply(path, points, "big", ">")


def _ply_head(order: str, count: int) -> str:
    return (
        f"ply\nformat {order} 1.0\ncomment made\nelement vertex {count}\n"
        "property uchar red\nproperty double x\nproperty double y\n"
        "property double z\nend_header\n"
    )


def _ply(path: Path, points: Points, name: str, order: str) -> None:
    rows = np.zeros(len(points), [("red", "u1"), ("place", f"{order}f8", (3,))])
    rows["place"] = points
    head = _ply_head(f"binary_{name}_endian", len(points)).encode()
    path.write_bytes(head + rows.tobytes())


def pcd_head(count: int, data: str) -> bytes:
    """Return the header of a PCD file of doubles, with three numbers more."""
    return (
        "# .PCD v0.7\nVERSION 0.7\nFIELDS normal x y z\nSIZE 4 8 8 8\n"
        f"TYPE F F F F\nCOUNT 3 1 1 1\nWIDTH {count}\nHEIGHT 1\n"
        f"VIEWPOINT 0 0 0 1 0 0 0\nPOINTS {count}\nDATA {data}\n"
    ).encode()


def pcd_text(path: Path, points: Points) -> None:
    """Write a text PCD."""
    rows = [
        " ".join(["1 2 3", *(f"{one:.17g}" for one in point)]) + "\n"
        for point in points
    ]
    path.write_bytes(pcd_head(len(points), "ascii") + "".join(rows).encode())


def pcd_binary(path: Path, points: Points) -> None:
    """Write a binary PCD."""
    rows = np.zeros(len(points), [("normal", "<f4", (3,)), ("place", "<f8", (3,))])
    rows["place"] = points
    path.write_bytes(pcd_head(len(points), "binary") + rows.tobytes())


def pcd_packed(path: Path, points: Points) -> None:
    """Write a binary PCD packed by LZF, the numbers of one name together."""
    body = (
        np.zeros((len(points), 3), "<f4").tobytes() + points.T.astype("<f8").tobytes()
    )
    packed = lzf(body)
    head = pcd_head(len(points), "binary_compressed")
    path.write_bytes(head + struct.pack("<II", len(packed), len(body)) + packed)


def lzf(data: bytes) -> bytes:
    """Pack bytes: a run of one byte as a step back by one, all else as it is."""
    made, at = bytearray(), 0
    while at < len(data):
        run = 1
        while run < 264 and data[at : at + 1] * (run + 1) == data[at : at + run + 1]:
            run += 1
        made += bytes([0, data[at]])
        at += 1
        more = run - 1
        if more >= 9:
            made += bytes([7 << 5, more - 9, 0])
            at += more
        elif more >= 3:
            made += bytes([(more - 2) << 5, 0])
            at += more
    return bytes(made)


def las(path: Path, points: Points) -> None:
    """Write a LAS or, by its ending, a LAZ file, to a tenth of a millimetre."""
    header = laspy.LasHeader(point_format=0, version="1.2")
    header.scales = np.array([1e-4] * 3)
    data = laspy.LasData(header)
    data.x, data.y, data.z = points.T
    data.write(path)


def e57(path: Path, points: Points) -> None:
    """Write an E57 file of one scan."""
    file = pye57.E57(str(path), mode="w")
    names = ("cartesianX", "cartesianY", "cartesianZ")
    file.write_scan_raw(dict(zip(names, np.ascontiguousarray(points.T), strict=True)))
    file.close()


def sealed(data: bytes) -> bytes:
    """Return an E57 file with the check sum of each of its pages put right.

    Source: ASTM E2807-11, 5: pages of 1024 bytes, the last four a CRC-32C.
    """
    made = bytearray(data)
    for start in range(0, len(made) - 1023, 1024):
        rest = 2**32 - 1
        for byte in made[start : start + 1020]:
            rest ^= byte
            for _ in range(8):
                rest = (rest >> 1) ^ (0x82F63B78 if rest & 1 else 0)
        made[start + 1020 : start + 1024] = struct.pack(">I", rest ^ (2**32 - 1))
    return bytes(made)


WRITERS: Final[dict[str, tuple[str, Callable[[Path, Points], None]]]] = {
    "xyz": ("a.xyz", xyz),
    "txt": ("a.TXT", xyz),
    "csv": ("a.csv", csv),
    "ply text": ("a.ply", ply_text),
    "ply little": ("a.ply", ply_little),
    "ply big": ("a.ply", ply_big),
    "pcd text": ("a.pcd", pcd_text),
    "pcd binary": ("a.pcd", pcd_binary),
    "pcd packed": ("a.pcd", pcd_packed),
    "las": ("a.las", las),
    "laz": ("a.laz", las),
    "e57": ("a.e57", e57),
}
