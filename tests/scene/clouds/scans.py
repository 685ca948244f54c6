"""A room with a panelboard and a scan; and points on the surface of a box."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d import Scene, read_text

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

STEP: Final = 0.02
"""Metres between points."""
HEAD: Final = """\
title: A panelboard and a scan
units: m
rules: nec-2023
premises: new
{more}
lighting: {{present: true, control: manual}}
room:
  size: [5, 4]
  height: 2.8
  walls: concrete
  doors:
    - {{id: D1, wall: east, along: 0.5, width: 0.9, height: 2.1, opens: out}}
items:
  - id: LP1
    kind: panelboard
    size: [0.5, 0.15, 0.9]
    place: {{wall: west, along: 1.5, bottom: 0.9}}
    supply: {{system: 208Y/120, amps: 200}}
    door: left
"""
SCAN: Final = "  - {id: S1, kind: obstacle, points: scan.xyz}\n"


def surface(low: tuple[float, ...], high: tuple[float, ...]) -> Points:
    """Return points on the faces of a box, its corners among them, shape (n, 3)."""
    axes = [
        np.linspace(a, b, int(np.ceil((b - a) / STEP)) + 1)
        for a, b in zip(low, high, strict=True)
    ]
    grid = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    outside = ((grid == low) | (grid == high)).any(axis=1)
    found: Points = grid[outside]
    return found


def room(
    folder: Path, items: str, points: Points | None = None, more: str = ""
) -> Scene:
    """Return the room with more items in it, the points in scan.xyz."""
    if points is not None:
        np.savetxt(folder / "scan.xyz", points, fmt="%.17g")
    return read_text(HEAD.format(more=more) + items, folder / "room.yaml")


def crate(low: tuple[float, ...], high: tuple[float, ...]) -> str:
    """Return an obstacle that is the box itself."""
    size = [b - a for a, b in zip(low, high, strict=True)]
    at = [(a + b) / 2 for a, b in zip(low, high, strict=True)][:2]
    return (
        f"  - {{id: S1, kind: obstacle, size: {size}, "
        f"place: {{at: {at}, bottom: {low[2]}}}}}\n"
    )
