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
        """How much is missing."""
        return self.required - self.provided


def shortfall(judgement: Judgement) -> Shortfall | None:
    """Return the size that the citation and the reason are about.

    Each size is measured with the others at full, so what stands before the whole
    front makes width and height zero too: a mere consequence. A width that is left is
    short because something stands beside; a height that is left, because something
    hangs; else the first of the sizes, the depth, is what is short. None where no size
    is.
    """
    required, provided = judgement.required, judgement.provided
    short = [
        name
        for name, size in required.items()
        if name in provided and provided[name] < size
    ]
    if not short:
        return None
    left = [name for name in ("width", "height") if provided.get(name, 0.0) > 0]
    name = next((name for name in left if name in short), short[0])
    return Shortfall(name, required[name], provided[name])


def in_the_way(judgement: Judgement, size: str, units: str) -> tuple[str, ...]:
    """Name what is in the way and by how much, the worst first.

    An associated item above or below with its reach past the front; anything else
    with how much of the size it takes, where that is measured along one space.
    """
    found = [
        (-(intrusion.reach or _taken(intrusion, judgement, size)), intrusion)
        for intrusion in judgement.intrusions
    ]
    found.sort(key=lambda one: (one[0], one[1].item))
    return tuple(
        _said(-negative, intrusion, judgement.subject, units)
        for negative, intrusion in found
    )


def _said(metres: float, intrusion: Intrusion, subject: str, units: str) -> str:
    name = "itself" if intrusion.item == subject else intrusion.item
    if intrusion.reach:
        return f"{name} {own(metres, units)} past the front"
    return f"{name} {own(metres, units)}" if metres > 0 else name


def _taken(intrusion: Intrusion, judgement: Judgement, size: str) -> float:
    """Return how much of a size a solid takes, metres; 0 where that is not known."""
    axis = _AXIS.get(size)
    if axis is None or len(judgement.shapes) != 1:
        return 0.0
    (box,) = judgement.shapes
    if not isinstance(box, ClearBox):
        return 0.0
    points = np.array([*product(*zip(intrusion.low, intrusion.high, strict=True))])
    if intrusion.body is not None and len(intrusion.body.vertices):
        points = intrusion.body.vertices
    along = box.frame.local(points)[:, axis]
    # Ahead and upwards what lies behind the first solid is lost as well.
    far = along.max() if axis == 0 else box.high[axis]
    return float(far - along.min())
