"""Measure meshes of many shells: a whole check as a ratio to reading the mesh.

`python -m tests.bench.shells` takes heaps of 300 and 1 000 rods that lie in one
another, and as many balls that lie apart.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from typing import Final, NamedTuple

import numpy as np
import trimesh  # noqa: TID251 - its shapes and its writer make what is measured

from model3d import check
from model3d.geometry.files.mesh import read_mesh
from model3d.scene.text.reader import read_scene
from tests.scenes.heap_room import ROOM

HEAP: Final = "  - {id: HEAP, kind: obstacle, mesh: heap.ply}\n"


class ShellTime(NamedTuple):
    """How long a room with a heap takes, and its mesh alone.

    Attributes:
        shells: Of the heap.
        triangles: Of its mesh.
        whole: Seconds of reading and checking the room.
        reading: Seconds of reading the mesh.
    """

    shells: int
    triangles: int
    whole: float
    reading: float

    @property
    def ratio(self) -> float:
        """The whole against reading."""
        return self.whole / self.reading


def overlapping(count: int) -> trimesh.Trimesh:
    """Return so many turned rods in one another, before a board."""
    dice, rods = np.random.default_rng(1), []
    for _ in range(count):
        rod = trimesh.creation.cylinder(
            dice.uniform(0.02, 0.06), dice.uniform(0.2, 0.9)
        )
        turn = trimesh.transformations.random_rotation_matrix(dice.random(3))
        rod.apply_transform(turn)
        rod.apply_translation(dice.random(3) * (2.0, 1.8, 1.0) + (0.5, 0.3, 0.5))
        rods.append(rod)
    return _one(rods)


def apart(count: int) -> trimesh.Trimesh:
    """Return about so many balls that do not touch, in rows before a board."""
    side = round(count ** (1 / 3))
    balls = []
    for place in np.ndindex(side, side, side):
        ball = trimesh.creation.icosphere(1, 0.3 / side)
        ball.apply_translation(np.array(place) * (1.6 / side) + (0.5, 0.4, 0.4))
        balls.append(ball)
    return _one(balls)


def _one(parts: list[trimesh.Trimesh]) -> trimesh.Trimesh:
    whole = trimesh.util.concatenate(parts)
    assert isinstance(whole, trimesh.Trimesh)
    return whole


def measure(shells: int, heap: trimesh.Trimesh) -> ShellTime:
    """Check a room with a heap, and read the heap by itself; libraries are loaded."""
    with tempfile.TemporaryDirectory() as folder:
        heap.export(Path(folder, "heap.ply"))
        room = Path(folder, "room.yaml")
        room.write_text(ROOM + HEAP)
        read_mesh(room.with_name("heap.ply"))
        start = time.process_time()
        _, faces = read_mesh(room.with_name("heap.ply"))
        reading = time.process_time() - start
        start = time.process_time()
        check(read_scene(room)).document()
        whole = time.process_time() - start
    return ShellTime(shells, len(faces), whole, reading)


def main() -> None:
    """Print the table."""
    for count in (300, 1000):
        for name, heap in (("overlap", overlapping), ("lie apart", apart)):
            found = measure(count, heap(count))
            sys.stdout.write(
                f"{count} shells that {name}, {found.triangles} triangles: "
                f"a check {found.ratio:.1f} x reading them\n"
            )


if __name__ == "__main__":
    main()
