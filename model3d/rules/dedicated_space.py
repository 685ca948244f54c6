"""Space kept for electrical equipment above and below it.

Applies to: switchboards, switchgear, panelboards and motor control centers up to the
highest voltage of the low-voltage table; service equipment too in later editions.

Measures: the footprint of the equipment, from the floor to the figure above its top,
or to the structural ceiling where that is lower. A suspended ceiling is none, and a
structural one ends the space where it covers the whole footprint. Outdoors from grade
to the figure above its top.

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

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures, unread_rules
from model3d.geometry.tolerance import TOUCH
from model3d.judging.fit import fit
from model3d.judging.requirement import requirement_of
from model3d.judging.space import ANY, Excuse, Space, Stretch
from model3d.judging.verdict import judge
from model3d.wording import ABOVE, UP_TO, bracketed, sentences
from model3d.working import is_high_voltage
from model3d.working.overhead import Overhead

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed

TABLES: Final = ("dedicated-space", "dedicated-space-outdoor")
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the zone of an item that has one, and what is above the zone."""
    entry = situation.book.entry(TABLES[situation.outdoors])
    front = item.front
    if front is None or not entry.given or not _applies(item, situation):
        return
    zone = _zone(item, front, entry, situation)
    space = zone.space()
    found = fit(space, situation)
    if found.hits:
        # What is in the way for certain is told alone, and measured alone.
        found = replace(found, doubts=())
    judgement = judge(space, situation, found)
    if judgement.intrusions:
        reason = sentences(judgement.reason, zone.ends(), *zone.hints(judgement))
        # Of the three sizes the height alone is measured.
        short = judgement.provided.get("height", 0.0) - zone.top
        judgement = replace(judgement, reason=reason, margin=short)
    if judgement.verdict == "met":
        for placed, key in zone.excepted():
            what = "a guard against leaks" if placed.kind.leak_guard else _EXCUSES[key]
            words = f"{placed.id} is {what}, and may be in the space"
            judgement = zone.told(judgement, words, key)
        judgement = _with_above(judgement, zone)
    yield judgement


def zone(item: Placed, situation: Situation) -> Space | None:
    """Return the zone of an item, with what must keep out of it; None: it has none."""
    entry = situation.book.entry(TABLES[situation.outdoors])
    front = item.front
    if front is None or not entry.given or not _applies(item, situation):
        return None
    return _zone(item, front, entry, situation).space()


def _applies(item: Placed, situation: Situation) -> bool:
    """Tell whether a zone is asked for: by kind, or as service equipment."""
    entry = situation.book.entry(TABLES[0])
    if not entry.given or item.item is None or is_high_voltage(item, situation):
        return False
    if item.kind.name in entry.words("kinds"):
        return True
    return bool(item.item.service) and entry.flag("service_equipment")


def _zone(item: Placed, front: Front, entry: Entry, situation: Situation) -> _Zone:
    over = Overhead(front, situation)
    full = front.top + situation.least(entry.figure("height_above"))
    ceiling = None if situation.outdoors else over.ceiling
    top = full if ceiling is None else max(min(full, ceiling), front.top)
    return _Zone(item, front, entry, over, situation, top, ceiling, top < full)


@dataclass(frozen=True, slots=True)
class _Zone:
    """The zone of one item: what may be in it, and above it.

    Attributes:
        item, front: The item.
        entry: What the rule book says.
        over: The column over the item.
        situation: The room.
        top: World height at which the zone ends, metres.
        ceiling: World height of the structural ceiling; None where none is known.
        lowered: The structural ceiling ends the zone.
    """

    item: Placed
    front: Front
    entry: Entry
    over: Overhead
    situation: Situation
    top: float
    ceiling: float | None
    lowered: bool

    def space(self) -> Space:
        """Return the zone as a space that must be clear."""
        front = self.front
        return Space(
            requirement=REQUIREMENT,
            subject=self.item.id,
            frame=front.frame.moved(0.0, -front.depth),
            width=front.width,
            depth=front.depth,
            bottom=0.0,
            top=self.top,
            limit=self.kept_out,
            required={"width": front.width, "depth": front.depth, "height": self.top},
            printed={"height": self._limits()},
            measures={"height": "up"},
            citations={ANY: self.entry.citation},
            clear=sentences("Nothing foreign is in the space.", self.ends()),
            unread={ANY: self._unread()},
            assumed=tuple(self._assumed()),
        )

    def ends(self) -> str:
        """Say how far up the zone goes."""
        situation = self.situation
        if self.lowered:
            top = situation.length(self.top)
            return (
                f"The space goes up to the structural ceiling, {top} above the floor."
            )
        return f"The space goes {bracketed(self._limits())}."

    def _limits(self) -> tuple[str, ...]:
        """Tell where the zone ends as the book does, which prints no height of it."""
        if self.lowered:
            return (f"{UP_TO}the ceiling",)
        figure, situation = self.entry.figure("height_above"), self.situation
        texts = situation.printed(figure)
        if situation.measures == "either":
            # The lesser figure is the one that the zone was measured by.
            texts = figure.texts if figure.si < figure.inch_pound else texts
        return tuple(f"{UP_TO}{text}{ABOVE}{self.item.id}" for text in texts)

    def kept_out(self, placed: Placed) -> Stretch | None:
        """Tell what part of the zone a body must keep out of."""
        if placed is self.item or self.exception(placed) is not None:
            return None
        if self.situation.outdoors and placed.kind.structure:
            return self._overhang(placed)
        return self._foreign(placed, 0.0)

    def kept_off(self, placed: Placed) -> Stretch | None:
        """Tell whether a body above the zone lacks protection against its leaks."""
        stretch = self._foreign(placed, self.top)
        if stretch is None or placed.kind.leak_guard:
            return None
        return None if self.protection(placed, self.top) else stretch

    def exception(self, placed: Placed) -> str | None:
        """Return the key of the sentence that lets a body be in the zone, if any."""
        written, kind, entry = placed.item, placed.kind, self.entry
        if self.situation.outdoors:
            above = kind.structure and placed.bottom >= self.item.top - TOUCH
            excepted = above and entry.flag("overhang_permitted")
            return "overhang_permitted" if excepted else None
        if kind.ceiling and written is not None and not placed.structural:
            return "suspended_ceiling"
        if kind.sprinkler and _is_foreign(placed) is False:
            return "sprinklers"
        if not _is_foreign(placed) or not entry.flag("protected_in_zone"):
            return None
        guard = kind.leak_guard and not entry.flag("leak_guards_barred")
        return "protected_in_zone" if guard or self.protection(placed, 0.0) else None

    def excepted(self) -> Iterator[tuple[Placed, str]]:
        """Yield what is in the zone by an exception, with its key."""
        for placed in self.over.reaching_in(0.0, self.top, self._is_excepted):
            yield placed, self.exception(placed) or ""

    def _is_excepted(self, placed: Placed) -> bool:
        return placed is not self.item and self.exception(placed) is not None

    def protection(self, placed: Placed, low: float) -> str:
        """Say what protects the item from a body's leaks; "" where nothing does."""
        if placed.item is not None and placed.item.protected is True:
            return f"{placed.id} is protected against leaks"
        guards = ", ".join(guard.id for guard in self.over.guards(placed, low))
        return f"{guards} covers the width below {placed.id}" if guards else ""

    def told(self, judgement: Judgement, words: str, key: str) -> Judgement:
        """Add a sentence to the reason, with the citation of what it rests on."""
        unread = (*judgement.unread, *unread_rules(self.entry, key))
        cited = self.entry.cite(key)
        found = Excuse(_EXCUSES.get(key, "protected against leaks"), cited)
        return replace(
            judgement,
            reason=f"{judgement.reason} {words} ({cited}).",
            exception=judgement.exception or str(found),
            unread=tuple(dict.fromkeys(unread)),
        )

    def hints(self, judgement: Judgement) -> Iterator[str]:
        """Say what would let into the zone what is in the way, where something may."""
        names = {one.item for one in judgement.intrusions}
        found = [placed for placed in self.situation.items if placed.id in names]
        piping = ", ".join(one.id for one in found if _is_piping(one))
        if piping and self.entry.has("sprinklers"):
            cited = self.entry.cite("sprinklers")
            yield f"{piping} is piping: only a sprinkler itself may be there ({cited})."
        key = "protected_in_zone"
        if self.entry.has(key) and self.entry.flag(key):
            cited = self.entry.cite(key)
            yield (
                "What is isolated or protected may be there; where that is so, say "
                f"protected: true ({cited})."
            )

    def _foreign(self, placed: Placed, low: float) -> Stretch | None:
        foreign = _is_foreign(placed)
        if foreign is False or self.over.parted(placed, low):
            return None
        if foreign is None:
            return Stretch(0.0, 0.0, self.front.depth, _question(placed))
        return Stretch(0.0, self.front.depth)

    def _overhang(self, placed: Placed) -> Stretch | None:
        """Leave to the authority what hangs over, where the book does not except it."""
        if placed.bottom < self.item.top - TOUCH:
            return None
        missing = (
            f"{placed.id} hangs over the space, and {self.situation.book.name} has no "
            "exception for it: the authority must decide."
        )
        return Stretch(0.0, 0.0, self.front.depth, missing)

    def _unread(self) -> tuple[str, ...]:
        """Return what was not read: the figure, or that the item has a zone."""
        figure = self.entry.figure("height_above")
        kinds = self.situation.book.entry(TABLES[0])
        named = self.item.kind.name in kinds.words("kinds")
        found = (
            *unread_figures(self.entry, (figure,), self.situation.measures),
            *unread_rules(kinds, "kinds" if named else "service_equipment"),
        )
        return tuple(dict.fromkeys(found))

    def _assumed(self) -> Iterator[tuple[str, str]]:
        """Yield the ceilings in the zone that are taken for suspended ones."""
        for placed, key in self.excepted():
            written = placed.item
            silent = written is not None and written.structural is None
            if key == "suspended_ceiling" and silent:
                yield placed.id, "Nothing says whether it is structural: taken as not."


_EXCUSES: Final = {
    "overhang_permitted": "a roof overhang",
    "suspended_ceiling": "a suspended ceiling",
    "sprinklers": "a sprinkler",
    "protected_in_zone": "isolated or protected",
}
"""What may be in the zone, by the key of the sentence that says so."""


def _with_above(judgement: Judgement, zone: _Zone) -> Judgement:
    """Leave it open where what is above the zone is foreign and not protected."""
    situation, entry, key = zone.situation, zone.entry, "foreign_above"
    end = zone.ceiling
    if end is None:
        end = zone.top + 2 * situation.size
    if situation.outdoors or end <= zone.top:
        return judgement
    space = replace(zone.space(), bottom=zone.top, top=end, limit=zone.kept_off)
    found = fit(space, situation)
    asked = []
    if found.hits:
        names = "; ".join(
            f"{hit.placed.id} above the zone, {situation.length(hit.extents[0][2])} "
            "above the floor"
            for hit in found.hits
        )
        asked.append(
            f"{names}: allowed with protection against condensation, leaks and "
            "breaks. Say protected: true where that is so, or draw the "
            "leak-guard below it."
        )
    asked += sorted({hit.stretch.missing for hit in found.doubts})
    if asked:
        return replace(
            judgement,
            verdict="open",
            citation=entry.cite(key),
            reason=" ".join(asked),
            missing=" ".join(asked),
            unread=unread_rules(entry, key),
        )
    for placed in zone.over.reaching_in(zone.top, end, _needs_protection):
        words = zone.protection(placed, zone.top)
        if words:
            judgement = zone.told(judgement, words, key)
    return judgement


def _needs_protection(placed: Placed) -> bool:
    """Tell whether what leaks from a body above the zone must be kept off."""
    return bool(_is_foreign(placed)) and not placed.kind.leak_guard


def _is_foreign(placed: Placed) -> bool | None:
    """Tell whether a body is foreign; of a sprinkler only its piping is."""
    written = placed.item
    if not placed.kind.sprinkler or written is None:
        return placed.foreign
    if written.foreign is not None or written.associated:
        return placed.foreign
    if _is_piping(placed):
        return True
    return False if written.size is not None else None


def _is_piping(placed: Placed) -> bool:
    """Tell whether a body is the piping of sprinklers: drawn as a run."""
    written = placed.item
    return placed.kind.sprinkler and written is not None and written.from_ is not None


def _question(placed: Placed) -> str:
    if placed.kind.sprinkler:
        return f"Say whether {placed.id} is piping (foreign: true) or a sprinkler head."
    return f"Say whether {placed.id} is foreign to the installation."
