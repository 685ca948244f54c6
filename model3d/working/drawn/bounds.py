"""Sizes that only a wrong unit gives: bounds that common practice stays far inside.

They shall catch millimetres taken for inches or metres, and the other way about, which
are wrong by 25 times or more; so they are wide.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.working.drawn.runs import is_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class Bounds:
    """What sizes there are, metres.

    Attributes:
        least: No side is shorter.
        width, depth, height: No item is larger.
    """

    least: float
    width: float
    depth: float
    height: float


_ROOM: Final = Bounds(0.5, 200.0, 200.0, 100.0)
"""The shallowest closet is open in front and half a metre deep; no hall has 200 m."""
_LOWEST: Final = 0.3
"""Metres. Nobody gets into a crawl space that is lower."""
_GEAR: Final = Bounds(0.02, 60.0, 15.0, 10.0)
"""Line-ups are drawn as one up to 60 m, generators up to 15 m from end to end."""
_ON_WALLS: Final = Bounds(0.02, 4.0, 2.0, 4.0)
"""What one or two people lift to a wall."""
_BOXES: Final = Bounds(0.01, 6.0, 3.0, 6.0)
_REST: Final = Bounds(0.0005, 200.0, 200.0, 100.0)
"""Sheet metal is thicker than half a millimetre."""
_SCAN: Final = 0.005
"""Metres. A mesh that is smaller every way than that was read in a wrong unit."""
_BY_KIND: Final = {
    **dict.fromkeys(("panelboard", "disconnect", "meter-socket"), _ON_WALLS),
    **dict.fromkeys(("pull-box", "junction-box", "tap-box"), _BOXES),
    "meter": Bounds(0.01, 1.0, 1.0, 1.0),
}
_THICK: Final = {
    "conduit": 0.5,
    "sprinkler": 0.6,
    "wireway": 2.0,
    "busway": 2.0,
    "cable-tray": 2.5,
    "pipe": 2.5,
    "gas-pipe": 2.5,
}
"""Metres, of runs by kind."""
_THICKEST: Final = 6.0
"""Metres, of ducts and other runs."""
_THINNEST: Final = 0.002
_LONGEST: Final = 1000.0
"""Metres, of a run."""


def odd_size(item: Placed, situation: Situation) -> tuple[str, float] | None:
    """Return the size of an item that no such thing has, named, in metres; or None."""
    if is_run(item):
        return _odd_run(item, situation)
    if item.front is None:
        return _odd_body(item)
    front = item.front
    bounds = _bounds(item)
    named = (
        ("wide", front.width, bounds.width),
        ("deep", front.depth, bounds.depth),
        ("high", front.top - front.bottom, bounds.height),
    )
    for name, size, most in named:
        if not bounds.least <= size <= most:
            return name, size
    return None


def _bounds(item: Placed) -> Bounds:
    other = _GEAR if item.kind.needs_working_space else _REST
    return _BY_KIND.get(item.kind.name, other)


def _odd_run(item: Placed, situation: Situation) -> tuple[str, float] | None:
    long, thick = _run_sizes(item, situation)
    if not _THINNEST <= thick <= _THICK.get(item.kind.name, _THICKEST):
        return "thick", thick
    return ("long", long) if long > _LONGEST else None


def _run_sizes(item: Placed, situation: Situation) -> tuple[float, float]:
    """Return length and thickness of a run; of a box the middle one of its sizes."""
    written, metres = item.item, situation.scene.metres
    low, high = item.solid.bounds
    if written is not None and written.from_ is not None:
        sizes = (written.diameter,) if written.diameter else written.section or ()
        ends = max(b - a for a, b in zip(low, high, strict=True))
        return ends, max(map(metres, sizes), default=0.0)
    if item.front is None:
        sizes_ = sorted(b - a for a, b in zip(low, high, strict=True))
        if sizes_[1] > _THICK.get(item.kind.name, _THICKEST):
            # One that lies askew fills little of the box around it.
            sizes_ = min(sizes_, _along_itself(item), key=lambda one: one[1])
    else:
        front = item.front
        sizes_ = sorted((front.width, front.depth, front.top - front.bottom))
    return sizes_[2], sizes_[1]


def _along_itself(item: Placed) -> list[float]:
    """Return the sizes of a body along its own axes, the smallest first, metres."""
    points = item.solid.mesh[0]
    middle = points - points.mean(axis=0)
    axes = np.linalg.eigh(middle.T @ middle)[1]
    sizes: list[float] = np.ptp(middle @ axes, axis=0).tolist()
    return sorted(sizes)


def _odd_body(item: Placed) -> tuple[str, float] | None:
    low, high = item.solid.bounds
    long = max(b - a for a, b in zip(low, high, strict=True))
    return None if _SCAN <= long <= _REST.width else ("long", long)


def odd_room_sizes(situation: Situation) -> Iterator[tuple[str, float]]:
    """Yield the sizes of the room that no such room has, named, in metres."""
    shell = situation.arrangement.shell
    for name, axis in (("long", 0), ("wide", 1)):
        places = [corner[axis] for corner in shell.outline]
        if places and not _ROOM.least <= max(places) - min(places) <= _ROOM.width:
            yield name, max(places) - min(places)
    if shell.height is not None and not _LOWEST <= shell.height <= _ROOM.height:
        yield "high", shell.height
