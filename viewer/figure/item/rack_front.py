"""The elevation of a battery rack: tier by tier, what is above the cells."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.standing.racks import cell_rows
from viewer.figure.drafting import pens
from viewer.figure.drafting.axes import front
from viewer.figure.drafting.drawing import Figure, Text
from viewer.figure.drafting.hidden_lines import hull
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.drafting.pane import Pane
from viewer.figure.drafting.paper import Paper
from viewer.figure.drafting.scale import fitting, scale_words
from viewer.figure.lettering.chains import (
    Chain,
    Link,
    chains,
    depth_of,
    draw_chains,
    lanes,
    own_size,
    words_width,
)
from viewer.figure.lettering.notes import complete
from viewer.figure.things.level_lines import draw_levels
from viewer.figure.things.scenery import SceneryPiece, piece
from viewer.figure.things.subject import outline_of
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.racks import CellRow
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.things.subject import Subject

_TOPS: Final = "battery-top-clearance"
_AROUND: Final = 0.15
"""Metres around a rack that are shown."""
_LEAST: Final = 0.001
_ABOVE: Final = 4.0
_BELOW: Final = 16.0
_NAMES: Final = 20.0
"""Millimetres beside the chains for the names of the tiers."""


def rack_figure(subject: Subject, width: float, height: float) -> Figure:
    """Draw a rack's elevation with its chains: shelf, terminal top, clear height.

    Raises:
        UnusableError: The item has no tiers.
    """
    rows = cell_rows(subject.placed, subject.arrangement.scene)
    if not rows:
        words = f"{subject.placed.id} has no tiers of cells"
        raise UnusableError([f"standclear: {words}"])
    title = f"Tiers of {subject.placed.id}"
    paper, scale = complete(
        lambda high, more: _drawn(subject, rows, title, (width, high), more), height
    )
    marks = tuple(paper.marks)
    told = [one.reason for one in subject.report.of(subject.placed.id, _TOPS)]
    about = " ".join([f"{title}, from in front.", *told])
    return Figure(title, clean(about), width, paper.lowest(), scale, marks)


def _drawn(
    subject: Subject,
    rows: tuple[CellRow, ...],
    title: str,
    size: tuple[float, float],
    more: float,
) -> tuple[Paper, float]:
    """Draw the elevation; ``more`` is room beside it for words, millimetres."""
    scene, (width, height) = subject.arrangement.scene, size
    axes = front(subject.front.frame)
    own = piece(subject.placed, axes, scene)
    low, high = _window(subject, own, axes)
    sides = lanes([_tiers(subject, rows), *_asked(subject, axes)])
    left, right = (
        depth_of(sides.get(side, [])) + words_width(sides.get(side, [])) + 2.0 + more
        for side in ("left", "right")
    )
    scale = fitting(
        subject.units,
        lambda scale: (
            (high[0] - low[0]) * 1000 / scale <= width - left - right - _NAMES
            and (high[1] - low[1]) * 1000 / scale <= height - _ABOVE - _BELOW
        ),
    )
    room = (0.0, 0.0, width, height - _BELOW / 2)
    pane = Pane(axes, low, high, scale, round(left, 3), _ABOVE, room)
    paper = Paper(width, height)
    words = f"{clean(title, 60)} {scale_words(scale, subject.units)}"
    at = (pane.left, round(pane.box[3] + _BELOW / 2, 3))
    paper.put(Text(pens.SHEET, at, words, 3.0, bold=True))
    pane.lines(paper, pens.THING, own.fine)
    pane.lines(paper, pens.SUBJECT, own.edges)
    for judgement, box in subject.boxes():
        if judgement.requirement == _TOPS:
            pane.outline(paper, pens.SPACE, outline_of(box, axes))
    for _, points in subject.in_the_way(_TOPS):
        outline = hull(axes.seen(points)[:, :2])
        pane.hatch(paper, pens.IN_THE_WAY, outline)
        pane.outline(paper, pens.IN_THE_WAY, outline)
    draw_levels(paper, pane, subject)
    draw_chains(paper, pane, sides)
    for number, row in enumerate(rows, start=1):
        spot = pane.at(subject.front.width, (row.shelf + row.top) / 2)
        paper.label(FigureLabel((f"tier {number}",), at_point(spot), room))
    paper.settle()
    return paper, scale


def _window(subject: Subject, own: SceneryPiece, axes: Axes) -> tuple[Spot, Spot]:
    """Return what is shown: the rack, what must be free above its cells, the floor."""
    parts = [own.outline]
    parts += [
        outline_of(box, axes)
        for judgement, box in subject.boxes()
        if judgement.requirement == _TOPS
    ]
    points = np.concatenate(parts)
    (left, bottom), (right, top) = points.min(axis=0), points.max(axis=0)
    return (
        (float(left) - _AROUND, min(float(bottom), 0.0) - _AROUND / 2),
        (float(right) + _AROUND, float(top) + _AROUND),
    )


def _tiers(subject: Subject, rows: tuple[CellRow, ...]) -> Chain:
    """Return the chain up a rack: cells with their terminals, clear height, shelf."""
    item, scene, units = subject.placed.item, subject.arrangement.scene, subject.units
    stated = item.shelf_thickness if item else None
    thick = 0.0 if stated is None else scene.metres(stated)
    right, floor = subject.front.width, subject.front.bottom
    links: list[Link] = []
    level = floor
    for number, row in enumerate(rows):
        stops = [row.shelf - thick, row.shelf] if thick else [row.shelf]
        after = rows[number + 1].shelf - thick if number + 1 < len(rows) else None
        stops += [row.highest, *([after] if after is not None else [])]
        for stop in stops:
            if stop - level > _LEAST:
                one = own_size((right, level), (right, stop), units)
                # In one line: a shelf is too thin for two beside it.
                links.append(replace(one, lines=(" ".join(one.lines),)))
                level = stop
    return Chain("tiers", "right", tuple(links))


def _asked(subject: Subject, axes: Axes) -> Iterator[Chain]:
    for judgement in subject.report.of(subject.placed.id, _TOPS):
        yield from chains(judgement, subject.units, axes)
