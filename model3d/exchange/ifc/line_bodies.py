"""What elements can take up at most whose body is drawn by lines, or cannot be read."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.clipping import BOX_FACES
from model3d.geometry.bodies.solid import Box, Mesh
from model3d.geometry.frame import Frame
from model3d.geometry.plan.lines.ring import goes_through, reaches_into
from model3d.scene.kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from model3d.exchange.ifc.building_place import Location
    from model3d.exchange.ifc.element import Building, Element, Points
    from model3d.scene.kinds import Kind

_THIN: Final = 0.1
"""Metres from its line to which a conduit or a cable may reach. Source: ANSI C80.1,
from memory: the widest conduit is 168 mm across, its couplings 187."""
_NEAR: Final = 0.25
"""Likewise of what is slender else: a pipe, a wall."""
_FAR: Final = 0.5
"""Likewise of all else, such as ducts and trays. Source: common practice: they are
seldom made wider than a metre where people work."""
_INSIDE: Final = 0.05
"""Metres. The line of a wall of the room itself lies outside, or hardly in it."""
_STEP: Final = 0.3
"""Metres below the floor from where what is drawn in plan belongs to a storey."""
_MOST: Final = 24
"""Pieces of a line that have a box each; of more, as a curve has, one is around all."""

_CORNERS: Final = 8


def most_in(
    building: Building, place: Location, kinds: Mapping[tuple[int, int], str | None]
) -> list[Element]:
    """Return what may stand in a place and has no body, as large as it may be.

    Args:
        building: The models.
        place: What of it.
        kinds: Of all elements, by their keys.
    """
    found = []
    for one in building.elements:
        if not one.at_most:
            continue
        kind = KINDS.get(kinds[one.key] or "")
        if (
            one.drawn is not None
            and kind is not None
            and kind.wall
            and not goes_through(place.outline, one.drawn[:, :, :2], _INSIDE)
        ):
            continue
        body = _most(one, _reach(kind), place)
        solid = None if body is None else Mesh(body.points, body.faces)
        if solid is None or body is None:
            continue
        if reaches_into(place.outline, solid, place.floor, place.top):
            found.append(body)
    return found


def _reach(kind: Kind | None) -> float:
    if kind is None or not kind.slender:
        return _FAR
    return _THIN if kind.conduit else _NEAR


def _most(element: Element, reach: float, place: Location) -> Element | None:
    """Return an element with the body that it may have; None of another storey's."""
    pieces = element.drawn
    if element.most is not None:
        return _boxed(element, element.most)
    if pieces is None:
        return None
    low, high = pieces[:, :, 2].min(), pieces[:, :, 2].max()
    if element.flat and not place.floor - _STEP <= low < place.top:
        return None
    ends = (low - reach, place.top) if element.flat else None
    if len(pieces) > _MOST:
        pieces = np.array([[pieces.min(axis=(0, 1)), pieces.max(axis=(0, 1))]])
        x, y = pieces[0, :, 0], pieces[0, :, 1]
        box = Box(
            Frame(x[0] - reach, y[0] - reach, (1.0, 0.0), (0.0, 1.0)),
            *(float(one[1] - one[0]) + 2 * reach for one in (x, y)),
            *(ends or (low - reach, high + reach)),
        )
        return _with([box], element)
    return _with([_around(one, reach, ends) for one in pieces], element)


def _boxed(element: Element, points: Points) -> Element:
    count = len(points) // _CORNERS
    firsts = _CORNERS * np.arange(count)[:, None, None]
    return replace(element, points=points, faces=(BOX_FACES + firsts).reshape(-1, 3))


def _around(piece: Points, reach: float, ends: tuple[float, float] | None) -> Box:
    """Return the box about a straight line that ends a reach beyond it on each side."""
    (ax, ay, az), (bx, by, bz) = piece.tolist()
    length = math.hypot(bx - ax, by - ay)
    right = ((bx - ax) / length, (by - ay) / length) if length else (1.0, 0.0)
    frame = Frame(ax, ay, right, (-right[1], right[0])).moved(-reach, -reach)
    bottom, top = ends or (min(az, bz) - reach, max(az, bz) + reach)
    return Box(frame, length + 2 * reach, 2 * reach, bottom, top)


def _with(boxes: Sequence[Box], element: Element) -> Element:
    points, faces, first = [], [], 0
    for one in boxes:
        own_points, own_faces = one.mesh
        points.append(own_points)
        faces.append(own_faces + first)
        first += len(own_points)
    matrix = element.matrix
    if len(boxes) == 1:
        # Its axes are those of its only box, as which it can be written.
        (rx, ry), (ox, oy) = boxes[0].frame.right, boxes[0].frame.out
        matrix = np.array([[rx, ox, 0, 0], [ry, oy, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]])
    return replace(
        element,
        points=np.concatenate(points),
        faces=np.concatenate(faces).astype(np.int64),
        matrix=matrix,
    )
