"""How much of a room a plan shows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.things.masonry import THICK
from viewer.figure.things.room_leaves import room_leaves

if TYPE_CHECKING:
    from model3d.standing.arrangement import Arrangement
    from viewer.figure.drafting.drawing import Spot

_AROUND: Final = 0.25
"""Metres around a room that are shown."""
_OUTDOORS: Final = 0.8
"""Metres around what stands where there is no room."""


def bounds(arrangement: Arrangement) -> tuple[Spot, Spot]:
    """Return the window of a room's plan, metres."""
    outline = np.array(arrangement.shell.outline).reshape(-1, 2)
    ends = [outline]
    for leaf in room_leaves(arrangement):
        tips = np.array([(0.0, leaf.radius, 0.0), (leaf.radius, 0.0, 0.0)])
        ends.append(leaf.frame.world(tips)[:, :2])
    ends += [
        np.array(placed.solid.bounds)[:, :2]
        for placed in arrangement.items.values()
        if not placed.of_room
    ]
    points = np.concatenate(ends)
    if not len(points):
        points = np.array([(0.0, 0.0), (1.0, 1.0)])
    around = THICK + _AROUND if len(outline) else _OUTDOORS
    low, high = points.min(axis=0) - around, points.max(axis=0) + around
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def window_about(
    arrangement: Arrangement, item: str, near: float
) -> tuple[Spot, Spot] | None:
    """Return the window that shows so much about an item or a door, metres."""
    placed = arrangement.items.get(item)
    if placed is not None:
        points = np.array(placed.solid.bounds)[:, :2]
    else:
        ends = [
            leaf.frame.world(np.array([(0.0, 0.0, 0.0), (leaf.radius, 0.0, 0.0)]))
            for leaf in room_leaves(arrangement)
            if leaf.door.id == item
        ]
        if not ends:
            return None
        points = np.concatenate(ends)[:, :2]
    (west, south), (east, north) = (
        (points.min(axis=0) - near).tolist(),
        (points.max(axis=0) + near).tolist(),
    )
    return (west, south), (east, north)
