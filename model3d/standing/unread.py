"""Where something may stand that could not be read, of which the place is known.

It stands there, and nobody knows how large it is: as far as it may reach, nothing is
met, and no place is free.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.solid import Box
from model3d.geometry.frame import Frame
from model3d.geometry.tolerance import TOUCH
from model3d.scene.kinds import KINDS
from model3d.standing.placed import Placed

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from model3d.scene.scene import Scene
    from model3d.standing.shell import Shell

_ASIDE: Final = 1.0
"""Metres to each side of its place, and below it: common practice, for most things are
placed by a corner, their middle or their back."""
_ABOVE: Final = 3.0
"""Metres above it: what stands is placed by its foot, and a plan tells no heights."""


def unread_in(scene: Scene, room: Shell, taken: Collection[str]) -> Iterator[Placed]:
    """Yield a body for each thing that could not be read and may reach into the room.

    Args:
        scene: The scene, with what could not be read.
        room: Its room; what reaches beyond that is left out of the bodies.
        taken: Ids that others have.
    """
    low, high = _ends(room)
    names = {name.casefold() for name in taken}
    for one in scene.not_read:
        if one.at is None:
            continue
        at = np.array([scene.metres(length) for length in one.at])
        below = np.maximum(at - _ASIDE, low)
        above = np.minimum(at + np.array([_ASIDE, _ASIDE, _ABOVE]), high)
        if np.any(above - below <= TOUCH):
            continue
        (x, y, bottom), (right, back, top) = below.tolist(), above.tolist()
        frame = Frame(x, y, (1.0, 0.0), (0.0, 1.0))
        body = Box(frame, right - x, back - y, bottom, top)
        name = _free(one.name, names)
        yield Placed(
            name,
            KINDS["obstacle"],
            None,
            body,
            foreign=None,
            grounded=None,
            unread=name,
        )


def _ends(room: Shell) -> tuple[np.ndarray, np.ndarray]:
    if not room.outline:
        return np.full(3, -np.inf), np.full(3, np.inf)
    corners = np.array(room.outline)
    top = np.inf if room.height is None else room.height
    return (np.append(corners.min(axis=0), 0.0), np.append(corners.max(axis=0), top))


def _free(name: str, names: set[str]) -> str:
    """Return a name that nothing has yet, and keep it."""
    found, number = name, 1
    while found.casefold() in names:
        number += 1
        found = f"{name} ({number})"
    names.add(found.casefold())
    return found
