"""Meshes that are no closed bodies: what is judged of them, and what is not known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.bodies.solid import Mesh

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.standing.arrangement import Arrangement

_SAID: Final = (
    "Its mesh is no closed body: its surfaces are judged, and no volume is known."
)


def unclosed_told(
    items: Iterable[str], arrangement: Arrangement
) -> Iterator[tuple[str, str]]:
    """Yield what of some items is an open mesh, and what that means.

    Args:
        items: What is in the way of something; of all others nobody asks.
        arrangement: Where everything stands.
    """
    for name in items:
        placed = arrangement.items.get(name)
        if placed is None or placed.item is None or placed.item.mesh is None:
            continue
        if isinstance(placed.solid, Mesh) and not placed.solid.closed:
            yield name, _SAID
