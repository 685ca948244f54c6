"""Names on the plan of a room, and what is not met or open there."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting.labels.label import FigureLabel
from viewer.figure.item.names import box_in
from viewer.figure.things.room_leaves import room_leaves
from viewer.figure.things.scenery import pieces
from viewer.figure.things.sight import ALL
from viewer.figure.things.subject import arrangement_of
from viewer.stage.layers import ROOM
from viewer.stage.looking.names import shortened
from viewer.wording.words import WORDS

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from model3d import Judgement, Report
    from model3d.judging.results import Verdict
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.drafting.strokes import Box
    from viewer.figure.things.scenery import SceneryPiece
    from viewer.figure.things.sight import Showing

_HEAD: Final = 2.0
"""Metres."""
_LAST: Final = 3
"""Rank of what has the least need of its name."""
_PARTS: Final = ((0.5, 0.5), (0.5, 0.75), (0.5, 0.25), (0.25, 0.5), (0.75, 0.5))
"""Where in a thing its name may stand, as shares of its width and depth."""
_CROWD: Final = 16
"""More subjects than this that are not met or open are told by heavy names alone."""
_SIDE_BY_SIDE: Final = 3
"""More sections of one line-up likewise."""


def write_names(
    paper: Paper,
    pane: Pane,
    report: Report,
    of: Collection[str] = (),
    sight: Showing = ALL,
) -> None:
    """Write the names: what is not met first, then gear and doors, then the rest.

    Args:
        paper: Where they are written.
        pane: The plan.
        report: What the check answered.
        of: What the plan is about alone, where it is not about all: names only.
        sight: What of the room is shown.
    """
    arrangement = arrangement_of(report)
    told = verdicts(report.judgements)
    if of:
        told = {name: "open" for name in of if name in told}
    crowded = bool(of) or is_crowded(told, report)
    wrong = {
        hit.item
        for one in report.judgements
        if one.verdict == "not-met"
        for hit in one.intrusions
    }
    found = pieces(arrangement, pane.axes, (pane.low, pane.high))
    order = sorted(found, key=lambda one: (_rank(one, told, wrong), one.placed.id))
    order = [one for one in order if sight.shows_thing(one.placed)]
    others = [box_in(pane, one) for one in order if not is_overhead(one)]
    for one in order:
        _name(paper, pane, (one, others), told, crowded=crowded)
    for leaf in room_leaves(arrangement):
        middle = np.array([(leaf.radius / 2, leaf.radius / 2, 0.0)])
        x, y, _ = pane.axes.seen(leaf.frame.world(middle))[0]
        if not sight.shows(ROOM) or not pane.holds((x, y)):
            continue
        words = () if of else _verdict_words(told, leaf.door.id)
        lines = (shortened(leaf.door.id), *words)
        _at(paper, pane, (float(x), float(y)), lines)


def is_overhead(one: SceneryPiece) -> bool:
    """Tell whether a thing hangs wholly above people's heads.

    Live gear is worked at wherever it hangs.
    """
    return one.far >= _HEAD and not one.placed.live


def _at(paper: Paper, pane: Pane, point: Spot, lines: tuple[str, ...]) -> None:
    spot = pane.at(*point)
    box = (*spot, *spot)
    paper.label(FigureLabel(lines, box, pane.room, bold=len(lines) > 1, inside=(spot,)))


def _rank(one: SceneryPiece, told: Mapping[str, Verdict], wrong: set[str]) -> int:
    if told.get(one.placed.id, "met") != "met":
        return 0
    if one.placed.live:
        return 1
    return 2 if one.placed.id in wrong else _LAST


def _name(
    paper: Paper,
    pane: Pane,
    among: tuple[SceneryPiece, Sequence[Box]],
    told: Mapping[str, Verdict],
    *,
    crowded: bool,
) -> None:
    """Write a name; in a crowded room heavy letters alone say that it is not met.

    Args:
        paper: Where it is written.
        pane: The plan.
        among: The thing, and the boxes of all that stand there.
        told: The worst verdict of each.
        crowded: Whether there is no room for more than names.
    """
    one, others = among
    box = left, top, right, bottom = box_in(pane, one)
    # Where something crosses the middle, the name stands in another part of the thing.
    spots = tuple(
        (left + east * (right - left), top + south * (bottom - top))
        for east, south in _PARTS
    )
    overhead = is_overhead(one)
    name = shortened(one.placed.id)
    # Else its name would be taken for that of what it hangs over.
    words = _verdict_words(told, one.placed.id)
    lines = (f"{name} overhead" if overhead else name, *(() if crowded else words))
    label = FigureLabel(
        lines,
        box,
        pane.room,
        bold=int(bool(words)),
        inside=() if overhead else spots,
        needed=bool(words),
        others=others,
    )
    paper.label(label)


def is_crowded(told: Mapping[str, Verdict], report: Report) -> bool:
    """Tell whether so much is not met or open that words have no room beside it.

    Sections of one line-up have none between them, though they are few.
    """
    some = {name for name, verdict in told.items() if verdict != "met"}
    items = arrangement_of(report).scene.items
    joined = Counter(one.line_up for one in items if one.id in some and one.line_up)
    return len(some) > _CROWD or max(joined.values(), default=0) > _SIDE_BY_SIDE


def _verdict_words(told: Mapping[str, Verdict], item: str) -> tuple[str, ...]:
    verdict = told.get(item, "met")
    return () if verdict == "met" else (WORDS[verdict],)


def verdicts(judgements: Iterable[Judgement]) -> dict[str, Verdict]:
    """Return the worst verdict of every subject."""
    order: dict[Verdict, int] = {"not-met": 0, "open": 1, "met": 2}
    found: defaultdict[str, list[Verdict]] = defaultdict(list)
    for one in judgements:
        found[one.subject].append(one.verdict)
    return {name: min(all_, key=order.__getitem__) for name, all_ in found.items()}
