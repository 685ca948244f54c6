"""What a claim looked at, and whether a change of the scene may touch it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeAlias

import numpy as np

from model3d.following.watch import meet
from model3d.judging.results import ClearBox, Judgement

if TYPE_CHECKING:
    from model3d.following.glances import Boxes, Key

Bounds: TypeAlias = tuple[float, ...]
"""Lowest and highest corner, metres; none where there is nothing."""

SOON: Final = 0
LATER: Final = 1
WAITS: Final = 2
"""A claim in whose space something moves; another one; one about the ways out."""


@dataclass(frozen=True, slots=True)
class Claim:
    """One rule at one item.

    Attributes:
        judgements: What came of it.
        items: Ids of the items whose place it looked at.
        boxes: Where it asked for whatever is there.
        bounds: Of all of these together.
        ways: Whether it asked for the ways out.
        turn: When it was made, by the number of calls of ``judge``.
    """

    judgements: tuple[Judgement, ...]
    items: frozenset[str]
    boxes: Boxes
    bounds: Bounds
    ways: bool
    turn: int


@dataclass(frozen=True, slots=True)
class Touch:
    """What of the claims a change may touch.

    Attributes:
        moved: The ids of all that was moved or changed.
        here: Where that stands now.
        both: The same, and where it stood before.
        bounds: Of both together.
        whole: The place is no longer as large as it was, which touches every claim.
        overhead: All of that hangs and hung above the ways in and out.
    """

    moved: frozenset[str]
    here: Boxes
    both: Boxes
    bounds: Bounds
    whole: bool
    overhead: bool

    def is_near(self, key: Key, claim: Claim) -> bool:
        """Tell whether the change may touch a claim."""
        if not self.moved:
            return False
        if self.whole or key[1] in self.moved:
            return True
        asked = _meet(self.bounds, claim.bounds)
        if claim.ways:
            # What is known of ways is shared: a claim need not have looked itself. It
            # has looked at all that there is in the room, only to see that it is high.
            return not self.overhead or (asked and meet(claim.boxes, self.both))
        looked = not self.moved.isdisjoint(claim.items)
        return looked or (asked and meet(claim.boxes, self.here))

    def rank(self, claim: Claim) -> int:
        """Return how soon it matters that a claim is touched."""
        if claim.ways:
            return WAITS
        if any(one.subject in self.moved for one in claim.judgements):
            return SOON
        spaces = [
            shape.frame.bounds(shape.low, shape.high)
            if isinstance(shape, ClearBox)
            else shape.bounds
            for one in claim.judgements
            for shape in one.shapes
        ]
        inside = meet(np.array(spaces).reshape(-1, 2, 3), self.both)
        return SOON if inside else LATER


def bounds_of(boxes: Boxes) -> Bounds:
    """Return the bounds of some boxes together."""
    if not len(boxes):
        return ()
    low, high = boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)
    return (*low.tolist(), *high.tolist())


def _meet(one: Bounds, other: Bounds) -> bool:
    """Tell whether two bounds meet; quicker than ``meet``, and mostly enough."""
    if not (one and other):
        return False
    return all(one[n] <= other[n + 3] and other[n] <= one[n + 3] for n in range(3))
