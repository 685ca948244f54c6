"""Required spaces: what a rule says must be clear, before anything is measured."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final, Literal

from model3d.geometry.tolerance import TOUCH
from model3d.wording import NOTHING_THERE

if TYPE_CHECKING:
    from model3d.geometry.frame import Frame
    from model3d.judging.results import Printed, Sizes
    from model3d.standing.placed import Placed

Sureness = Literal["certain", "possible", "excused"]
"""Of what keeps a solid out: what is known, what may be, what an exception lifts."""

Along = Literal["out", "across", "up"]
"""A direction in which a space is measured: ahead, from side to side, upwards."""


@dataclass(frozen=True, slots=True)
class Excuse:
    """An exception that lets a solid stand where it may not otherwise.

    Attributes:
        words: What it is for, in a few words.
        citation: The sentence.
        unread: The citation once more, where it was not read in any source.
    """

    words: str
    citation: str
    unread: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Return the sentence and what it is for."""
        return f"{self.citation} ({self.words})"


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a space's depth that one solid must keep out of.

    Attributes:
        start: Where it begins, metres ahead of the front.
        end: Where it ends for certain.
        possible: Where it ends if what is not known is the worse; never nearer
            than ``end``.
        missing: What would have to be said to know, where ``possible`` is further
            or ``doubtful`` nearer.
        unknown: The sizes that it asks for.
        doubtful: Where it begins if what is not known is the worse; None: at start.
        excused: Where it would end but for an exception.
        excuse: The exception.
    """

    start: float
    end: float
    possible: float = 0.0
    missing: str = ""
    doubtful: float | None = None
    excused: float = 0.0
    excuse: Excuse | None = None
    unknown: tuple[str, ...] = ()

    @property
    def first(self) -> float:
        """Where the stretch begins at the earliest."""
        return self.start if self.doubtful is None else min(self.start, self.doubtful)

    @property
    def furthest(self) -> float:
        """Where the stretch ends at the latest."""
        return max(self.end, self.possible, self.excused)

    def part(self, sure: Sureness) -> tuple[float, float]:
        """Return from where to where it reaches: for certain, possibly, or at most."""
        match sure:
            case "certain":
                return self.start, self.end
            case "possible":
                return self.first, max(self.end, self.possible)
            case "excused":
                return self.first, self.furthest

    def grown(self, by: float) -> Stretch:
        """Return it longer at both ends, metres; where it is empty it stays so."""
        if not by:
            return self
        start = max(self.start - by, 0.0) if self.start else 0.0
        end, possible, excused = (
            end + by if end > self.start else start
            for end in (self.end, self.possible, self.excused)
        )
        return replace(self, start=start, end=end, possible=possible, excused=excused)


Limit = Callable[["Placed"], Stretch | None]
"""Tells what part of a space a solid must keep out of; None: it may be inside."""


@dataclass(frozen=True, slots=True)
class Space:
    """A box that must be clear, and what may be inside it.

    Attributes:
        requirement: The rule's name.
        subject: Id of the item that needs it.
        frame: Its ``out`` points away from the item; origin on the item's face.
        width: From side to side, metres.
        depth: Ahead of the face, metres; the deepest stretch of any solid.
        bottom, top: World heights.
        limit: What each solid must keep out of.
        first, last: Between these the space's left side may lie; equal if it may
            not slide.
        wanted: Where its left side lies if nothing is in the way.
        covers: From where to where it must cover the front; None: what it covers
            wherever it slides.
        as_wide: It is as wide as the item: it stands there by the figures of either
            system.
        required: Sizes by name.
        measures: Which way each size is measured.
        citations: By the name of the size that is short; "" for any other.
        permission: Why an intrusion leaves the judgement open instead of not met.
        missing: What is missing to judge at all; nothing can be met while it stands.
        unknown: The sizes that it asks for.
        clear: The reason given where nothing is in the way.
        words: Out of what it is measured, "the front" if not said; and above what
            heights are told, "the floor" if not.
        printed: Required sizes as the rule book prints them, by name.
        unread: Citations of the figures that were not read in any source, by size.
        tier: Which tier of a rack.
        grown: Metres added to every stretch: at its end, and at a start past the face.
        extra: Solids that stand in no list of items: parts of the item itself.
        reach: How far associated items above or below may come past the face.
        reach_printed: That length as the rule book prints it.
        behind: How far behind the face the depth is counted from, metres.
        around: It ends on all sides where the item does: none of them is measured, but
            where a survey says that something ends may be in it or beside it.
        assumed: What was taken for granted, by item.
    """

    requirement: str
    subject: str
    frame: Frame
    width: float
    depth: float
    bottom: float
    top: float
    limit: Limit
    required: Sizes
    measures: Mapping[str, Along]
    citations: Mapping[str, str]
    first: float = 0.0
    last: float = 0.0
    wanted: float = 0.0
    covers: tuple[float, float] | None = None
    as_wide: bool = False
    permission: str = ""
    missing: str = ""
    unknown: tuple[str, ...] = ()
    clear: str = NOTHING_THERE
    words: Mapping[Along, str] = field(default_factory=dict)
    printed: Printed = field(default_factory=dict)
    unread: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    tier: int | None = None
    grown: float = 0.0
    reach: float | None = None
    reach_printed: tuple[str, ...] = ()
    behind: float = 0.0
    around: bool = False
    extra: tuple[Placed, ...] = ()
    assumed: tuple[tuple[str, str], ...] = ()

    @property
    def own_width(self) -> float:
        """The width that it must cover wherever it stands, metres."""
        left, right = self.front
        return right - left

    @property
    def front(self) -> tuple[float, float]:
        """From where to where it covers the front wherever it stands."""
        return self.covers or (self.last, self.first + self.width)

    @property
    def is_narrow(self) -> bool:
        """Whether it stands anywhere before a front that it does not cover."""
        return self.first < self.last and self.last > TOUCH

    def resized(self, by: float) -> Space:
        """Return the space with every measured size larger by ``by`` metres.

        One that ends where the item does grows on all its sides.
        """
        ways = set(self.measures.values())
        across = by if "across" in ways else 0.0
        out = by if "out" in ways else 0.0
        ends = sorted((self.first - across, self.last))
        if self.around:
            return replace(
                self,
                frame=self.frame.moved(-by, -by),
                width=self.width + 2 * by,
                depth=self.depth + 2 * by,
                top=self.top + (by if "up" in ways else 0.0),
                grown=self.grown + 2 * by,
            )
        return replace(
            self,
            width=self.width + across,
            depth=self.depth + out,
            top=self.top + (by if "up" in ways else 0.0),
            first=ends[0],
            last=ends[1],
            grown=self.grown + out,
        )

    def beside(self, by: float) -> Space:
        """Return the same with as much on both sides of the front, where it stands."""
        left, right = self.front
        return replace(
            self.resized(by),
            width=right - left + 2 * by,
            first=left - by,
            last=left - by,
        )


ANY: Final = ""
"""The key of the citation that serves whatever is short."""
