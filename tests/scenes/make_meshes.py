"""Make the meshes of the example rooms again: the same bytes every time.

``python tests/scenes/make_meshes.py`` writes them into ``scenes/meshes``. A part is
told by a few round and square bodies; their common surface is then sampled on a grid,
as a scanner would, so that it looks cast. Only sums, products and square roots are
used, which are the same on every machine, and the last digits are rounded away.

Metres, x to the right, y to the back, z up.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

MESHES = Path(__file__).parents[2] / "scenes" / "meshes"

Numbers = NDArray[np.float64]
Faces = NDArray[np.int64]
Grid = tuple[Numbers, Numbers, Numbers]
Depth = Callable[[Grid], Numbers]
"""How far outside a body the points of a grid are; below zero inside."""

CELL = 0.04
"""Metres. Edge of the grid's cells: as fine as a small file allows."""


def box(low: Sequence[float], high: Sequence[float]) -> Depth:
    """Return an upright box between two corners."""

    def depth(grid: Grid) -> Numbers:
        sides = [
            np.maximum(a - axis, axis - b)
            for axis, a, b in zip(grid, low, high, strict=True)
        ]
        return np.maximum(np.maximum(sides[0], sides[1]), sides[2])

    return depth


def rod(
    axis: int, centre: Sequence[float], radius: float, ends: Sequence[float]
) -> Depth:
    """Return a round bar along an axis; ``centre`` is on the two other axes."""
    one, two = (other for other in range(3) if other != axis)

    def depth(grid: Grid) -> Numbers:
        round_ = np.sqrt((grid[one] - centre[0]) ** 2 + (grid[two] - centre[1]) ** 2)
        flat = np.maximum(ends[0] - grid[axis], grid[axis] - ends[1])
        return np.maximum(round_ - radius, flat)

    return depth


def pump() -> tuple[Numbers, Faces]:
    """Return a pump on its base plate, with its motor: a closed surface.

    The suction pipe ends at x = -0.6 m, 0.38 m up; the discharge pipe at 0.9 m up.
    """
    return surface(
        [
            box((-0.45, -0.22, 0.0), (0.45, 0.22, 0.08)),
            rod(0, (0.0, 0.38), 0.26, (-0.32, -0.12)),
            rod(0, (0.0, 0.38), 0.09, (-0.60, -0.2)),
            rod(0, (0.0, 0.38), 0.14, (-0.60, -0.52)),
            rod(2, (-0.22, 0.0), 0.08, (0.4, 0.90)),
            rod(2, (-0.22, 0.0), 0.13, (0.82, 0.90)),
            rod(0, (0.0, 0.38), 0.07, (-0.2, 0.1)),
            rod(0, (0.0, 0.38), 0.17, (0.05, 0.55)),
            box((0.1, -0.14, 0.04), (0.5, 0.14, 0.3)),
        ],
        ((-0.705, -0.345, -0.065), (0.66, 0.34, 1.0)),
    )


def valve() -> tuple[Numbers, Faces]:
    """Return a valve in an upright pipe, as a scanner saw it: an open surface.

    In the coordinates of its room. The pipe stands at x = 1.55 m, y = 1.2 m; the
    handwheel comes out to x = 1.19 m. The scanner stood to the west and the
    south-west: what looks the other way is missing.
    """
    points, faces = surface(
        [
            rod(2, (0.0, 0.0), 0.08, (0.0, 1.4)),
            rod(2, (0.0, 0.0), 0.14, (0.62, 0.70)),
            rod(2, (0.0, 0.0), 0.14, (1.10, 1.18)),
            rod(2, (0.0, 0.0), 0.12, (0.66, 1.14)),
            rod(0, (0.0, 0.9), 0.05, (-0.36, 0.0)),
            rod(0, (0.0, 0.9), 0.16, (-0.36, -0.28)),
        ],
        ((-0.465, -0.265, -0.065), (0.26, 0.26, 1.5)),
    )
    a, b, c = points[faces].transpose(1, 0, 2)
    looks = np.cross(b - a, c - a)
    seen = (looks @ (-1.0, 0.0, 0.0) > 0) | (looks @ (-0.8, -0.6, 0.0) > 0)
    return points + np.array([1.55, 1.2, 0.0]), faces[seen]


def surface(
    bodies: Sequence[Depth], bounds: tuple[Sequence[float], Sequence[float]]
) -> tuple[Numbers, Faces]:
    """Return the common surface of bodies: vertices (n, 3) and outward faces (m, 3).

    One vertex a cell that the surface passes through, in the middle of where it
    crosses the cell's edges; one square for each edge of the grid that it crosses. A
    flat side of a body that cuts the edges square stays exactly where it is.
    """
    axes = [np.arange(a, b + CELL / 2, CELL) for a, b in zip(*bounds, strict=True)]
    x, y, z = np.meshgrid(*axes, indexing="ij")
    depth = np.min([body((x, y, z)) for body in bodies], axis=0)
    nodes = np.stack([x, y, z], axis=-1)
    sums = np.zeros([size - 1 for size in depth.shape] + [3])
    counts = np.zeros(sums.shape[:3])
    squares = []
    for axis in range(3):
        for here in np.argwhere(_crossed(depth, axis)):
            there = here + np.eye(3, dtype=np.int64)[axis]
            d, e = depth[tuple(here)], depth[tuple(there)]
            p, q = nodes[tuple(here)], nodes[tuple(there)]
            cells = _around(here, axis)
            for cell in cells:
                sums[cell] += p + (q - p) * (d / (d - e))
                counts[cell] += 1
            squares.append(cells if d < 0 else cells[::-1])
    used = np.argwhere(counts)
    number = {tuple(cell): place for place, cell in enumerate(used.tolist())}
    points = (sums / np.maximum(counts, 1)[..., None])[tuple(used.T)]
    corners = [[number[cell] for cell in square] for square in squares]
    faces = [[s[0], s[1], s[2]] for s in corners] + [
        [s[0], s[2], s[3]] for s in corners
    ]
    return np.round(points, 4), np.array(faces, dtype=np.int64)


def _crossed(depth: Numbers, axis: int) -> NDArray[np.bool_]:
    """Return where the surface passes between a node and the next along an axis."""
    inside = depth < 0
    first = inside.take(range(depth.shape[axis] - 1), axis=axis)
    crossed: NDArray[np.bool_] = first != inside.take(
        range(1, depth.shape[axis]), axis=axis
    )
    return crossed


def _around(node: NDArray[np.int64], axis: int) -> list[tuple[int, ...]]:
    """Return the four cells round an edge, counter-clockwise seen from its end."""
    one, two = (axis + 1) % 3, (axis + 2) % 3
    cells = []
    for back, down in ((1, 1), (0, 1), (0, 0), (1, 0)):
        cell = node.copy()
        cell[one] -= back
        cell[two] -= down
        cells.append(tuple(cell.tolist()))
    return cells


def glb(points: Numbers, faces: Faces) -> bytes:
    """Return a mesh as binary glTF 2.0: metres, y up."""
    turned = points[:, [0, 2, 1]] * (1.0, 1.0, -1.0)
    places = turned.astype("<f4")
    blob = places.tobytes() + faces.astype("<u2").tobytes()
    blob += bytes(-len(blob) % 4)
    text = json.dumps(
        {
            "asset": {"version": "2.0"},
            "scene": 0,
            "scenes": [{"nodes": [0]}],
            "nodes": [{"mesh": 0}],
            "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
            "accessors": [
                {
                    "bufferView": 0,
                    "componentType": 5126,
                    "count": len(points),
                    "type": "VEC3",
                    "min": [float(value) for value in places.min(axis=0)],
                    "max": [float(value) for value in places.max(axis=0)],
                },
                {
                    "bufferView": 1,
                    "componentType": 5123,
                    "count": faces.size,
                    "type": "SCALAR",
                },
            ],
            "bufferViews": [
                {"buffer": 0, "byteOffset": 0, "byteLength": places.nbytes},
                {
                    "buffer": 0,
                    "byteOffset": places.nbytes,
                    "byteLength": 2 * faces.size,
                },
            ],
            "buffers": [{"byteLength": len(blob)}],
        },
        separators=(",", ":"),
    ).encode()
    text += b" " * (-len(text) % 4)
    head = struct.pack("<4sII", b"glTF", 2, 28 + len(text) + len(blob))
    return b"".join(
        [
            head,
            struct.pack("<I4s", len(text), b"JSON"),
            text,
            struct.pack("<I4s", len(blob), b"BIN\0"),
            blob,
        ]
    )


def stl(points: Numbers, faces: Faces) -> bytes:
    """Return a mesh as binary STL: millimetres, z up."""
    rows = np.zeros(
        len(faces),
        dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")],
    )
    rows["corners"] = (points * 1000)[faces]
    title = b"valve, scanned from one side, millimetres".ljust(80)
    return title + struct.pack("<I", len(faces)) + rows.tobytes()


def meshes() -> dict[str, bytes]:
    """Return every mesh file's bytes by its name."""
    return {"pump-casting.glb": glb(*pump()), "valve-scan.stl": stl(*valve())}


if __name__ == "__main__":
    MESHES.mkdir(parents=True, exist_ok=True)
    for name, content in meshes().items():
        (MESHES / name).write_bytes(content)
