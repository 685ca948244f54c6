"""A way out as a ribbon of the width that is asked for, and where it is narrowest."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.wording import lengths
from viewer.figure import pens
from viewer.figure.axes import NORTH_UP
from viewer.figure.drawing import Dimension, Figure, Line
from viewer.figure.leaf_drawing import turned_leaf
from viewer.figure.pane import Pane
from viewer.figure.paper import Label, Paper, at_point
from viewer.figure.room_plan import below, bounds, draw_room, write_names
from viewer.figure.scale import fitting
from viewer.figure.subject import arrangement_of, subject_of
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError
from viewer.wording.sizes import required_words
from viewer.wording.words import requirement_words, units_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from model3d import Judgement, Report
    from viewer.figure.convex import Points
    from viewer.figure.drawing import Spot

_HIGH: Final = 120.0
"""Millimetres of height that a way's plan takes at most."""
_BELOW: Final = 27.0
_MARGIN: Final = 8.0
_ROUND: Final = 12
"""Corners of the round end of a piece of ribbon."""


def way_figures(
    report: Report, subject: str, width: float, *, met: bool = False
) -> Iterator[Figure]:
    """Yield the ways out of an item's working space, those that are in question.

    Args:
        report: What the check answered.
        subject: Id of the item.
        width: Of the paper, millimetres.
        met: Those that are met too.
    """
    drawn: set[tuple[Spot, ...]] = set()
    for one in report.judgements:
        if one.subject != subject or one.way is None:
            continue
        if (one.verdict == "met" and not met) or one.way.points in drawn:
            continue
        drawn.add(one.way.points)
        yield way_figure(report, one, width)


def way_of(report: Report, item: str) -> Callable[[float, float], Figure]:
    """Return what draws the way out of an item's working space, the worst one.

    Raises:
        UnusableError: No way was looked for, or none was found.
    """
    order = {"not-met": 0, "open": 1, "met": 2}
    found = [one for one in report.judgements if one.subject == item and one.way]
    if not found:
        words = f"no way out of {item} was found that could be drawn"
        raise UnusableError([f"standclear: {words}"])
    worst = min(found, key=lambda one: order[one.verdict])
    return lambda width, height: way_figure(report, worst, width, height)


def way_figure(
    report: Report, judgement: Judgement, width: float, height: float = _HIGH
) -> Figure:
    """Draw the way out that a judgement found.

    Raises:
        ValueError: The judgement has no way.
    """
    way = judgement.way
    if way is None:
        msg = f"{judgement.subject} has no way out to be drawn"
        raise ValueError(msg)
    arrangement, units = arrangement_of(report), units_of(report)
    low, high = bounds(arrangement)
    scale = fitting(
        units,
        lambda scale: (
            (high[0] - low[0]) * 1000 / scale <= width - 2 * _MARGIN
            and (high[1] - low[1]) * 1000 / scale <= height - _BELOW - _MARGIN
        ),
    )
    deep = round((high[1] - low[1]) * 1000 / scale + 4.0, 3)
    left = round((width - (high[0] - low[0]) * 1000 / scale) / 2, 3)
    pane = Pane(NORTH_UP, low, high, scale, left, 2.0, (0.0, 0.0, width, deep))
    paper = Paper(width, round(deep + _BELOW, 3))
    _ribbon(paper, pane, judgement)
    draw_room(paper, pane, report, spaces=False)
    _open_leaves(paper, pane, report)
    paper.put(Line(pens.WAY, pane.spots(np.array(way.points))))
    _narrowest(paper, pane, judgement, units)
    write_names(paper, pane, report)
    title = f"Way out of {judgement.subject} to {way.door}"
    below(paper, pane, units, clean(title, 60))
    paper.settle()
    about = f"{title}, in plan. {requirement_words(judgement.requirement)}: "
    return Figure(
        title,
        clean(about + judgement.reason),
        paper.width,
        paper.height,
        scale,
        tuple(paper.marks),
    )


def _ribbon(paper: Paper, pane: Pane, judgement: Judgement) -> None:
    """Fill a way as wide as is asked for; its pieces overlap at the bends."""
    assert judgement.way is not None  # noqa: S101 - the caller asks
    half = judgement.required.get("width", judgement.way.narrowest) / 2
    points = np.array(judgement.way.points)
    for one, after in pairwise(points):
        pane.area(paper, pens.WAY, _piece(one, after, half))


def _piece(one: Points, after: Points, half: float) -> Points:
    """Return a piece of ribbon with round ends, counter-clockwise."""
    turn = math.atan2(after[1] - one[1], after[0] - one[0])
    ends = []
    for middle, start in ((after, turn - math.pi / 2), (one, turn + math.pi / 2)):
        angles = np.linspace(start, start + math.pi, _ROUND)
        ends.append(middle + half * np.column_stack([np.cos(angles), np.sin(angles)]))
    return np.concatenate(ends)


def _open_leaves(paper: Paper, pane: Pane, report: Report) -> None:
    """Draw equipment doors open at a right angle, or as far as they go."""
    for name in arrangement_of(report).items:
        subject = subject_of(report, name)
        if subject is None or not subject.placed.live:
            continue
        for leaf, reached, needed in subject.leaves():
            turned_leaf(paper, pane, leaf, reached, needed, words=False)


def _narrowest(paper: Paper, pane: Pane, judgement: Judgement, units: str) -> None:
    """Draw the width of a way where it is least, across it."""
    way = judgement.way
    assert way is not None  # noqa: S101 - the caller asks
    if not math.isfinite(way.narrowest):
        return
    along = _direction(way.points, way.at)
    half = way.narrowest / 2
    across = (-along[1] * half, along[0] * half)
    one = (way.at[0] - across[0], way.at[1] - across[1])
    other_end = (way.at[0] + across[0], way.at[1] + across[1])
    a, b = pane.at(*one), pane.at(*other_end)
    mark = Dimension(pens.NARROWEST, a, b, (a, b), way.narrowest, pane.scale)
    own, other = lengths(way.narrowest, units)
    lines = [f"narrowest: {own}", f"({other})"]
    if "width" in judgement.required:
        lines.append(f"of {required_words(judgement, 'width', units)}")
    label = Label(
        tuple(lines),
        at_point(pane.at(*way.at)),
        pane.room,
        layer=pens.NARROWEST,
        bold=len(lines) if judgement.verdict == "not-met" else 1,
    )
    paper.dimension(mark, label)


def _direction(points: tuple[Spot, ...], at: Spot) -> Spot:
    """Return the way a route runs where it is nearest to a point."""

    def away(one: Spot, after: Spot) -> float:
        step = (after[0] - one[0], after[1] - one[1])
        size = step[0] ** 2 + step[1] ** 2
        share = (at[0] - one[0]) * step[0] + (at[1] - one[1]) * step[1]
        share = min(max(share / size, 0.0), 1.0) if size else 0.0
        near = (one[0] + share * step[0], one[1] + share * step[1])
        return math.dist(near, at)

    pairs = [
        (one, after) for one, after in pairwise(points) if math.dist(one, after) > 0
    ]
    if not pairs:
        return (1.0, 0.0)
    one, after = min(pairs, key=lambda pair: round(away(*pair), 6))
    length = math.dist(one, after)
    return ((after[0] - one[0]) / length, (after[1] - one[1]) / length)
