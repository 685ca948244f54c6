"""Measure scans: queries of many triangles and points, as ratios to reading them.

`python -m tests.bench.scans` takes a million triangles and points; `--large` as many as
the program takes, two million and ten.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from model3d.geometry.bodies.clipping import cut
from model3d.geometry.clouds.reader import read_points
from model3d.geometry.clouds.sifting import sift
from model3d.geometry.files.announced import MOST_TRIANGLES
from model3d.geometry.files.mesh import read_mesh

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

LOW, HIGH = (2.0, 1.0, 0.0), (2.762, 1.914, 1.981)
"""A working space, metres, in a room of 6 by 4 by 3."""


class Ratios(NamedTuple):
    """Processor time as a ratio to reading the same from a file.

    Attributes:
        cutting: Cutting triangles to a box, against reading them.
        sifting: Finding which points count, against reading them.
    """

    cutting: float
    sifting: float


def measure(triangle_count: int, count: int) -> Ratios:
    """Measure so many triangles, and so many points."""
    dice = np.random.default_rng(1)
    middles = dice.random((count, 3)) * (6.0, 4.0, 3.0)
    places = middles[:triangle_count, None]
    triangles = places + dice.normal(0, 0.01, (len(places), 3, 3))
    with tempfile.TemporaryDirectory() as folder:
        mesh, cloud = Path(folder, "a.stl"), Path(folder, "a.ply")
        _write_stl(mesh, triangles)
        head = (
            f"ply\nformat binary_little_endian 1.0\nelement vertex {count}\n"
            "property float x\nproperty float y\nproperty float z\nend_header\n"
        )
        cloud.write_bytes(head.encode() + middles.astype("<f4").tobytes())
        reading = _time(lambda: read_mesh(mesh), 1)
        points = read_points(cloud)
        return Ratios(
            _time(lambda: cut(triangles, LOW, HIGH)) / reading,
            _time(lambda: sift(points)) / _time(lambda: read_points(cloud)),
        )


def _write_stl(file: Path, triangles: NDArray[np.float64]) -> None:
    """Write a binary STL file."""
    sort = [("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("more", "<u2")]
    rows = np.zeros(len(triangles), sort)
    rows["corners"] = triangles
    count = np.array([len(rows)], "<u4").tobytes()
    file.write_bytes(bytes(80) + count + rows.tobytes())


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
    count = 10_000_000 if "--large" in sys.argv else 1_000_000
    few = min(count, MOST_TRIANGLES)
    found = measure(few, count)
    sys.stdout.write(
        f"{few} triangles: cutting to a box {found.cutting:.3f} x reading them\n"
        f"{count} points: which count {found.sifting:.1f} x reading them\n"
    )


if __name__ == "__main__":
    main()
