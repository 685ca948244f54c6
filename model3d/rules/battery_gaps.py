"""Gap between battery cells and a wall.

Applies to: every battery rack, on the sides that need no access: left, right and back,
but those from which something is reached (rear, sides).

Measures: from the containers of every tier's cells to the nearest wall or other
structure beside them, over their own height. Where the rack itself touches one, how
much of its shelf's length has free air, as it is stated (free_air).

Breach: a wall, column or other structure nearer to a cell than the figure; a rack that
touches one with less free air than the book asks for.

Exceptions: the rack itself may stand nearer, or touch, where it has that free air.
Without tiers nobody knows where the cells are: a rack that keeps the figure itself is
met, and any other is open.

Source: NEC 480.9(C) in 2014, 480.10(C) since.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures, unread_rules
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.judging.space import ANY, Space, Stretch
from model3d.judging.verdict import judge
from model3d.standing.placed import Front
from model3d.standing.racks import cell_rows
from model3d.wording import sentences
from model3d.wording.said import Named, say
from model3d.working.front import front_of
from model3d.working.sides import PASSIVE, SIDES, WORKED_AT, reached, side_front

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Intrusion, Judgement, Verdict
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed
    from model3d.standing.racks import CellRow

TABLES: Final = ("battery-gap",)
REQUIREMENT: Final = requirement_of(__name__)
_SEVERITY: Final[tuple[Verdict, ...]] = ("met", "open", "not-met")


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the cells of a rack against walls at its sides that need no access."""
    entry = situation.book.entry(TABLES[0])
    if not item.kind.rack or item.front is None or not entry.given:
        return
    gap = _Gap(item, entry, situation)
    own = gap.around(front_of(item), "the rack", "")
    rows = cell_rows(item, situation.scene)
    judged = [
        one
        for number, row in enumerate(rows)
        for one in gap.around(
            _front(row), "the cells", f" of tier {number + 1}" if rows[1:] else ""
        )
    ]
    if own:
        yield _with_free_air(
            _worst(judged) if judged else _without_cells(item, _worst(own)),
            _nearest(own),
            gap,
        )


@dataclass(frozen=True, slots=True)
class _Gap:
    """What is asked around one rack."""

    item: Placed
    entry: Entry
    situation: Situation

    def around(self, front: Front, what: str, tier: str) -> list[Judgement]:
        """Judge a front's other sides, but those from which something is reached."""
        accessed = {
            side for side, word in reached(self.item) if word in {WORKED_AT, PASSIVE}
        }
        return [
            judge(self._beside(side_front(front, side), what, tier), self.situation)
            for side in SIDES
            if side not in accessed
        ]

    def _beside(self, side: Front, what: str, tier: str) -> Space:
        """Return the space that is clear of walls beside a rack or its cells."""
        figure, situation = self.entry.figure("gap"), self.situation
        gap = situation.least(figure)

        def limit(placed: Placed) -> Stretch | None:
            return Stretch(0.0, gap) if placed.kind.structure else None

        return Space(
            requirement=REQUIREMENT,
            subject=self.item.id,
            frame=side.frame,
            width=side.width,
            depth=gap,
            bottom=side.bottom,
            top=side.top,
            limit=limit,
            required={"gap": gap},
            measures={"gap": "out"},
            citations={ANY: self.entry.cite("gap")},
            # Of several tiers all keep the gap, where the worst one does.
            clear=say("No wall is nearer than {} to {}.", situation.told(figure), what),
            words={"out": say("{}{}", what, tier), "up": "their underside"},
            printed={"gap": situation.printed(figure)},
            unread={
                ANY: unread_figures(self.entry, (figure,), situation.measures, "gap")
            },
        )


def _front(row: CellRow) -> Front:
    """Return the front of a tier's containers, as an item has one."""
    ahead = row.frame.moved(0.0, row.depth)
    return Front(ahead, row.width, row.depth, row.shelf, row.top)


def _nearest(judged: list[Judgement]) -> float:
    """Return the smallest gap of all, metres; infinite where no wall is beside."""
    return min(one.provided.get("gap", float("inf")) for one in judged)


def _worst(judged: list[Judgement]) -> Judgement:
    """Return one judgement for all: of the worst verdict the smallest gap is told."""
    ordered = sorted(
        judged,
        key=lambda one: (
            -_SEVERITY.index(one.verdict),
            one.provided.get("gap", float("inf")),
        ),
    )
    # One wall is named once, where it is nearest.
    hits: dict[str, Intrusion] = {}
    for one in ordered:
        for hit in one.intrusions:
            hits.setdefault(hit.item, hit)
    return replace(
        ordered[0],
        intrusions=tuple(hits.values()),
        shapes=tuple(shape for one in judged for shape in one.shapes),
    )


def _without_cells(item: Placed, own: Judgement) -> Judgement:
    """Return what is known of a rack that does not say where its cells stand."""
    if own.verdict == "met":
        return own
    ask = say(
        "Say where the cells of {} stand (tiers): the gap is theirs.", Named(item.id)
    )
    reason = sentences(own.reason, ask)
    return replace(
        own, verdict="open", reason=reason, missing=ask, unknown=("gap",), margin=None
    )


def _with_free_air(judged: Judgement, nearest: float, gap: _Gap) -> Judgement:
    """Return the judgement of a rack that may touch a wall itself."""
    entry, situation = gap.entry, gap.situation
    touches = nearest <= TOUCH
    if judged.verdict == "not-met" or nearest > max(TOUCH, situation.survey_tolerance):
        return judged
    share = entry.number("free_air")
    needed = f"free air for {share:g} percent of its shelf's length"
    unread = unread_rules(entry, "free_air")
    judged = replace(judged, unread=tuple(dict.fromkeys(judged.unread + unread)))
    written = gap.item.item
    free = None if written is None else written.free_air
    if free is None:
        ask = say(
            "{} touches a wall, which it may with {}: say how much it has (free_air).",
            Named(gap.item.id),
            needed,
        )
        parts = [ask] if judged.verdict == "met" else [judged.reason, ask]
        missing = sentences(judged.missing, ask)
        return replace(
            judged, verdict="open", reason=sentences(*parts), missing=missing
        )
    has = f"{free * 100:g} percent"
    if free >= share / 100:
        excepted = say("The rack may touch the wall with {}: it has {}.", needed, has)
        return replace(
            judged,
            reason=sentences(judged.reason, excepted),
            exception=f"{entry.cite('free_air')} (a rack that touches the wall)"
            if judged.verdict == "met"
            else "",
        )
    reason = say(
        "{} touches a wall, which it may with {}: it has {}.",
        Named(gap.item.id),
        needed,
        has,
    )
    if not touches:
        length = situation.length(nearest)
        far = say("It stands {} from a wall: measure whether it touches.", length)
        ask = sentences(far, reason)
        return replace(judged, verdict="open", reason=ask, missing=ask, unknown=())
    return replace(
        judged,
        verdict="not-met",
        citation=entry.cite("free_air"),
        reason=reason,
        missing="",
        unknown=(),
        required={},
        printed={},
        margin=None,
    )
