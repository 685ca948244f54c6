"""Meshes of very many triangles that are judged as they are, screws and all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.bodies.thinned import MOST_FACES
from model3d.geometry.plan.footprint import ABOUT_SCAN, SCAN
from model3d.wording import length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement

MANY: Final = 5_000
"""Triangles; a cabinet without its screws has some hundreds."""


def details_told(arrangement: Arrangement) -> Iterator[tuple[str, str]]:
    """Yield each item that has a mesh of very many triangles, and what that means."""
    units = arrangement.scene.units
    for placed in arrangement.items.values():
        if placed.item is None or placed.item.mesh is None:
            continue
        solid, looks, said = placed.solid, placed.looks, ""
        if isinstance(solid, Mesh) and len(solid.faces) > MANY:
            said = (
                f"Its mesh of {len(solid.faces)} triangles is judged as it is drawn, "
                "screws and all; a size and a place beside the mesh make its box what "
                "is judged."
            )
            if len(solid.faces) > SCAN and not solid.closed:
                said += f" For ways out {length(ABOUT_SCAN, units)} about it count too."
        shown = looks or solid
        if isinstance(shown, Mesh) and len(shown.faces) > MOST_FACES:
            which = f"of its mesh of {len(shown.faces)} triangles" if looks else "of it"
            said += f" At most {MOST_FACES} triangles {which} are drawn."
        if said:
            yield placed.id, said.strip()
