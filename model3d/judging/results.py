"""What a check answers: frozen records that every face only reads.

Every length in these records is in metres. Only ``Report.document`` and ``Report.json``
give the contract's millimetres, rounded once, so that the same scene gives the same
bytes.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final, Literal

from model3d.judging.rows import rows
from model3d.notebook import html_table
from model3d.wording import CAUTION, part_words

if TYPE_CHECKING:
    from model3d.geometry.frame import Frame, Triple
    from model3d.geometry.solid import Body
    from model3d.geometry.sweep import Sweep
    from model3d.judging.rows import Row
    from model3d.standing.arrangement import Arrangement

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


@dataclass(frozen=True, slots=True)
class Intrusion:
    """A solid that stands in a space that must be clear; lengths in metres.

    Attributes:
        item: Id of the solid.
        volume: Of the part inside the space, cubic metres; None for an open mesh.
        low, high: Bounds of that part in the world, metres.
        reach: How far an associated item above or below comes past the front, metres.
        allowed: How far it may come, metres, where it has a reach.
        part: Which part of the subject it is, where the subject is in its own way: "its
            upper shelf".
        body: That part's surface, to be drawn.
    """

    item: str
    volume: float | None
    low: Triple
    high: Triple
    reach: float | None = None
    allowed: float | None = None
    part: str = ""
    body: Body | None = field(default=None, repr=False, compare=False)


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
    """

    door: str
    points: tuple[tuple[float, float], ...]
    narrowest: float
    at: tuple[float, float]
    leaves: tuple[OpenDoor, ...] = field(default=(), repr=False, compare=False)
    between: tuple[str, ...] = field(default=(), repr=False, compare=False)


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
    way: Way | None = None
    dead_end: Way | None = field(default=None, repr=False, compare=False)
    firm: bool = field(default=False, repr=False, compare=False)

    def __repr__(self) -> str:
        part = part_words(self.leaf, self.tier, self.side)
        what = f"{self.subject} {self.requirement}{f' {part}' if part else ''}"
        return f"<{what}: {self.verdict}>"


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something that was not said and was taken for granted."""

    item: str
    what: str


@dataclass(frozen=True, slots=True)
class Report:
    """All judgements of one scene; lengths in metres, in ``document`` in millimetres.

    Attributes:
        scene: Title of the scene.
        file: The scene's file, or "".
        rules: Id of the rule book.
        judgements: In a stable order: by subject, requirement, leaf, tier and side.
        assumed: What was taken for granted.
        unread: Citations of what decides here and was not read in any source: to be
            verified against the adopted code.
        no_place: Ids of the items that have no place yet: they are not judged, and in
            nobody's way.
        arrangement: The scene as it was judged, for what draws it.
    """

    scene: str
    file: str
    rules: str
    judgements: tuple[Judgement, ...]
    assumed: tuple[Assumption, ...] = ()
    unread: tuple[str, ...] = ()
    no_place: tuple[str, ...] = ()
    arrangement: Arrangement | None = field(default=None, repr=False, compare=False)

    def __repr__(self) -> str:
        return f"<Report {self.scene!r} ({self.rules}): {self._told_counts}>"

    def _repr_html_(self) -> str:
        columns = "subject requirement part verdict measure required provided margin"
        names = (*columns.split(), "reason")
        order = {"not-met": 0, "open": 1, "met": 2}
        table = sorted(self.table(), key=lambda row: order[str(row["verdict"])])
        title = f"{self.scene} ({self.rules}): {self._told_counts}; lengths in mm"
        rows_told = [[row[name] for name in names] for row in table]
        notes = [
            f"{item} has no place yet: it is not judged." for item in self.no_place
        ]
        return html_table(title, names, rows_told, (*notes, *CAUTION))

    @property
    def _told_counts(self) -> str:
        return ", ".join(f"{count} {verdict}" for verdict, count in self.counts.items())

    @property
    def counts(self) -> dict[Verdict, int]:
        """How many judgements there are of each verdict."""
        found = Counter(judgement.verdict for judgement in self.judgements)
        return {verdict: found[verdict] for verdict in VERDICTS}

    @property
    def passed(self) -> bool:
        """Whether nothing is not met."""
        return not self.counts["not-met"]

    def of(self, subject: str, requirement: str | None = None) -> tuple[Judgement, ...]:
        """Return the judgements of one subject, of all requirements or of one."""
        return tuple(
            judgement
            for judgement in self.judgements
            if judgement.subject == subject
            and requirement in (None, judgement.requirement)
        )

    def document(self) -> dict[str, Any]:
        """Return the contract's JSON document, lengths in millimetres."""
        found: dict[str, Any] = {
            "format": 1,
            "scene": self.scene,
            "file": self.file,
            "rules": self.rules,
            "counts": self.counts,
            "judgements": [_judgement(judgement) for judgement in self.judgements],
            "assumed": [{"item": a.item, "what": a.what} for a in self.assumed],
        }
        if self.unread:
            found["unread"] = list(self.unread)
        if self.no_place:
            found["no_place"] = list(self.no_place)
        return found

    def table(self) -> list[Row]:
        """Return a plain row a judgement, ready for a data frame.

        The columns are those of ``check --format csv``; lengths are millimetres.
        """
        return rows(self.document())

    def json(self, *, indent: int | None = None) -> str:
        """Return the document as JSON text: the same bytes for the same scene."""
        return json.dumps(self.document(), ensure_ascii=False, indent=indent)


def _judgement(judgement: Judgement) -> dict[str, Any]:
    found: dict[str, Any] = {
        "requirement": judgement.requirement,
        "subject": judgement.subject,
        "leaf": judgement.leaf,
        "tier": judgement.tier,
        "side": judgement.side,
        "verdict": judgement.verdict,
        "citation": judgement.citation,
        "required": _sizes(judgement.required),
        "printed": {name: list(texts) for name, texts in judgement.printed.items()},
        "provided": _sizes(judgement.provided),
        "limit": dict(judgement.limit),
        "margin": _margin(judgement),
        "condition": judgement.condition,
        "place": None if judgement.place is None else _mm(judgement.place),
        "reason": judgement.reason,
        "exception": judgement.exception or None,
    }
    kept = {key: value for key, value in found.items() if value not in (None, {})}
    if judgement.intrusions:
        kept["intrusions"] = [_intrusion(one) for one in judgement.intrusions]
    if judgement.way is not None:
        kept["way"] = _way(judgement.way)
    return kept


def _way(way: Way) -> dict[str, Any]:
    return {
        "door": way.door,
        "points": [[_mm(x), _mm(y)] for x, y in way.points],
        "narrowest": _mm(way.narrowest),
        "at": [_mm(value) for value in way.at],
    }


def _intrusion(intrusion: Intrusion) -> dict[str, Any]:
    found: dict[str, Any] = {
        "item": intrusion.item,
        "part": intrusion.part or None,
        "volume": None
        if intrusion.volume is None
        else _zero(round(intrusion.volume, 7)),
        "low": [_mm(value) for value in intrusion.low],
        "high": [_mm(value) for value in intrusion.high],
        "reach": None if intrusion.reach is None else _mm(intrusion.reach),
    }
    return {key: value for key, value in found.items() if value is not None}


def _margin(judgement: Judgement) -> float | None:
    if judgement.margin is None:
        return None
    if ANGLE in judgement.required:
        return _zero(round(judgement.margin, 2))
    return _mm(judgement.margin)


def _sizes(sizes: Sizes) -> dict[str, float]:
    return {
        name: _zero(round(value, 2)) if name == ANGLE else _mm(value)
        for name, value in sizes.items()
    }


def _mm(metres: float) -> float:
    """Return millimetres to the hundredth: finer than any tolerance, free of noise."""
    return _zero(round(metres * 1000, 2))


def _zero(value: float) -> float:
    """Return the value, without the sign that rounding may leave on a zero."""
    return value + 0.0
