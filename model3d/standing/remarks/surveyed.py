"""What is told of the clouds of points of a scene: how much of them counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.clouds.body import MOST_DRAWN
from model3d.geometry.clouds.sifting import CELL
from model3d.wording import length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement


def clouds_told(arrangement: Arrangement) -> Iterator[tuple[str, str]]:
    """Yield each cloud, how many of its points count, and how dense they are."""
    units = arrangement.scene.units
    for placed in arrangement.items.values():
        if placed.surveyed is None:
            continue
        sifted = placed.surveyed.sifted
        what = "a scan" if placed.front is None else "a scan, drawn in its box"
        left_out = (
            f"{sifted.doubles} doubles, {sifted.strays} strays and {sifted.near} at "
            "the scanner"
        )
        told = (
            f"{what}: {len(sifted.points)} of {sifted.read} points count; left out are "
            f"{left_out}; half of the cubes of {length(CELL, units)} with points hold "
            f"{sifted.in_a_cell:.10g} or more; at most {MOST_DRAWN} are drawn"
        )
        yield placed.id, told
