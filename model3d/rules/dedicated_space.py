"""Space kept for electrical equipment above and below it.

Applies to: switchboards, switchgear, panelboards and motor control centers up to the
highest voltage of the low-voltage table; service equipment too in later editions.

Measures: the footprint of the equipment, from the floor to the figure above its top,
or to the structural ceiling where that is lower. A suspended ceiling is none.
Outdoors from grade to the figure above its top.

Breach: piping, ducts, leak guards or other equipment foreign to the electrical
installation in that space.

Exceptions: sprinkler piping; a suspended ceiling; outdoors a roof overhang, by
edition; under 29 CFR 1910 what is isolated or protected. Foreign systems above the
zone are allowed with protection against leaks, which must be stated.

Source: NEC 110.26(E); 29 CFR 1910.303(g)(1)(vii).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.fitting import fit
from model3d.geometry.tolerance import TOUCH
from model3d.geometry.views import reaching
from model3d.judging import judge
from model3d.notes import from_memory, rule_from_memory
from model3d.spaces import ANY, Space, Stretch
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.results import Judgement
    from model3d.scene.placed import Front, Placed
    from model3d.situation import Situation

TABLES: Final = ("dedicated-space", "dedicated-space-outdoor")
REQUIREMENT: Final = "dedicated-space"


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the zone of an item that has one, and what is above the zone."""
    entry = situation.book.entry(TABLES[situation.outdoors])
    front = item.front
    if front is None or not entry.given or not _applies(item, situation):
        return
    figure = entry.figure("height_above")
    ceiling = None if situation.outdoors else _ceiling(front, situation)
    top = front.top + situation.least(figure)
    zone = Space(
        requirement=REQUIREMENT,
        subject=item.id,
        frame=front.frame.moved(0.0, -front.depth),
        width=front.width,
        depth=front.depth,
        bottom=0.0,
        top=top if ceiling is None else max(min(top, ceiling), front.top),
        limit=_Limit(item, entry, front.depth, outdoors=situation.outdoors),
        required={},
        measures={"height": "up"},
        citations={ANY: entry.citation},
        clear="Nothing foreign is in the space.",
        unread={},
    )
    zone = replace(
        zone,
        required={"width": zone.width, "depth": zone.depth, "height": zone.top},
    )
    zone = replace(zone, assumed=tuple(_assumed(zone, situation)))
    judgement = judge(zone, situation)
    if judgement.verdict == "met" and ceiling is not None and ceiling > zone.top:
        judgement = _with_above(judgement, zone, ceiling, situation, entry)
    yield judgement


def _applies(item: Placed, situation: Situation) -> bool:
    """Tell whether a zone is asked for: by kind, or as service equipment."""
    entry = situation.book.entry(TABLES[0])
    if not entry.given or item.item is None or is_high_voltage(item, situation):
        return False
    if item.kind.name in entry.words("kinds"):
        return True
    return bool(item.item.service) and entry.flag("service_equipment")


def _ceiling(front: Front, situation: Situation) -> float | None:
    """Return the height of the lowest structural ceiling above, or None."""
    box = front.box()
    low, high = (0.0, 0.0, front.top), (box.width, box.depth, float("inf"))
    heights = []
    for placed in situation.near(box.frame, low, (*high[:2], situation.size * 2)):
        if placed.structural and placed.bottom >= front.top - TOUCH:
            view = placed.solid.seen_from(box.frame)
            if reaching(view, low, high) is not None:
                heights.append(placed.bottom)
    return min(heights, default=None)


def _note(entry: Entry, item: Placed, situation: Situation) -> str:
    """Return the warning where a figure, or that the item has a zone, is unread."""
    note = from_memory((entry.figure("height_above"),), situation.measures)
    kinds = situation.book.entry(TABLES[0])
    if not note and item.kind.name in kinds.words("kinds"):
        note = rule_from_memory(kinds, "kinds")
    return note


def _assumed(zone: Space, situation: Situation) -> Iterator[tuple[str, str]]:
    """Yield the ceilings in the zone that are taken for suspended ones."""
    if situation.outdoors:
        return
    low, high = (0.0, 0.0, zone.bottom), (zone.width, zone.depth, zone.top)
    for placed in situation.near(zone.frame, low, high):
        written = placed.item
        if placed.kind.name != "ceiling" or written is None:
            continue
        view = placed.solid.seen_from(zone.frame)
        if written.structural is None and reaching(view, low, high) is not None:
            yield placed.id, "Nothing says whether it is structural: taken as not."


@dataclass(frozen=True, slots=True)
class _Limit:
    """What may be in the zone of one item."""

    item: Placed
    entry: Entry
    depth: float
    outdoors: bool

    def __call__(self, placed: Placed) -> Stretch | None:
        if placed is self.item:
            return None
        if self.outdoors and placed.kind.structure:
            return self._overhang(placed)
        if placed.foreign is None:
            question = f"Say whether {placed.id} is foreign to the installation."
            return Stretch(0.0, 0.0, self.depth, question)
        if not placed.foreign or self._isolated(placed):
            return None
        return Stretch(0.0, self.depth)

    def _overhang(self, placed: Placed) -> Stretch | None:
        above = placed.bottom >= self.item.top - TOUCH
        barred = above and not self.entry.flag("overhang_permitted")
        return Stretch(0.0, self.depth) if barred else None

    def _isolated(self, placed: Placed) -> bool:
        key = "protected_in_zone"
        allowed = self.entry.has(key) and self.entry.flag(key)
        return allowed and placed.item is not None and placed.item.protected is True


def _with_above(
    judgement: Judgement,
    zone: Space,
    ceiling: float,
    situation: Situation,
    entry: Entry,
) -> Judgement:
    """Leave it open where what is above the zone is foreign and not protected."""

    def limit(placed: Placed) -> Stretch | None:
        protected = placed.item is not None and placed.item.protected is True
        return None if protected else zone.limit(placed)

    above = replace(zone, bottom=zone.top, top=ceiling, limit=limit)
    found = fit(above, situation)
    if found.hits:
        names = ", ".join(hit.placed.id for hit in found.hits)
        reason = (
            f"{names} above the zone: allowed with protection against "
            "condensation, leaks and breaks. Say protected: true where that is so."
        )
    elif found.doubts:
        reason = " ".join(sorted({hit.stretch.question for hit in found.doubts}))
    else:
        return judgement
    citation = entry.cite("foreign_above")
    return replace(judgement, verdict="open", citation=citation, reason=reason)
