"""Floor, ceiling and head height as lines of an elevation, each with its words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from model3d.wording import bracketed, lengths
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Line
from viewer.figure.drafting.labels.label import FigureLabel
from viewer.figure.drafting.labels.spots import extent
from viewer.figure.drafting.paper import APART
from viewer.wording.sizes import bounded

if TYPE_CHECKING:
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.things.subject import Subject

FLOOR = "±0"
"""The level of the room's floor."""
_SAME = 0.001


def draw_levels(paper: Paper, pane: Pane, subject: Subject) -> None:
    """Draw the floor, the ceiling where it is near, and how high the space goes."""
    low, high = pane.low, pane.high
    if low[1] < 0.0:
        ground = np.array(
            [(low[0], low[1]), (high[0], low[1]), (high[0], 0.0), (low[0], 0.0)]
        )
        pane.hatch(paper, pens.GROUNDED, ground)
    _level(paper, pane, 0.0, pens.WALL, (FLOOR, ""))
    height = subject.arrangement.shell.height
    if height is not None and height < high[1]:
        above = np.array(
            [(low[0], height), (high[0], height), (high[0], high[1]), (low[0], high[1])]
        )
        pane.hatch(paper, pens.CUT, above)
        own, other = lengths(height, subject.units)
        words = f"ceiling {own}", other
        _level(paper, pane, height, pens.WALL, words, needed=False)
    space, working = subject.space(), subject.working
    if space is None or working is None:
        return
    if abs(space.low[2]) > _SAME:
        own, other = lengths(space.low[2], subject.units)
        _level(paper, pane, space.low[2], pens.LEVEL, (f"floor in front {own}", other))
    words = lengths(space.high[2] - space.low[2], subject.units)
    if "height" in working.required:
        words = bounded(working, "height", subject.units)
    _level(paper, pane, space.high[2], pens.LEVEL, words)


def _level(
    paper: Paper,
    pane: Pane,
    level: float,
    layer: str,
    texts: tuple[str, str],
    *,
    needed: bool = True,
) -> None:
    if not pane.low[1] <= level <= pane.high[1]:
        return
    left, right = pane.at(pane.low[0], level), pane.at(pane.high[0], level)
    paper.put(Line(layer, (left, right)))
    # Its words stand at one of its ends, else between them, above or below the line.
    lines = (bracketed(texts),)
    label = FigureLabel(
        lines, (*left, *right), pane.room, layer=pens.LEVEL, needed=needed
    )
    if extent(label)[0] + 2 * APART > right[0] - left[0] and texts[1]:
        label = replace(label, lines=(texts[0], f"({texts[1]})"))
    across, down = extent(label)
    half, high = across / 2 + APART, down / 2
    places = np.linspace(right[0] - half, left[0] + half, _PLACES).tolist()
    inside = [
        (x, y)
        for x in (places[0], places[-1], *places[1:-1])
        for y in (left[1] - high - 0.6, left[1] + high + 0.7)
    ]
    paper.label(replace(label, inside=tuple(inside)))


_PLACES = 9
"""So many places along a line are tried."""
