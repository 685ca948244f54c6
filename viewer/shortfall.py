"""Which size of a judgement is short, by how much, and what is in the way."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d import ClearBox
from viewer.lengths import own

if TYPE_CHECKING:
    from model3d import Intrusion, Judgement

REACH: Final = "reach"
"""The one size that is too large, not too small, when its sentence is broken."""
_OUT: Final = 1
_AXIS: Final = {"width": 0, "depth": _OUT, "height": 2, "clearance": 2}
"""The axis of a space's frame along which a size is measured: right, out, up."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """The size a reader has to know of.

    Attributes:
        size: Its name.
        required, provided: Metres; of an angle degrees.
    """

    size: str
    required: float
    provided: float

    @property
    def by(self) -> float:
        """How much is missing, or how much too far something reaches."""
        return abs(self.required - self.provided)


def shortfall(judgement: Judgement) -> Shortfall | None:
    """Return the size that the citation and the reason are about.

    Each size is measured with the others at full, so what stands before the whole
    front makes width and height zero too: a mere consequence, which ``short`` of the
    judgement leaves out. Where an associated item reaches too far, what is required is
    the reach that is allowed. None where no size is short.
    """
    name, required, provided = judgement.short, judgement.required, judgement.provided
    if name == REACH and judgement.intrusions:
        past = max(judgement.intrusions, key=lambda one: one.reach or 0.0)
        return Shortfall(REACH, past.allowed or 0.0, past.reach or 0.0)
    if not name:
        short = [
            size for size in required if size in provided and _less(judgement, size)
        ]
        name = short[0] if short else ""
    if name not in required or name not in provided:
        return None
    return Shortfall(name, required[name], provided[name])


def _less(judgement: Judgement, size: str) -> bool:
    return judgement.provided[size] < judgement.required[size]


def in_the_way(judgement: Judgement, size: str, units: str) -> tuple[str, ...]:
    """Name what is in the way and by how much, the worst first.

    An associated item above or below with its reach past the front; anything else
    with how much of the size it takes, where that is measured along one space.
    """
    found: dict[str, tuple[float, bool]] = {}
    for intrusion in judgement.intrusions:
        metres = intrusion.reach or _taken(intrusion, judgement, size)
        most = found.get(intrusion.item, (0.0, False))
        found[intrusion.item] = max(most, (metres, bool(intrusion.reach)))
    # Rounded, lest noise of the last digit decide which of two equals is first.
    order = sorted(found, key=lambda item: (-round(found[item][0], 6), item))
    return tuple(_named(item, judgement.subject, found[item], units) for item in order)


def _named(item: str, subject: str, amount: tuple[float, bool], units: str) -> str:
    metres, is_reach = amount
    name = "itself" if item == subject else item
    length = f" {own(metres, units)}" if metres > 0 else ""
    return f"{name}{length}{' past the front' if is_reach else ''}"


def _taken(intrusion: Intrusion, judgement: Judgement, size: str) -> float:
    """Return how much of a size a solid takes, metres; 0 where that is not known."""
    axis = _AXIS.get(size)
    boxes = [shape for shape in judgement.shapes if isinstance(shape, ClearBox)]
    if axis is None or len(boxes) != 1:
        return 0.0
    (box,) = boxes
    points = np.array([*product(*zip(intrusion.low, intrusion.high, strict=True))])
    if intrusion.body is not None and len(intrusion.body.vertices):
        points = intrusion.body.vertices
    along = box.frame.local(points)[:, axis]
    # Ahead and upwards what lies behind the first solid is lost as well.
    far = along.max() if axis == 0 else box.high[axis]
    return float(far - along.min())
