"""What a check answers: frozen records that every face only reads.

Every length in these records is in metres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, Literal, Protocol

from model3d.geometry.overlap.shared import Body
from model3d.wording import part_words

if TYPE_CHECKING:
    from model3d.geometry.frame import Frame, Triple
    from model3d.geometry.sweep import Sweep

Verdict = Literal["met", "not-met", "open"]
VERDICTS: Final[tuple[Verdict, ...]] = ("met", "not-met", "open")

Sizes = Mapping[str, float]
"""Sizes by name: depth, width, height, clearance, gap in metres, angle in degrees."""

Printed = Mapping[str, tuple[str, ...]]
"""Required sizes as the book prints them, by name: the scene's own system first."""

Bound = Literal["at-most"]
"""Which way a limit goes, where it is a greatest figure and not a least one."""

ANGLE: Final = "angle"
"""The one size that is no length."""

ROOM: Final = "room"
"""The subject of a judgement on the room as a whole."""


class Shared(Protocol):
    """The part of a solid that is inside a space."""

    @property
    def volume(self) -> float | None:
        """Cubic metres; None for an open mesh."""

    @property
    def low(self) -> Triple:
        """Lowest corner in the world, metres."""

    @property
    def high(self) -> Triple:
        """Highest corner in the world, metres."""


@dataclass(frozen=True, slots=True, eq=False)
class Intrusion:
    """A solid that stands in a space that must be clear; lengths in metres.

    Attributes:
        item: Id of the solid.
        shared: The part of it that is inside the space; worked out once it is asked.
        reach: How far an associated item above or below comes past the front, metres.
        allowed: How far it may come, metres, where it has a reach.
        part: Which part of the subject it is, where the subject is in its own way: "its
            upper shelf".
    """

    item: str
    shared: Shared = field(repr=False)
    reach: float | None = None
    allowed: float | None = None
    part: str = ""

    @property
    def volume(self) -> float | None:
        """Of the part inside the space, cubic metres; None for an open mesh."""
        return self.shared.volume

    @property
    def low(self) -> Triple:
        """Lowest corner of that part in the world, metres."""
        return self.shared.low

    @property
    def high(self) -> Triple:
        """Highest corner of that part in the world, metres."""
        return self.shared.high

    @property
    def body(self) -> Body | None:
        """That part with its surface, to be drawn."""
        return self.shared if isinstance(self.shared, Body) else None

    def is_drawn_as(self, other: Intrusion) -> bool:
        """Tell whether another one is for certain the same part of the same solid."""
        body = self.body
        return body is not None and body.is_drawn_as(other.body)

    def __eq__(self, other: object) -> bool:
        """Tell whether all that is told of another one is the same."""
        return isinstance(other, Intrusion) and self._told() == other._told()

    def __hash__(self) -> int:
        """Return the same for what is equal."""
        return hash((self.item, self.part))

    def _told(self) -> tuple[object, ...]:
        size = (self.volume, self.low, self.high)
        return (self.item, *size, self.reach, self.allowed, self.part)


@dataclass(frozen=True, slots=True)
class ClearBox:
    """A box that must be clear, where it was tested.

    Attributes:
        frame: Right, out and up of the box.
        low, high: Its corners in the frame, metres.
    """

    frame: Frame
    low: Triple
    high: Triple


@dataclass(frozen=True, slots=True)
class SizeLine:
    """Where a size was measured that belongs to no space; as long as the size.

    Attributes:
        frame: Right, out and up.
        start: Where it begins, in the frame, metres.
        axis: Along which axis of the frame it runs: 0 right, 1 out, 2 up.
    """

    frame: Frame
    start: Triple
    axis: int


@dataclass(frozen=True, slots=True)
class OpenDoor:
    """A leaf of equipment that was taken as open; points of the plan, metres.

    Attributes:
        item: Id of the item it hangs on.
        hinge: Where it hangs.
        shut, tip: Where its free edge is when it is shut, and where it was taken to be.
    """

    item: str
    hinge: tuple[float, float]
    shut: tuple[float, float]
    tip: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Way:
    """A way out that was found in plan; lengths in metres.

    Attributes:
        door: Id of the door or of the open side it leads to; "open ground" where the
            place has no bounds.
        points: From the working space to the exit, plan points in metres.
        narrowest: Width where it is narrowest, metres.
        at: Where that is, in plan.
        leaves: The equipment doors that were taken as open, to be drawn.
        between: Names of what it is narrowest between, or of the exit itself; nothing
            where that is where the person stands at first.
        lowest_at: Where it is lowest: a spot on what one goes on there; None where
            that is not known.
    """

    door: str
    points: tuple[tuple[float, float], ...]
    narrowest: float
    at: tuple[float, float]
    leaves: tuple[OpenDoor, ...] = field(default=(), repr=False, compare=False)
    between: tuple[str, ...] = field(default=(), repr=False, compare=False)
    lowest_at: Triple | None = field(default=None, repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class Judgement:
    """One requirement applied to one subject; lengths in metres, angles in degrees.

    Attributes:
        requirement: The rule's name.
        subject: Id of the item judged.
        verdict: met, not-met, or open where something is missing.
        citation: Of the sentence that decides.
        reason: Why, in a sentence or two.
        missing: What would have to be said or decided, where it is open.
        unknown: The sizes that ``missing`` asks for: what is required or provided of
            them is no more than a bound.
        instead: What was measured where a size of ``unknown`` was not: "its top".
        exception: The exception it rests on, cited and named: "NEC 2023 110.26(A)(3)
            Exception No. 2: existing dwellings"; "" where it rests on none.
        short: The size that the citation is about: one of ``required``, or reach.
        required, provided: Sizes by name.
        printed: The required sizes that the rule book prints, as it prints them.
        limit: Which of the required sizes are greatest figures.
        margin: Met: the smallest of what is left over. Not met: the least amount whose
            gain would put it right, as a negative number.
        condition: Of the depth table, where it has one.
        leaf: Which leaf of the front, from 0.
        tier: Which tier of a rack, 0 is the lowest.
        side: Which side of the item is meant: rear, left, right, front or above.
        place: From the item's left side to the space's left side, metres.
        intrusions: What is in the way.
        assumed: What was taken for granted about the subject.
        unread: Citations of what decides and was not read in any source.
        shapes: The spaces tested, to be drawn.
        line: Where ``short`` was measured, to be drawn, where no space says so.
        way: The way out that was found.
        dead_end: Where no way was found, the one as near to an exit as somebody gets,
            to be drawn.
        firm: Something is in the way by more than the figures of two systems differ.
        whole: Where only the reach is told, the sizes that the space itself must have.
    """

    requirement: str
    subject: str
    verdict: Verdict
    citation: str
    reason: str
    missing: str = ""
    exception: str = ""
    short: str = ""
    required: Sizes = field(default_factory=dict)
    provided: Sizes = field(default_factory=dict)
    printed: Printed = field(default_factory=dict)
    limit: Mapping[str, Bound] = field(default_factory=dict)
    margin: float | None = None
    condition: int | None = None
    leaf: int | None = None
    tier: int | None = None
    side: str | None = None
    place: float | None = None
    intrusions: tuple[Intrusion, ...] = ()
    assumed: tuple[tuple[str, str], ...] = ()
    unread: tuple[str, ...] = ()
    shapes: tuple[ClearBox | Sweep, ...] = field(default=(), repr=False, compare=False)
    line: SizeLine | None = field(default=None, repr=False, compare=False)
    unknown: tuple[str, ...] = field(default=(), repr=False, compare=False)
    instead: Mapping[str, str] = field(default_factory=dict, repr=False, compare=False)
    way: Way | None = None
    dead_end: Way | None = field(default=None, repr=False, compare=False)
    firm: bool = field(default=False, repr=False, compare=False)
    whole: Sizes = field(default_factory=dict, repr=False, compare=False)

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from all other judgements of a scene."""
        return self.requirement, self.subject, self.leaf, self.tier, self.side

    def __repr__(self) -> str:
        part = part_words(self.leaf, self.tier, self.side)
        what = f"{self.subject} {self.requirement}{f' {part}' if part else ''}"
        return f"<{what}: {self.verdict}>"
