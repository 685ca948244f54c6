"""Door leaves as shapes, and a leaf turned about its hinge."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final, Protocol

import numpy as np

from viewer.stage import palette
from viewer.stage.bodies.surfaces import block, lines, one_surface
from viewer.stage.drawn import Pivot, Shape

if TYPE_CHECKING:
    from viewer.stage.bodies.surfaces import UprightFrame
    from viewer.stage.drawn import Point, Points

LEAF_THICKNESS: Final = 0.018
"""Metres, as drawn; the leaf that is checked has none."""
_GAP: Final = 0.004
"""Metres, about a drawn leaf, so that two leaves of a pair stay apart."""


class Hung(Protocol):
    """What a leaf sweeps: a quarter of a round about its hinge."""

    @property
    def frame(self) -> UprightFrame:
        """Origin at the hinge, right along the closed leaf, out the way it opens."""

    @property
    def radius(self) -> float:
        """Width of the leaf, metres."""

    @property
    def bottom(self) -> float:
        """World height of its underside."""

    @property
    def top(self) -> float:
        """World height of its upper side."""


def leaf_shape(
    shape_id: str,
    item: str,
    layer: str,
    about: str,
    hung: Hung,
    pivot: Pivot,
    grip_at: float | None = None,
) -> Shape:
    """Return a leaf, closed, with its handle.

    A leaf that stands open hides what is behind it, so it is seen through.

    Args:
        shape_id: The shape's id.
        item: Id of the item or the room door.
        layer: Id of the layer.
        about: What it is, for people.
        hung: The leaf.
        pivot: How it turns.
        grip_at: World height of the middle of its handle's grip, where that is said.
    """
    width, low, high = hung.radius, hung.bottom, hung.top
    gap = min(_GAP, width / 20, (high - low) / 20)
    parts = [
        block(
            hung.frame,
            (gap, 0.0, low + gap),
            (width - gap, LEAF_THICKNESS, high - gap),
        )
    ]
    middle, half = (low + high) / 2, min(0.09, (high - low) / 6)
    if grip_at is not None and low + half <= grip_at <= high - half:
        middle = grip_at
    grip = min(0.025, width / 10)
    end = width - 1.6 * grip
    parts.append(
        block(
            hung.frame,
            (end - grip, LEAF_THICKNESS, middle - half),
            (end, LEAF_THICKNESS + 0.02, middle + half),
        )
    )
    surface = one_surface(parts)
    return Shape(
        id=shape_id,
        item=item,
        layer=layer,
        role="leaf",
        kind="leaf",
        about=about,
        vertices=surface.vertices,
        faces=surface.faces,
        edges=surface.edges,
        colour=palette.LEAF,
        edge_colour=palette.EDGE,
        edge_width=1.2,
        opacity=palette.OPEN_LEAF_OPACITY if pivot.shown else 1.0,
        pivot=pivot,
    )


def pivot_of(hung: Hung, shown: float, reached: float, required: float | None) -> Pivot:
    """Return how a leaf turns."""
    x, y, _ = hung.frame.world(np.zeros((1, 3)))[0]
    up = -1.0 if hung.frame.mirrors else 1.0
    return Pivot(
        (float(x), float(y), hung.bottom), (0.0, 0.0, up), shown, reached, required
    )


def round_mark(
    frame: UprightFrame, radius: float, level: float, degrees: float
) -> Points:
    """Return the line a leaf's free edge draws, and the leaf's end, as edges."""
    count = max(2, math.ceil(degrees / 5))
    points: list[Point] = [(radius, 0.0, level)]
    for n in range(1, count + 1):
        angle = math.radians(degrees * n / count)
        points.append((radius * math.cos(angle), radius * math.sin(angle), level))
    points.append((0.0, 0.0, level))
    return lines(frame, points)


def opened(shape: Shape, degrees: float | None = None) -> Shape:
    """Return a leaf's shape turned about its hinge; any other shape as it is.

    Args:
        shape: Of a closed leaf.
        degrees: From closed; the pivot's own ``shown`` if left out.
    """
    pivot = shape.pivot
    if pivot is None:
        return shape
    shown = pivot.shown if degrees is None else degrees
    angle = math.radians(shown) * pivot.axis[2]
    sine, cosine = math.sin(angle), math.cos(angle)
    matrix = np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0], [0.0, 0.0, 1.0]])
    hinge = np.array(pivot.hinge)
    return replace(
        shape,
        vertices=(shape.vertices - hinge) @ matrix.T + hinge,
        edges=(shape.edges - hinge) @ matrix.T + hinge,
        pivot=replace(pivot, shown=shown),
    )
