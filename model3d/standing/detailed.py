"""Meshes of very many triangles that are judged as they are, screws and all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.plan.footprint import ABOUT_SCAN, SCAN
from model3d.wording import length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement

MANY: Final = 5_000
"""Triangles; a cabinet without its screws has some hundreds."""


def details_told(arrangement: Arrangement) -> Iterator[tuple[str, str]]:
    """Yield each item that is judged by a mesh of very many triangles, and that."""
    for placed in arrangement.items.values():
        solid, item = placed.solid, placed.item
        if item is None or item.mesh is None or not isinstance(solid, Mesh):
            continue
        if len(solid.faces) > MANY:
            said = (
                f"Its mesh of {len(solid.faces)} triangles is judged as it is drawn, "
                "screws and all; a size and a place beside the mesh make its box what "
                "is judged."
            )
            if len(solid.faces) > SCAN and not solid.closed:
                units = arrangement.scene.units
                said += f" For ways out {length(ABOUT_SCAN, units)} about it count too."
            yield placed.id, said
