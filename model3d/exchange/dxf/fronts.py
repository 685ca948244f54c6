"""Where the front of what is drawn on a plan is: said, or inferred as in models."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.exchange.ifc.element import Element, ModelError
from model3d.exchange.ifc.gear.likely_front import (
    SURE,
    ElementBody,
    FrontedBox,
    stand_facing,
)
from model3d.exchange.ifc.gear.stated_front import stand_among
from model3d.geometry.plan.lines.enclosed import box_around, upright
from model3d.geometry.plan.outline import wall_body

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.dxf.room_outline import Place
    from model3d.geometry.bodies.solid import Mesh
    from model3d.geometry.plan.lines.enclosed import Area

UNKNOWN: Final = 0.1
"""Margin up to which nothing speaks for one side: the front has to be said."""
_ALIKE: Final = 1e-6
_ODD: Final = 30.0
"""Degrees between a stated front and a side of the box, from where no one is meant."""
_THICK: Final = 0.2
"""Metres of the walls around the room; what matters is that they are there."""
_FAR: Final = 1e5
"""Metres to where a thing of a plan has its placement: on no axis of a side."""


def element_of(
    number: int, name: str, area: Area, bottom: float, top: float
) -> Element:
    """Return what stands on an area, as an element of a model.

    Args:
        number: Its own.
        name: What it is called.
        area: What it covers.
        bottom: Height of its underside, metres.
        top: Height of its top, metres.
    """
    box = box_around(area)
    angle = math.radians(box.bearing)
    matrix = np.eye(4)
    matrix[:2, 0] = math.sin(angle), math.cos(angle)
    matrix[:2, 1] = -math.cos(angle), math.sin(angle)
    matrix[:2, 3] = _FAR, 3 * _FAR
    return _element(number, name, upright(area, bottom, top), matrix)


def walls_around(place: Place) -> list[ElementBody]:
    """Return the walls of a room as bodies."""
    bodies = []
    for side in range(len(place.outline)):
        mesh = wall_body(place.outline, side, _THICK, 0.0, place.height)
        bodies.append(
            ElementBody(_element(-1 - side, "wall", mesh, np.eye(4)), wall=True)
        )
    return bodies


def _element(number: int, name: str, mesh: Mesh, matrix: np.ndarray) -> Element:
    points, faces = mesh.mesh
    return Element(
        *((0, number), "", (), (), "", name, "", "", "", "", (), (), (None, None), ""),
        points=points,
        faces=faces,
        matrix=matrix,
    )


def stated(element: Element, area: Area, bearing: float) -> FrontedBox:
    """Return a thing with the front that is said, which is that of its nearest side.

    Raises:
        ModelError: It is the front of none of its sides.
    """
    box = box_around(area)
    if not box.exact:
        return stand_facing(element, bearing, SURE)
    sides = [(box.bearing + turn) % 360 for turn in (0.0, 90.0, 180.0, 270.0)]
    off, side = min((_between(bearing, one), one) for one in sides)
    if off > _ODD:
        known = ", ".join(f"{one:g}" for one in sorted(sides))
        msg = (
            f"found a front to {bearing:g} degrees, right is one of its sides: {known}"
        )
        raise ModelError(msg)
    return stand_facing(element, side, SURE)


def _between(one: float, other: float) -> float:
    off = abs(one - other) % 360
    return min(off, 360 - off)


def is_turned(stand: FrontedBox, bearing: float) -> bool:
    """Tell whether a front does not look quite where it was said."""
    return _between(stand.bearing, bearing) > _ALIKE


def inferred(element: Element, near: Sequence[ElementBody]) -> FrontedBox:
    """Return a thing with its likeliest front, among all that is near."""
    return stand_among(element, near, {})
