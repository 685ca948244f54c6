"""The zone that is kept for an item: how far it goes, and what may be in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures, unread_rules
from model3d.geometry.tolerance import TOUCH
from model3d.judging.space import ANY, Excuse, Space, Stretch
from model3d.wording import bracketed, sentences, up_to
from model3d.wording.said import Named, ids, say
from model3d.working.dedicated.foreign import is_foreign, is_piping, question_about
from model3d.working.dedicated.overhead import Overhead
from model3d.working.tested import floor_before

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed

EXCUSES: Final = {
    "overhang_permitted": "a roof overhang",
    "suspended_ceiling": "a suspended ceiling",
    "sprinklers": "a sprinkler",
    "protected_in_zone": "isolated or protected",
}
"""What may be in the zone, by the key of the sentence that says so."""


def zone_over(
    requirement: str,
    item: Placed,
    front: Front,
    entries: tuple[Entry, Entry],
    situation: Situation,
) -> Zone:
    """Return the zone of an item.

    Args:
        requirement: That asks for it.
        item: The item.
        front: Of the item.
        entries: What the rule book says of the zone, and of the items that have one.
        situation: The room.
    """
    over, (entry, kinds) = Overhead(front, situation), entries
    full = front.top + situation.least(entry.figure("height_above"))
    ceiling = None if situation.outdoors else over.ceiling
    top = full if ceiling is None else max(min(full, ceiling), front.top)
    floor = floor_before(item, situation)
    if floor > TOUCH and not over.is_carried_at(floor):
        floor = 0.0
    return Zone(
        requirement,
        item,
        front,
        entry,
        kinds,
        over,
        situation,
        floor,
        top,
        ceiling,
        top < full,
    )


@dataclass(frozen=True, slots=True)
class Zone:
    """The zone of one item: what may be in it, and above it.

    Attributes:
        requirement: That asks for it.
        item, front: The item.
        entry: What the rule book says of the zone.
        kinds: What it says of the items that have one.
        over: The column over the item.
        situation: The room.
        floor: World height at which it begins, metres: a platform that one stands on
            in front, where it goes on below the item, is the floor there too.
        top: World height at which the zone ends, metres.
        ceiling: World height of the structural ceiling; None where none is known.
        lowered: The structural ceiling ends the zone.
    """

    requirement: str
    item: Placed
    front: Front
    entry: Entry
    kinds: Entry
    over: Overhead
    situation: Situation
    floor: float
    top: float
    ceiling: float | None
    lowered: bool

    def space(self) -> Space:
        """Return the zone as a space that must be clear."""
        front = self.front
        return Space(
            requirement=self.requirement,
            subject=self.item.id,
            frame=front.frame.moved(0.0, -front.depth),
            width=front.width,
            depth=front.depth,
            bottom=self.floor,
            top=self.top,
            limit=self.kept_out,
            required={
                "width": front.width,
                "depth": front.depth,
                "height": self.height,
            },
            printed={"height": self._limits()},
            measures={"height": "up"},
            citations={ANY: self.entry.citation},
            clear=sentences("Nothing foreign is in the space.", self.ends()),
            unread={ANY: self._unread()},
            assumed=tuple(self._assumed()),
            around=True,
        )

    @property
    def height(self) -> float:
        """How high it is from its floor, metres."""
        return self.top - self.floor

    def ends(self) -> str:
        """Say how far up the zone goes."""
        situation = self.situation
        if self.lowered:
            top = situation.length(self.height)
            return say(
                "The space goes up to the structural ceiling, {} above the floor.", top
            )
        return say("The space goes {}.", bracketed(self._limits()))

    def _limits(self) -> tuple[str, ...]:
        """Tell where the zone ends as the book does, which prints no height of it."""
        if self.lowered:
            return (up_to("the ceiling"),)
        figure, situation = self.entry.figure("height_above"), self.situation
        texts = situation.printed(figure)
        if situation.measures == "either":
            # The lesser figure is the one that the zone was measured by.
            texts = figure.texts if figure.si < figure.inch_pound else texts
        return tuple(up_to(text, above=self.item.id) for text in texts)

    def kept_out(self, placed: Placed) -> Stretch | None:
        """Tell what part of the zone a body must keep out of."""
        if placed is self.item or self.exception(placed) is not None:
            return None
        if self.situation.outdoors and placed.kind.structure:
            return self._overhang(placed)
        stretch = self._foreign(placed, self.floor)
        if stretch is None or not stretch.end:
            return stretch
        return self._on_a_gallery(placed) or stretch

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
        if kind.sprinkler and is_foreign(placed) is False:
            return "sprinklers"
        if not is_foreign(placed) or not entry.flag("protected_in_zone"):
            return None
        guard = kind.leak_guard and not entry.flag("leak_guards_barred")
        may_stay = guard or self.protection(placed, self.floor)
        return "protected_in_zone" if may_stay else None

    def excepted(self) -> Iterator[tuple[Placed, str]]:
        """Yield what is in the zone by an exception, with its key."""
        for placed in self.over.reaching_in(self.floor, self.top, self._is_excepted):
            yield placed, self.exception(placed) or ""

    def _is_excepted(self, placed: Placed) -> bool:
        return placed is not self.item and self.exception(placed) is not None

    def protection(self, placed: Placed, low: float) -> str:
        """Say what protects the item from a body's leaks; "" where nothing does."""
        if placed.item is not None and placed.item.protected is True:
            return say("{} is protected against leaks", Named(placed.id))
        guards = [guard.id for guard in self.over.guards(placed, low)]
        cover = "covers" if len(guards) == 1 else "cover"
        told = say("{} {} the width below {}", ids(guards), cover, Named(placed.id))
        return told if guards else ""

    def told(self, judgement: Judgement, words: str, key: str) -> Judgement:
        """Add a sentence to the reason, with the citation of what it rests on."""
        unread = (*judgement.unread, *unread_rules(self.entry, key))
        cited = self.entry.cite(key)
        found = Excuse(EXCUSES.get(key, "protected against leaks"), cited)
        return replace(
            judgement,
            reason=sentences(judgement.reason, say("{} ({}).", words, cited)),
            exception=judgement.exception or str(found),
            unread=tuple(dict.fromkeys(unread)),
        )

    def hints(self, judgement: Judgement) -> Iterator[str]:
        """Say what would let into the zone what is in the way, where something may."""
        # Looked up by name: every zone that is not clear asks, in a hall of thousands.
        items = self.situation.arrangement.items
        names = sorted({one.item for one in judgement.intrusions} & items.keys())
        piping = ids(name for name in names if is_piping(items[name]))
        if piping and self.entry.has("sprinklers"):
            cited = self.entry.cite("sprinklers")
            yield say(
                "{} is piping: only a sprinkler itself may be there ({}).",
                piping,
                cited,
            )
        key = "protected_in_zone"
        if self.entry.has(key) and self.entry.flag(key):
            cited = self.entry.cite(key)
            yield (
                "What is isolated or protected may be there; where that is so, say "
                f"protected: true ({cited})."
            )

    def _foreign(self, placed: Placed, low: float) -> Stretch | None:
        foreign = is_foreign(placed)
        if foreign is False or self.over.parted(placed, low):
            return None
        if foreign is None:
            return Stretch(0.0, 0.0, self.front.depth, question_about(placed))
        return Stretch(0.0, self.front.depth)

    def _on_a_gallery(self, placed: Placed) -> Stretch | None:
        """Ask whether floors overhead end the zone below a body, as a ceiling does."""
        floors = self.over.floors_between(placed, self.floor)
        if not floors:
            return None
        names = sorted(floor.id for floor in floors)
        asked = say(
            "Say whether {} is closed, and a structural ceiling to {}: then draw a "
            "ceiling there with structural: true.",
            ids(names),
            Named(self.item.id),
        )
        return Stretch(0.0, 0.0, self.front.depth, asked)

    def _overhang(self, placed: Placed) -> Stretch | None:
        """Leave to the authority what hangs over, where the book does not except it."""
        if placed.bottom < self.item.top - TOUCH:
            return None
        missing = say(
            "{} hangs over the space, and {} has no exception for it: the authority "
            "must decide.",
            Named(placed.id),
            self.situation.book.name,
        )
        return Stretch(0.0, 0.0, self.front.depth, missing)

    def _unread(self) -> tuple[str, ...]:
        """Return what was not read: the figure, or that the item has a zone."""
        figure = self.entry.figure("height_above")
        named = self.item.kind.name in self.kinds.words("kinds")
        found = (
            *unread_figures(self.entry, (figure,), self.situation.measures),
            *unread_rules(self.kinds, "kinds" if named else "service_equipment"),
        )
        return tuple(dict.fromkeys(found))

    def _assumed(self) -> Iterator[tuple[str, str]]:
        """Yield the ceilings in the zone that are taken for suspended ones."""
        for placed, key in self.excepted():
            written = placed.item
            silent = written is not None and written.structural is None
            if key == "suspended_ceiling" and silent:
                yield placed.id, "Nothing says whether it is structural: taken as not."
