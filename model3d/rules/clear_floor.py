"""Floor of the working space, level and clear.

Applies to: every item that needs a working space of the low-voltage tables, except in
places of limited access.

Measures: the floor under the working space in front, at the place where it was
tested. A platform or a pad that carries the whole working space is its floor.

Breach: a step, a kerb or anything else that stands on that floor within the working
space; a pit or another hole in it. The rule prints no figure.

Exceptions: what may be inside the working space, such as a pad a little way past the
front; walls and columns as high as the working space, which bound the floor. How flat
the floor itself is no scene says, and it is not judged.

Source: NEC 110.26(A)(6) since 2023.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.fitting import fit
from model3d.geometry.tolerance import TOUCH
from model3d.notes import rule_from_memory
from model3d.spaces import Stretch
from model3d.working.front import is_limited
from model3d.working.tested import judge_held, tested

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.results import Judgement
    from model3d.scene.placed import Placed
    from model3d.situation import Situation
    from model3d.spaces import Limit
    from model3d.working.tested import Tested

TABLES: Final = ("clear-floor",)
REQUIREMENT: Final = "clear-floor"


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the floor of the working space of an item."""
    entry = situation.book.entry(TABLES[0])
    if not item.live or not entry.given:
        return
    it = tested(item, situation)
    floor = it.figures.floor
    if it.figures.high_voltage or is_limited(situation):
        return
    deep = min((hole.bottom for hole in _holes(floor, situation)), default=floor)
    if deep < floor:
        it = _beside_holes(it, situation, deep)
    judged = judge_held(
        replace(it, space=replace(it.space, bottom=min(deep, floor))),
        situation,
        lambda limit, depth: _OnFloor(limit, floor, it.space.top, depth),
        citation=entry.cite("clear"),
        note=rule_from_memory(entry, "clear"),
        clear="The floor of the working space is clear.",
    )
    yield replace(
        judged, requirement=REQUIREMENT, reason=_with_holes(judged, situation)
    )


def _with_holes(judged: Judgement, situation: Situation) -> str:
    """Say which of what is in the way is a hole."""
    items = situation.arrangement.items
    ids = (intrusion.item for intrusion in judged.intrusions)
    holes = [name for name in ids if items[name].kind.hole]
    if not holes:
        return judged.reason
    return f"{judged.reason} Open in the floor: {', '.join(holes)}."


def _holes(floor: float, situation: Situation) -> Iterator[Placed]:
    """Yield the holes that open in the floor at a height."""
    for placed in situation.items:
        if placed.kind.hole and placed.top >= floor - TOUCH:
            yield placed


def _beside_holes(it: Tested, situation: Situation, deep: float) -> Tested:
    """Return the space where it is clear of solids and of holes too, if it can be."""
    floor, limit, depth = it.figures.floor, it.space.limit, it.space.depth

    def both(placed: Placed) -> Stretch | None:
        if placed.kind.hole:
            return _OnFloor(limit, floor, it.space.top, depth)(placed)
        return limit(placed) if placed.top > floor + TOUCH else None

    found = fit(replace(it.space, bottom=deep, limit=both), situation)
    return it if found.hits else replace(it, found=found)


@dataclass(frozen=True, slots=True)
class _OnFloor:
    """What stands on the floor keeps out as any solid does, and so does a hole.

    A wall or a column as high as the working space bounds the floor and is not on it.
    """

    limit: Limit
    floor: float
    top: float
    depth: float

    def __call__(self, placed: Placed) -> Stretch | None:
        if placed.top < self.floor - TOUCH:
            return None
        if placed.kind.hole:
            return Stretch(0.0, self.depth)
        stands = placed.bottom <= self.floor + TOUCH < placed.top
        bounds = placed.kind.structure and placed.top >= self.top - TOUCH
        return self.limit(placed) if stands and not bounds else None
