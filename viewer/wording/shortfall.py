"""Which size of a judgement is short, by how much, and what is in the way."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d import ClearBox
from model3d.wording import SURVEY, lengths
from model3d.wording.said import Amount, Named, parts_of, say

if TYPE_CHECKING:
    from model3d import Intrusion, Judgement

REACH: Final = "reach"
"""How far an associated item comes past the front: a size that has no space's axis."""
_SAME: Final = 1e-3
"""Metres. What is nearer to a limit than that is not past it, in words."""
RIGHT, OUT, UP = 0, 1, 2
"""The axes of a space's frame."""
_AXES: Final = {
    "width": RIGHT,
    "depth": OUT,
    "gap": OUT,
    "spacing": OUT,
    "height": UP,
    "clearance": UP,
}
_SIDES: Final = frozenset({"left", "right", "rear", "front"})
"""What a clearance at one of them keeps clear lies beside the item, not above it."""
_TOO: Final = {REACH: "too far", "height": "too high"}
"""How a size that passes its greatest figure is said."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """The size a reader has to know of.

    Attributes:
        size: Its name.
        required: Metres; of an angle degrees.
        provided: The same; None where nothing at all is clear.
        most: What is required is a greatest figure, not a least one.
    """

    size: str
    required: float
    provided: float | None
    most: bool = False

    @property
    def by(self) -> float:
        """How much is missing, or how much there is too much of it."""
        return abs(self.required - (self.provided or 0.0))

    @property
    def too(self) -> str:
        """In what way there is too much of it; "" where something is missing."""
        return too_words(self.size) if self.most else ""


def too_words(size: str) -> str:
    """Say in what way there is too much of a size."""
    return _TOO.get(size, "too much")


def shortfall(judgement: Judgement) -> Shortfall | None:
    """Return the size that the citation and the reason are about.

    Each size is measured with the others at full, so what stands before the whole
    front leaves no width and no height either: a mere consequence, which ``short`` of
    the judgement leaves out. None where no size is short.
    """
    name, required, provided = judgement.short, judgement.required, judgement.provided
    if not name:
        short = [
            size for size in required if size in provided and _is_short(judgement, size)
        ]
        name = short[0] if short else ""
    if name not in required:
        return None
    return Shortfall(
        name, required[name], provided.get(name), most=name in judgement.limit
    )


def told_shortfall(judgement: Judgement) -> Shortfall | None:
    """Return the size that is told as short: none where its figure is to be asked."""
    short = None if judgement.verdict == "met" else shortfall(judgement)
    is_asked = short is not None and judgement.verdict == "open"
    return None if short and is_asked and short.size in judgement.unknown else short


def _is_short(judgement: Judgement, size: str) -> bool:
    return _spare(judgement, size) < 0


def _spare(judgement: Judgement, size: str) -> float:
    """Return how much of a size is left over, negative where it is short."""
    over = judgement.provided[size] - judgement.required[size]
    return -over if size in judgement.limit else over


def asked_about(judgement: Judgement) -> tuple[str, ...]:
    """Return the measured sizes that decide something open, by their names.

    The one that is short; else those that what is missing speaks of; else all where
    nothing is required yet, and the one with least to spare where that is in doubt, or
    where no figure is told.
    """
    short = shortfall(judgement)
    if short is not None:
        return () if short.provided is None else (short.size,)
    named = tuple(name for name in judgement.provided if name in judgement.unknown)
    compared = [name for name in judgement.required if name in judgement.provided]
    if named or not compared:
        return named or tuple(judgement.provided)
    told = parts_of(judgement.reason)
    if SURVEY not in told and any(isinstance(part, Amount) for part in told):
        return ()
    return (min(compared, key=lambda name: _spare(judgement, name)),)


def axis_of(judgement: Judgement, size: str) -> int | None:
    """Return the axis of a space's frame along which a size is measured, if any."""
    if size == "clearance" and judgement.side in _SIDES:
        return OUT
    return _AXES.get(size)


def in_the_way(judgement: Judgement, size: str, units: str) -> tuple[str, ...]:
    """Name what is in the way and by how much, the worst first.

    An associated item above or below with its reach past the front, unless it stands
    ahead of there; anything else with how much of the size it takes, where that is
    measured along one space.
    """
    found: dict[str, tuple[float, bool]] = {}
    for intrusion in judgement.intrusions:
        name = _name(intrusion, judgement.subject)
        taken = _taken(intrusion, judgement, size)
        reach = 0.0 if _is_ahead(intrusion, judgement, size, taken) else intrusion.reach
        most = found.get(name, (0.0, False))
        found[name] = max(most, (reach or taken, bool(reach)))
    # Rounded, lest noise of the last digit decide which of two equals is first.
    order = sorted(found, key=lambda name: (-round(found[name][0], 6), name))
    return tuple(_measured(name, found[name], units) for name in order)


def names_in_the_way(judgement: Judgement) -> dict[str, str]:
    """Return what each item in the way is called, by its id."""
    found: defaultdict[str, dict[str, None]] = defaultdict(dict)
    for intrusion in judgement.intrusions:
        found[intrusion.item][_name(intrusion, judgement.subject)] = None
    return {item: " and ".join(names) for item, names in found.items()}


def _name(intrusion: Intrusion, subject: str) -> str:
    if intrusion.item != subject:
        return Named(intrusion.item)
    return intrusion.part or "itself"


def _measured(name: str, amount: tuple[float, bool], units: str) -> str:
    metres, is_reach = amount
    length = say(" {}", Amount(lengths(metres, units)[0])) if metres > 0 else ""
    return say("{}{}{}", name, length, " past the front" if is_reach else "")


def _is_ahead(
    intrusion: Intrusion, judgement: Judgement, size: str, taken: float
) -> bool:
    """Tell whether something stands further ahead than an associated item may reach."""
    if size in judgement.limit or axis_of(judgement, size) != OUT or taken <= 0:
        return False
    nearest = judgement.required[size] - taken
    return nearest > (intrusion.allowed or 0.0) + _SAME


def _taken(intrusion: Intrusion, judgement: Judgement, size: str) -> float:
    """Return how much of a size a solid takes, metres; 0 where that is not known."""
    axis = None if size in judgement.limit else axis_of(judgement, size)
    boxes = [shape for shape in judgement.shapes if isinstance(shape, ClearBox)]
    if axis is None or len(boxes) != 1:
        return 0.0
    (box,) = boxes
    points = np.array([*product(*zip(intrusion.low, intrusion.high, strict=True))])
    if intrusion.body is not None and len(intrusion.body.corners):
        points = intrusion.body.corners
    along = box.frame.local(points)[:, axis]
    # Ahead and upwards what lies behind the first solid is lost as well.
    far = along.max() if axis == RIGHT else box.high[axis]
    return float(far - along.min())
