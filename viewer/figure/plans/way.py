"""A way out as a ribbon of the width that is asked for, and where it is narrowest."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.wording import bracketed, lengths
from viewer.figure.drafting import pens
from viewer.figure.drafting.axes import NORTH_UP
from viewer.figure.drafting.drawing import Arc, DimensionLine, Figure, Line
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.drafting.pane import Pane
from viewer.figure.drafting.paper import Paper
from viewer.figure.drafting.scale import fitting
from viewer.figure.lettering.notes import complete
from viewer.figure.plans.drawn_room import draw_room
from viewer.figure.plans.names import write_names
from viewer.figure.plans.ribbon import ribbon_of
from viewer.figure.plans.room import below
from viewer.figure.plans.window import bounds
from viewer.figure.things.subject import arrangement_of
from viewer.stage.looking.names import shortened
from viewer.wording.cleaning import clean
from viewer.wording.sizes import LEVEL, required_words
from viewer.wording.words import requirement_words, units_of

if TYPE_CHECKING:
    from model3d import Judgement, Report
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.plans.ribbon import Ribbon

_SECOND: Final = "second-entrance"
_HIGH: Final = 120.0
"""Millimetres of height that a way's plan takes at most."""
_BELOW: Final = 27.0
_MARGIN: Final = 8.0
_CROSS: Final = 1.0
"""Half the side of the cross where a way is lowest, millimetres."""


def way_figure(
    report: Report,
    judgement: Judgement,
    width: float,
    height: float = _HIGH,
    coarsest: float = 0.0,
) -> Figure:
    """Draw the way out that a judgement found.

    Args:
        report: What the check answered.
        judgement: It has a way.
        width: Of the paper, millimetres.
        height: Of the paper, millimetres.
        coarsest: A scale that others on the same sheet need.

    Raises:
        ValueError: The judgement has no way.
    """
    way = judgement.way
    if way is None:
        msg = f"{judgement.subject} has no way out to be drawn"
        raise ValueError(msg)
    title = f"Way out of {judgement.subject} to {way.door}"
    if judgement.requirement == _SECOND:
        asked = requirement_words(_SECOND)
        title = f"{asked}: way out of {judgement.subject} to {way.door}"
    wide = judgement.required.get("width", way.narrowest)
    tall = judgement.required.get("height", math.inf)
    ribbon = ribbon_of(way, wide, tall, arrangement_of(report))
    paper, scale = complete(
        lambda high, more: _drawn(
            report, judgement, ribbon, title, (width, high), more, coarsest
        ),
        height,
    )
    about = f"{title}, in plan. {requirement_words(judgement.requirement)}: "
    return Figure(
        title,
        clean(about + judgement.reason),
        paper.width,
        paper.height,
        scale,
        tuple(paper.marks),
    )


def _drawn(
    report: Report,
    judgement: Judgement,
    ribbon: Ribbon,
    title: str,
    size: tuple[float, float],
    more: float,
    coarsest: float,
) -> tuple[Paper, float]:
    """Draw a way; ``more`` is room beside the plan for words, millimetres."""
    arrangement, units = arrangement_of(report), units_of(report)
    low, high = bounds(arrangement)
    width, height = size
    scale = fitting(
        units,
        lambda scale: (
            scale >= coarsest
            and (high[0] - low[0]) * 1000 / scale <= width - 2 * (_MARGIN + more)
            and (high[1] - low[1]) * 1000 / scale
            <= height - _BELOW - _MARGIN - 2 * more
        ),
    )
    deep = round((high[1] - low[1]) * 1000 / scale + 4.0 + 2 * more, 3)
    left = round((width - (high[0] - low[0]) * 1000 / scale) / 2, 3)
    pane = Pane(NORTH_UP, low, high, scale, left, 2.0 + more, (0.0, 0.0, width, deep))
    paper = Paper(width, round(deep + _BELOW, 3))
    for piece in ribbon.pieces:
        pane.area(paper, pens.WAY, piece)
    draw_room(paper, pane, report, spaces=False)
    for piece in ribbon.short:
        pane.hatch(paper, pens.LACKING, piece)
    open_ = _open_leaves(paper, pane, judgement)
    route, way = ribbon.route, judgement.way
    assert way is not None  # noqa: S101 - the caller asks
    pane.lines(paper, pens.WAY, np.stack([route[:-1], route[1:]], axis=1))
    _no_other(paper, pane, judgement)
    _narrowest(paper, pane, judgement, units)
    _lowest(paper, pane, judgement, units)
    write_names(paper, pane, report, (judgement.subject, *way.between))
    doors = "gear doors open as drawn" if open_ else "gear doors shut"
    headroom = _low(judgement, units)
    told = f"{clean(title, 60)}, {doors}"
    if headroom:
        told += f", no higher than {headroom}"
    below(paper, pane, units, told)
    paper.settle()
    return paper, scale


def _open_leaves(paper: Paper, pane: Pane, judgement: Judgement) -> bool:
    """Draw the equipment doors that were taken as open; tell whether there are any."""
    assert judgement.way is not None  # noqa: S101 - the caller asks
    for leaf in judgement.way.leaves:
        hinge, shut, tip = (pane.at(*one) for one in (leaf.hinge, leaf.shut, leaf.tip))
        closed, stands = (
            math.degrees(math.atan2(hinge[1] - one[1], one[0] - hinge[0]))
            for one in (shut, tip)
        )
        # Whichever way round the paper shows it, an arc runs counter-clockwise.
        swing = (stands - closed + 180.0) % 360.0 - 180.0
        start = round(min(closed, closed + swing), 3)
        radius = round(math.dist(hinge, shut), 3)
        end = round(start + abs(swing), 3)
        paper.put(
            Line(pens.LEAF, (hinge, tip)), Arc(pens.SWING, hinge, radius, start, end)
        )
    return bool(judgement.way.leaves)


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
    mark = DimensionLine(pens.NARROWEST, a, b, (a, b), way.narrowest, pane.scale)
    own, other = lengths(way.narrowest, units, judgement.required.get("width"))
    lines = [f"narrowest {own} ({other})"]
    asked = judgement.required.get("width", math.inf)
    narrow = way.narrowest < asked
    told = required_words(judgement, "width", units) if math.isfinite(asked) else ""
    if narrow and told:
        lines.append(f"of {told}")
    if way.between:
        lines.append(_bounds(way.between))
    if told and not narrow:
        lines[-1] += ","
        lines.append(f"wide enough for {told}")
    label = FigureLabel(
        tuple(lines),
        at_point(pane.at(*way.at)),
        pane.room,
        layer=pens.NARROWEST,
        bold=len(lines) if judgement.verdict == "not-met" else 1,
        about="way out",
    )
    paper.dimension(mark, label if narrow else replace(label, bold=0))


def _no_other(paper: Paper, pane: Pane, judgement: Judgement) -> None:
    """Say where a way begins that it is the only one, if a second is asked for.

    Where a second one leaves there, be it too narrow, its width is provided.
    """
    way = judgement.way
    assert way is not None  # noqa: S101 - the caller asks
    if judgement.requirement == _SECOND and "width" not in judgement.provided:
        start = at_point(pane.at(*way.points[0]))
        words = ("no second way from here",)
        paper.label(FigureLabel(words, start, pane.room, layer=pens.NARROWEST, bold=1))


def _lowest(paper: Paper, pane: Pane, judgement: Judgement, units: str) -> None:
    """Mark where a way is lowest, if it is lower than is asked for, and say how low."""
    there, way = _low(judgement, units), judgement.way
    if not there or way is None or way.lowest_at is None:
        return
    x, y = pane.at(*way.lowest_at[:2])
    for rise in (-_CROSS, _CROSS):
        ends = ((x - _CROSS, round(y - rise, 3)), (x + _CROSS, round(y + rise, 3)))
        paper.put(Line(pens.NARROWEST, ends))
    lines = (f"lowest {there}", f"of {required_words(judgement, 'height', units)}")
    label = FigureLabel(
        lines,
        (x - _CROSS, y - _CROSS, x + _CROSS, y + _CROSS),
        pane.room,
        layer=pens.NARROWEST,
        bold=len(lines) if judgement.verdict == "not-met" else 1,
        about="way out",
    )
    paper.label(label)


def _low(judgement: Judgement, units: str) -> str:
    """Say how high a way is where that is less than is asked for, else nothing."""
    there, needed = (
        told.get("height") for told in (judgement.provided, judgement.required)
    )
    if there is None or needed is None or there >= needed - LEVEL:
        return ""
    return bracketed(lengths(there, units, needed))


def _bounds(between: tuple[str, ...]) -> str:
    """Return what a way is narrowest between, or the exit that it is narrowest at."""
    one, *others = (shortened(name) for name in between)
    return f"between {one} and {others[0]}" if others else f"at {one}"


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
