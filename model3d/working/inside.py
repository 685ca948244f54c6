"""What may be inside a working space, and how far."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.spaces import Stretch
from model3d.working.front import faces, front_of

if TYPE_CHECKING:
    from model3d.scene.placed import Placed
    from model3d.situation import Situation
    from model3d.working.needs import Needs


@dataclass(frozen=True, slots=True)
class Allowance:
    """What one item's working space allows each other solid."""

    item: Placed
    situation: Situation
    depths: tuple[float, float, float]
    needs: Needs

    def __call__(self, placed: Placed) -> Stretch | None:
        """Return what part of the space a solid must keep out of."""
        if self._may_be_inside(placed):
            return None
        start = self._start(placed)
        overhead = placed.kind.structure and placed.bottom > self.needs.floor + TOUCH
        if overhead:
            exempt, question = small_dwelling_service(self.item, self.situation)
            if exempt:
                return None
            if question:
                return Stretch(start, start, self.depths[0], question)
        if faces(placed, self.item):
            return self._facing(placed, start)
        one, two, _ = self.depths
        if placed.grounded is None:
            return Stretch(start, one, two, _unknown_surface(placed))
        return Stretch(start, two if placed.grounded else one)

    def _may_be_inside(self, placed: Placed) -> bool:
        if placed.id in {self.item.id, "floor"} or placed.kind.hole:
            return True
        if self.needs.limited and placed.kind.name in _IN_LIMITED_SPACE:
            return True
        meters = self.situation.book.entry("meters-in-sockets")
        is_meter = placed.kind.name == "meter"
        return is_meter and meters.given and meters.flag("permitted")

    def _facing(self, placed: Placed, start: float) -> Stretch:
        three = self.depths[2]
        lesser = lesser_condition(self.item, placed, self.situation)
        if lesser is None:
            return Stretch(start, three)
        depth = self.depths[lesser - 1]
        if procedures_hold(self.situation):
            return Stretch(start, depth)
        return Stretch(start, depth, three, _PROCEDURES)

    def _start(self, placed: Placed) -> float:
        front = front_of(self.item)
        apart = placed.bottom >= front.top - TOUCH or placed.top <= front.bottom + TOUCH
        return self.needs.reach if placed.associated and apart else 0.0


_IN_LIMITED_SPACE: Final = ("beam", "ceiling")
"""Horizontal members and panels may cross the space of an item of limited access."""


def lesser_condition(item: Placed, other: Placed, situation: Situation) -> int | None:
    """Return the condition that two facing items may keep, or None.

    Dead fronts of certain kinds that were replaced in an existing building may keep it
    under written procedures, unless the scene says that there are none.
    """
    entry = situation.book.entry("existing-building")
    if not entry.given or situation.scene.premises != "existing":
        return None
    if procedures_hold(situation) is False:
        return None
    kinds = entry.words("kinds")
    dead = all(
        front.kind.name in kinds
        and front.item is not None
        and front.item.dead_front is True
        for front in (item, other)
    )
    return int(entry.number("condition")) if dead else None


def procedures_hold(situation: Situation) -> bool | None:
    """Tell whether written procedures hold as the book asks; None: not stated."""
    entry = situation.book.entry("existing-building")
    if not entry.flag("written_procedures"):
        return True
    return situation.scene.stated.written_procedures


_PROCEDURES: Final = (
    "Facing dead-front equipment that was replaced in an existing building may keep "
    "the depth of condition 2 under written procedures that keep both sides from being "
    "open at once: say written_procedures: true where there are such."
)


def _unknown_surface(placed: Placed) -> str:
    if placed.of_room:
        return f"Say what {placed.id} is made of: a grounded surface needs more depth."
    return f"Say whether {placed.id} is grounded: a grounded surface needs more depth."


def small_dwelling_service(item: Placed, situation: Situation) -> tuple[bool, str]:
    """Tell whether low headroom is excepted, and what is missing to know it."""
    entry = situation.book.entry("existing-dwelling")
    if situation.scene.premises != "existing-dwelling" or not entry.given:
        return False, ""
    service = None if item.item is None else item.item.service
    if item.kind.name not in entry.words("kinds") and not service:
        known = service is not None
        return False, "" if known else f"Say whether {item.id} is service equipment."
    if item.amps is None:
        return False, f"Say how many amperes {item.id} is rated for."
    return item.amps <= entry.number("amps"), ""
