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
        if placed.id in {self.item.id, "floor"}:
            return None
        meters = self.situation.book.entry("meters-in-sockets")
        if placed.kind.name == "meter" and meters.given and meters.flag("permitted"):
            return None
        start = self._start(placed)
        overhead = placed.kind.structure and placed.bottom > self.needs.floor + TOUCH
        if overhead:
            exempt, question = small_dwelling_service(self.item, self.situation)
            if exempt:
                return None
            if question:
                return Stretch(start, start, self.depths[0], question)
        one, two, three = self.depths
        if faces(placed, self.item):
            if self._may_keep_two(placed):
                return Stretch(start, two, three, _PROCEDURES)
            return Stretch(start, three)
        if placed.grounded is None:
            return Stretch(start, one, two, _unknown_surface(placed))
        return Stretch(start, two if placed.grounded else one)

    def _start(self, placed: Placed) -> float:
        front = front_of(self.item)
        apart = placed.bottom >= front.top - TOUCH or placed.top <= front.bottom + TOUCH
        return self.needs.reach if placed.associated and apart else 0.0

    def _may_keep_two(self, placed: Placed) -> bool:
        """Tell whether two facing dead fronts were replaced in an existing building."""
        entry = self.situation.book.entry("existing-building")
        fronts = (self.item.item, placed.item)
        return (
            entry.given
            and self.situation.scene.premises == "existing"
            and all(item is not None and item.dead_front is True for item in fronts)
        )


_PROCEDURES: Final = (
    "Facing dead-front equipment that was replaced in an existing building may keep "
    "the depth of condition 2 under written procedures: a person must decide."
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
