"""Where things of a plan lie that are not read as they are drawn: curves, meshes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.dxf.drawn_plan import Loose
from model3d.geometry.plan.outline import ring_around
from model3d.units import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner

_WIDEST: Final = 1e5
"""Metres from end to end of a curve."""
_OFF: Final = 0.005
"""Metres by which the pieces of a curve may lie beside it."""
_MOST: Final = 100_000
"""Points of one thing; nobody waits for more."""


def loose_of(entity: Any, layer: str, metres: float) -> list[Loose]:
    """Return where an entity lies; nothing where that is not known for certain.

    Args:
        entity: As it lies in the plan.
        layer: Where it is drawn.
        metres: In one unit of the plan.
    """
    from ezdxf import disassemble

    try:
        parts = [*disassemble.recursive_decompose([entity])]
        found = [
            _piece(one.path is not None, [*_corners(one, metres)], layer)
            for one in disassemble.to_primitives(parts)
        ]
    except Exception:  # noqa: BLE001 - of what is not read anything may be wrong
        return []
    known = [one for one in found if one is not None]
    return known if len(known) == len(found) else []


def _piece(flows: bool, points: list[Corner], layer: str) -> Loose | None:  # noqa: FBT001
    if not points or len(points) > _MOST:
        return None
    if not flows and (ring := ring_around(points)):
        return Loose(layer, ring, closed=True)
    ends = points if len(points) > 1 else points * 2
    return Loose(layer, tuple(ends), closed=False)


def _corners(primitive: Any, metres: float) -> Iterator[Corner]:
    if primitive.path is not None:
        ends = [(one.x, one.y, one.z) for one in primitive.path.control_vertices()]
        spans = [max(axis) - min(axis) for axis in zip(*ends, strict=True)]
        if not all(span * metres < _WIDEST for span in spans):
            raise ValueError  # in so many pieces that nobody waits for them
        vertices = primitive.path.flattening(_OFF / metres)
    elif primitive.mesh is not None:
        vertices = primitive.mesh.vertices
    else:
        vertices = primitive.vertices()
    for one in vertices:
        x, y = float(one[0]) * metres, float(one[1]) * metres
        if not (math.isfinite(x) and math.isfinite(y)):
            raise ValueError
        if max(abs(x), abs(y)) > FARTHEST:
            raise ValueError
        yield x, y
