"""Space kept for electrical equipment above and below it.

Applies to: switchboards, switchgear, panelboards and motor control centers up to the
highest voltage of the low-voltage table; service equipment too in later editions.

Measures: the footprint of the equipment, from the floor to the figure above its top,
or to the structural ceiling where that is lower. A platform that one stands on in front
and that goes on below the equipment is the floor. A suspended ceiling is none, and a
structural one ends the space where it covers the whole footprint; whether the floor of
a gallery does, nobody says: what lies on it is open. Outdoors from grade to the figure
above its top.

Breach: piping, ducts, guards against leaks or other equipment foreign to the electrical
installation in that space. A sprinkler that is drawn as a run is piping and stays out.

Exceptions: sprinkler heads, and a suspended ceiling. Foreign systems above the zone,
sprinkler piping too, are allowed with protection against leaks: stated (protected), or
drawn as guards (leak-guard) between them and the zone that cover all of the footprint
below them; else it is open. Outdoors a roof overhang is excepted by edition; before
that it is open: the authority decides. Under 29 CFR 1910 what is isolated or protected
may be in the zone too.

Source: NEC 110.26(E); 29 CFR 1910.303(g)(1)(vii).
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.judging.measured.fit import fit
from model3d.judging.requirement import requirement_of
from model3d.judging.verdict import judge
from model3d.wording import sentences
from model3d.wording.said import Named, joined, say
from model3d.working import is_high_voltage
from model3d.working.dedicated.edge import at_the_edge
from model3d.working.dedicated.foreign import needs_protection
from model3d.working.dedicated.zone import EXCUSES, zone_over

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space
    from model3d.standing.placed import Placed
    from model3d.working.dedicated.zone import Zone

TABLES: Final = ("dedicated-space", "dedicated-space-outdoor")
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the zone of an item that has one, and what is above the zone."""
    zone = _zone(item, situation)
    if zone is None:
        return
    space = zone.space()
    found = fit(space, situation)
    if found.hits:
        # What is in the way for certain is told alone, and measured alone.
        found = replace(found, doubts=())
    judgement = judge(space, situation, found)
    if judgement.intrusions:
        reason = sentences(judgement.reason, zone.ends(), *zone.hints(judgement))
        # Of the three sizes the height alone is measured.
        short = judgement.provided.get("height", 0.0) - zone.height
        judgement = replace(judgement, reason=reason, margin=short)
    judgement = _at_its_edge(judgement, zone, space)
    if judgement.verdict == "met":
        for placed, key in zone.excepted():
            what = "a guard against leaks" if placed.kind.leak_guard else EXCUSES[key]
            words = say("{} is {}, and may be in the space", Named(placed.id), what)
            judgement = zone.told(judgement, words, key)
        judgement = _with_above(judgement, zone)
    yield judgement


def zone(item: Placed, situation: Situation) -> Space | None:
    """Return the zone of an item, with what must keep out of it; None: it has none."""
    found = _zone(item, situation)
    return None if found is None else found.space()


def _zone(item: Placed, situation: Situation) -> Zone | None:
    entry, kinds = situation.book.entry(TABLES[situation.outdoors]), _kinds(situation)
    if item.front is None or not entry.given or not _applies(item, situation):
        return None
    return zone_over(REQUIREMENT, item, item.front, (entry, kinds), situation)


def _kinds(situation: Situation) -> Entry:
    """Return what the rule book says of the items that have a zone."""
    return situation.book.entry(TABLES[0])


def _applies(item: Placed, situation: Situation) -> bool:
    """Tell whether a zone is asked for: by kind, or as service equipment."""
    entry = _kinds(situation)
    if not entry.given or item.item is None or is_high_voltage(item, situation):
        return False
    if item.kind.name in entry.words("kinds"):
        return True
    return bool(item.item.service) and entry.flag("service_equipment")


def _at_its_edge(judgement: Judgement, zone: Zone, space: Space) -> Judgement:
    """Say what is so near to the edge of the space that a survey leaves it open."""
    situation = zone.situation
    if not judgement.missing or judgement.missing != situation.survey_doubt:
        return judgement
    nearest = at_the_edge(space, situation)[0]
    return replace(
        judgement,
        reason=sentences(nearest.words(situation), judgement.missing, zone.ends()),
        # How high it is clear decides nothing where a side is in question.
        provided=judgement.provided if nearest.overhead else {},
        margin=nearest.apart,
    )


_ASK_PROTECTED: Final = (
    "Say protected: true where that is so, or draw a leak-guard that covers the width "
    "below it."
)


def _with_above(judgement: Judgement, zone: Zone) -> Judgement:
    """Leave it open where what is above the zone is foreign and not protected."""
    situation, entry, key = zone.situation, zone.entry, "foreign_above"
    end = zone.ceiling
    if end is None:
        end = zone.top + 2 * situation.size
    if situation.outdoors or end <= zone.top:
        return judgement
    space = replace(zone.space(), bottom=zone.top, top=end, limit=zone.kept_off)
    found = fit(space, situation)
    asked: list[str] = []
    if situation.survey_tolerance and not found.all:
        near = at_the_edge(space, situation)
        asked += [near[0].words(situation), situation.survey_doubt] if near else []
    if found.hits:
        names = joined(
            "; ",
            (
                say(
                    "{} above the zone, {} above the floor",
                    Named(hit.placed.id),
                    situation.length(hit.extents[0][2] - zone.floor),
                )
                for hit in found.hits
            ),
        )
        allowed = "{}: allowed with protection against condensation, leaks and breaks."
        asked += [say(allowed, names), _ASK_PROTECTED]
    asked += sorted({hit.stretch.missing for hit in found.doubts})
    if asked:
        return replace(
            judgement,
            verdict="open",
            citation=entry.cite(key),
            reason=sentences(*asked),
            missing=sentences(*asked),
            unread=unread_rules(entry, key),
        )
    for placed in zone.over.reaching_in(zone.top, end, needs_protection):
        words = zone.protection(placed, zone.top)
        if words:
            judgement = zone.told(judgement, words, key)
    return judgement
