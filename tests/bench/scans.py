"""Measure scans: queries of many triangles and points, as ratios to reading them.

`python -m tests.bench.scans` takes a million of each; `--large` ten million too.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.clouds.reader import read_points
from model3d.geometry.clouds.sifting import sift
from model3d.geometry.files.mesh import read_mesh
from model3d.geometry.frame import Frame

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

LOW, HIGH = (0.0, 0.0, 0.0), (0.762, 0.914, 1.981)
"""A working space, metres."""
FRAMES = tuple(Frame.facing(1.0 + n, 2.0, 45.0 * n) for n in range(4))
"""Where it stands in a room of 6 by 4 by 3."""
_NOISE = 0.003
_LOST = 0.01
"""Of a scan: metres by which its points are off, and which share of it is not there."""


class Ratios(NamedTuple):
    """Processor time as a ratio to reading the same from a file.

    Attributes:
        triangles: How many were there.
        query: What of them is in a working space, the first time from its front,
            against reading them.
        sifting: Finding which of as many points count, against reading them.
    """

    triangles: int
    query: float
    sifting: float


def scan(count: int) -> tuple[Points, Faces]:
    """Return points and faces of about so many triangles on the walls of a room."""
    dice = np.random.default_rng(1)
    room = np.diag((6.0, 4.0, 3.0))
    sides = [(o, u, v) for u, v in ((0, 1), (1, 2), (0, 2)) for o in (0, 1)]
    step = np.sqrt(2 * 2 * (6 * 4 + 4 * 3 + 6 * 3) / count)
    points, faces, before = [], [], 0
    for far, u, v in sides:
        start = far * room[3 - u - v]
        wide, high = (max(2, round(room[axis, axis] / step)) for axis in (u, v))
        across = np.linspace(0, 1, wide + 1)[:, None, None] * room[u]
        place = start + across + np.linspace(0, 1, high + 1)[:, None] * room[v]
        points.append(place.reshape(-1, 3))
        first = np.arange(wide)[:, None] * (high + 1) + np.arange(high) + before
        one = np.stack([first, first + high + 1, first + high + 2], axis=-1)
        other = np.stack([first, first + high + 2, first + 1], axis=-1)
        faces += [one.reshape(-1, 3), other.reshape(-1, 3)]
        before += len(points[-1])
    whole = np.concatenate(points)
    whole += dice.normal(0, _NOISE, whole.shape)
    there = np.concatenate(faces)
    kept = there[dice.random(len(there)) > _LOST]
    return whole.astype(np.float32).astype(np.float64), kept


def measure(count: int) -> Ratios:
    """Measure so many triangles, and so many points."""
    dice = np.random.default_rng(1)
    with tempfile.TemporaryDirectory() as folder:
        file, cloud = Path(folder, "a.ply"), Path(folder, "b.ply")
        shape = scan(count)
        _write(file, *shape)
        _write(cloud, dice.random((count, 3)) * (6.0, 4.0, 3.0))
        del shape
        start = time.process_time()
        found = Mesh(*read_mesh(file))
        reading = time.process_time() - start
        found.seen_from(FRAMES[0]).extents(LOW, HIGH)  # its triangles are sorted once
        query = _time(
            lambda: [found.seen_from(one).extents(LOW, HIGH) for one in FRAMES], 1
        )
        query /= len(FRAMES)
        points = read_points(cloud)
        sifting = _time(lambda: sift(points), 1) / _time(lambda: read_points(cloud))
    return Ratios(len(found.faces), query / reading, sifting)


def _write(file: Path, points: Points, faces: Faces | None = None) -> None:
    """Write a binary PLY file."""
    head = f"ply\nformat binary_little_endian 1.0\nelement vertex {len(points)}\n"
    head += "".join(f"property float {axis}\n" for axis in "xyz")
    rows = np.zeros(0 if faces is None else len(faces), "u1, (3,)<i4")
    if faces is not None:
        head += f"element face {len(faces)}\nproperty list uchar int vertex_indices\n"
        rows["f0"], rows["f1"] = 3, faces
    body = points.astype("<f4").tobytes() + rows.tobytes()
    file.write_bytes(f"{head}end_header\n".encode() + body)


def _time(work: Callable[[], object], runs: int = 3) -> float:
    """Return the least processor time of some runs, seconds."""
    found = []
    for _ in range(runs):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def main() -> None:
    """Print the table."""
    for count in (1_000_000, *([10_000_000] if "--large" in sys.argv else [])):
        found = measure(count)
        sys.stdout.write(
            f"{found.triangles} triangles: a query {found.query:.3f} x reading them\n"
            f"{count} points: which count {found.sifting:.1f} x reading them\n"
        )


if __name__ == "__main__":
    main()
