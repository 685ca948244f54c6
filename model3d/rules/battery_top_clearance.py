"""Clear height above battery cells.

Applies to: every tier of cells with terminals on their tops, on a battery rack or in a
battery cabinet.

Measures: over the footprint of the cells, from their highest point (the terminals) up
to the next shelf, row, ceiling or other solid. The battery maker's figure is required;
the code prints none. A shelf reaches over the rack's whole footprint; on a stepped
rack (offset) from the front of its own cells to the rack's back, or to the cells of a
lower step behind it that stand up through its height.

Breach: any solid nearer than the maker's figure.

Exceptions: cells with front terminals are not asked about. A cabinet without tiers is
asked for them, unless it is listed as a whole with its batteries. Without the maker's
figure the judgement stays open, with the height that was measured; a rack of a single
tier with only the room's ceiling above it is then not asked about. Where the cells do
not fit under what is drawn, no height above them can be measured: that is open.

Source: NEC 480.9(C) and (D) in 2014, 480.10(C) and (D) since; 110.26(A)(3) for open
racks.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.geometry.bodies.extents import reaching
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement
from model3d.judging.space import ANY, Space, Stretch
from model3d.judging.verdict import judge
from model3d.standing.placed import Placed
from model3d.standing.racks import cell_rows, cover_body, shelf_body
from model3d.wording import sentences
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.geometry.bodies.extents import Extents
    from model3d.geometry.bodies.solid import Box
    from model3d.judging.situation import Situation
    from model3d.scene.parts.item import Item
    from model3d.standing.racks import CellRow

TABLES: Final = ("battery-top-clearance",)
REQUIREMENT: Final = requirement_of(__name__)
_UPPER: Final = "its upper shelf"


def _shelf(number: int) -> str:
    return f"the shelf of its tier {number + 1}"


_THIN: Final = 0.001
"""Metres. The thickness given to what nobody says the thickness of: any will do."""


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Ask for the maker's clearance above every tier of cells with terminals on top."""
    entry = situation.book.entry(TABLES[0])
    written = item.item
    if not item.kind.batteries or not entry.given or written is None:
        return
    rows = cell_rows(item, situation.scene)
    if not rows and not written.listed and written.terminals != "front":
        ask = say("Say where the cells of {} stand (tiers).", Named(item.id))
        yield Judgement(REQUIREMENT, item.id, "open", entry.citation, ask, ask)
    for number, row in enumerate(rows):
        if row.terminals == "front":
            continue
        tier = _JudgedTier(item, written, rows, number, situation)
        blocked = tier.blocked()
        if blocked:
            asked = "They do not fit: say where they really are."
            yield Judgement(
                REQUIREMENT,
                item.id,
                "open",
                entry.citation,
                sentences(blocked, asked),
                missing=asked,
                tier=number,
            )
        elif not tier.is_free:
            yield tier.judged(entry)


@dataclass(frozen=True, slots=True)
class _JudgedTier:
    """One tier of a rack or cabinet, and what may be above its cells."""

    rack: Placed
    written: Item
    rows: tuple[CellRow, ...]
    number: int
    situation: Situation

    @property
    def row(self) -> CellRow:
        """Its cells."""
        return self.rows[self.number]

    @property
    def asked(self) -> float | None:
        """The maker's clearance, metres."""
        return self._metres(self.written.top_clearance)

    @property
    def thickness(self) -> float | None:
        """Of the rack's shelves, metres."""
        return self._metres(self.written.shelf_thickness)

    @property
    def enclosed(self) -> bool:
        """Whether the rack has a top of its own."""
        return self.rack.kind.cabinet or self.written.open is False

    @property
    def is_free(self) -> bool:
        """Whether it is the only tier of an open rack, below the room's ceiling alone.

        Where the maker's figure is stated it is asked about all the same.
        """
        if self.asked is not None or self.enclosed or len(self.rows) > 1:
            return False
        return all(placed.of_room for placed, _ in self._above())

    def blocked(self) -> str:
        """Say what is inside the cells' own height, and how deep; "" where nothing is.

        A run that comes down to them is above them as well, and is judged there.
        """
        row = self.row
        above = {placed.id for placed, _ in self._above()}
        found: list[tuple[str, Extents]] = [
            (Named(placed.id), extents)
            for placed, extents in self._within(row.shelf, row.highest)
            if placed.item is None or not placed.item.from_ or placed.id not in above
        ]
        found += [
            (name, extents)
            for name, part in self._parts()
            if (extents := self._shared(part, row.shelf, row.highest))
        ]
        if not found:
            return ""
        name, (low, _) = min(found, key=lambda one: (one[1][0][2], one[0]))
        deep = self.situation.length(row.highest - low[2])
        return say("{} comes {} below the highest point of its cells.", name, deep)

    def judged(self, entry: Entry) -> Judgement:
        """Judge the space above the cells, and tell how high it is."""
        found = judge(self._clearance(entry), self.situation)
        height = found.provided.get("clearance")
        if found.intrusions and self.asked is not None:
            asks = say("The maker asks for {}.", self.situation.stated(self.asked))
            return replace(found, reason=sentences(found.reason, asks))
        if height is None:
            return found
        length = self.situation.length(height, self.asked)
        told = say("{} is clear above the cells.", length)
        if self._is_unsure:
            # How far the shelf hangs below its upper face is what is asked.
            told = say("It is {} up to the upper face of the next shelf.", length)
            found = replace(found, margin=None)
        return replace(found, reason=sentences(told, found.missing))

    def _clearance(self, entry: Entry) -> Space:
        """Return the space above the cells, up to the maker's clearance."""
        row, asked = self.row, self.asked
        return Space(
            requirement=REQUIREMENT,
            subject=self.rack.id,
            frame=row.frame,
            width=row.width,
            depth=row.depth,
            bottom=row.highest,
            top=row.highest + (asked or 0.0),
            limit=self._limit,
            required={} if asked is None else {"clearance": asked},
            printed={}
            if asked is None
            else {"clearance": (self.situation.stated(asked),)},
            measures={"clearance": "up"},
            citations={ANY: entry.citation},
            missing=self._question(),
            clear="The height above the cells is clear.",
            words={"up": "the cells"},
            unread={ANY: unread_rules(entry, "makers_figure")},
            tier=self.number,
            extra=tuple(part for _, part in self._parts()),
        )

    def _question(self) -> str:
        name = self.rack.id
        if self.asked is None:
            return say(
                "Say the battery maker's clearance above the cells of {} "
                "(top_clearance): the code prints no figure.",
                Named(name),
            )
        if self._is_unsure:
            return say(
                "Say how thick the shelves of {} are (shelf_thickness).", Named(name)
            )
        return ""

    @property
    def _is_unsure(self) -> bool:
        """Whether nobody says how far the next shelf comes down."""
        return self.thickness is None and self._is_below_a_shelf()

    def _is_below_a_shelf(self) -> bool:
        row, size = self.row, self.situation.size
        shelves = (
            Placed(self.rack.id, self.rack.kind, None, self._shelf_of(up, _THIN))
            for up in self.rows[self.number + 1 :]
        )
        return any(self._shared(one, row.shelf, row.shelf + size) for one in shelves)

    def _shelf_of(self, row: CellRow, thickness: float) -> Box:
        return shelf_body(self.rack, row, self.rows, thickness)

    def _parts(self) -> Iterator[tuple[str, Placed]]:
        """Yield the rack's own parts that may be above the cells, with their names."""
        rack, thick = self.rack, self.thickness

        def part(solid: Box, words: str) -> Placed:
            return Placed(rack.id, rack.kind, None, solid, part=words)

        for number in range(self.number + 1, len(self.rows)):
            row = self.rows[number]
            yield f"Tier {number + 1}", part(row.body(), f"its tier {number + 1}")
            if thick is not None:
                shelf = self._shelf_of(row, thick)
                words = _UPPER if number == 1 == len(self.rows) - 1 else _shelf(number)
                yield f"The shelf of tier {number + 1}", part(shelf, words)
        if self.enclosed:
            cover = cover_body(rack, _THIN)
            yield say("The top of {}", Named(rack.id)), part(cover, "its top")

    def _above(self) -> Iterator[tuple[Placed, Extents]]:
        highest = self.row.highest
        return self._within(highest, highest + self.situation.size)

    def _within(self, low: float, high: float) -> Iterator[tuple[Placed, Extents]]:
        """Yield what is over or among the cells between two heights, but the rack."""
        row = self.row
        corners = (0.0, 0.0, low), (row.width, row.depth, high)
        for placed in self.situation.near(row.frame, *corners):
            if self._limit(placed) and (found := self._shared(placed, low, high)):
                yield placed, found

    def _shared(self, placed: Placed, low: float, high: float) -> Extents | None:
        row = self.row
        view = placed.solid.seen_from(row.frame)
        return reaching(view, (0.0, 0.0, low), (row.width, row.depth, high))

    def _limit(self, placed: Placed) -> Stretch | None:
        """Every solid must keep out, only the rack's own envelope does not count."""
        may = placed is self.rack or placed.kind.hole
        return None if may else Stretch(0.0, self.row.depth)

    def _metres(self, length: float | str | None) -> float | None:
        return None if length is None else self.situation.scene.metres(length)
