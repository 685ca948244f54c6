"""Door leaves: in plan the arc each sweeps with its angle, in front its outline."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Arc, Line
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.things.scenery import loop
from viewer.wording.words import amount

if TYPE_CHECKING:
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.things.subject import Subject
    from viewer.figure.things.view import Which
    from viewer.stage.bodies.hung import Hung

_ALMOST = 0.05
"""Degrees; a leaf that lacks less opens as far as it must."""


def draw_leaves(paper: Paper, pane: Pane, subject: Subject, which: Which) -> None:
    """Draw the leaves of an item as far as they open."""
    for leaf, reached, needed in subject.leaves:
        if which == "plan":
            turned_leaf(paper, pane, leaf, reached, needed)
        elif which == "front":
            _closed(paper, pane, leaf)


def turned_leaf(
    paper: Paper,
    pane: Pane,
    leaf: Hung,
    reached: float,
    needed: float | None,
    *,
    words: bool = True,
) -> None:
    """Draw a leaf in plan: where it stops, the arc it sweeps, and the angle.

    Args:
        paper: Where it is drawn.
        pane: The plan.
        leaf: How it is hung.
        reached: How far it opens, degrees.
        needed: How far it must, degrees, or None.
        words: Write the angle at it.
    """
    hinge = _seen(pane, leaf, 0.0, 0.0)
    if not pane.holds(hinge):
        return
    middle = pane.at(*hinge)
    closed = _bearing(pane, leaf, 0.0)
    radius = leaf.radius * 1000 / pane.scale
    stop = _bearing(pane, leaf, reached)
    # Whichever way round the paper shows it, an arc runs counter-clockwise.
    swing = (stop - closed + 180.0) % 360.0 - 180.0
    start, end = (closed, closed + swing) if swing >= 0 else (closed + swing, closed)
    paper.put(
        Line(pens.LEAF, (middle, _round(middle, radius, stop))),
        Arc(pens.SWING, middle, round(radius, 3), round(start, 3), round(end, 3)),
    )
    if not words:
        return
    short = needed is not None and reached < needed - _ALMOST
    lines = [amount("angle", reached, "")]
    if short and needed is not None:
        wanted = _bearing(pane, leaf, needed)
        paper.put(Line(pens.SPACE, (middle, _round(middle, radius, wanted))))
        lines = [f"leaf stops at {lines[0]}", f"of {amount('angle', needed, '')}"]
    # What stops it is told at the leaf itself: beside it the person may stand.
    part, out = (1.0, 0.9) if short else (0.55, 0.72)
    at = _round(middle, radius * out, closed + swing * part)
    layer = pens.MISSING if short else pens.NAME
    bold = len(lines) if short else 0
    paper.label(
        FigureLabel(
            tuple(lines),
            at_point(at),
            pane.room,
            layer=layer,
            bold=bold,
            inside=() if short else (at,),
            needed=short,
        )
    )


def _round(
    middle: tuple[float, float], radius: float, bearing: float
) -> tuple[float, float]:
    angle = math.radians(bearing)
    x, y = middle[0] + radius * math.cos(angle), middle[1] - radius * math.sin(angle)
    return round(x, 3), round(y, 3)


def _seen(pane: Pane, leaf: Hung, angle: float, share: float) -> tuple[float, float]:
    turn = math.radians(angle)
    reach = leaf.radius * share
    ends = np.array([(reach * math.cos(turn), reach * math.sin(turn), leaf.bottom)])
    x, y, _ = pane.axes.seen(leaf.frame.world(ends))[0]
    return float(x), float(y)


def _bearing(pane: Pane, leaf: Hung, angle: float) -> float:
    """Return which way a leaf points on the paper at an angle, degrees."""
    hinge, tip = _seen(pane, leaf, 0.0, 0.0), _seen(pane, leaf, angle, 1.0)
    return math.degrees(math.atan2(tip[1] - hinge[1], tip[0] - hinge[0]))


def _closed(paper: Paper, pane: Pane, leaf: Hung) -> None:
    ends = np.array(
        [
            (0.0, 0.0, leaf.bottom),
            (leaf.radius, 0.0, leaf.bottom),
            (leaf.radius, 0.0, leaf.top),
            (0.0, 0.0, leaf.top),
        ]
    )
    seen = pane.axes.seen(leaf.frame.world(ends))[:, :2]
    pane.lines(paper, pens.LEAF, loop(seen))
    # Two thin lines that meet at the hinge: the way elevations show how a leaf hangs.
    hinge = (seen[0] + seen[3]) / 2
    lines = np.array([(seen[1], hinge), (seen[2], hinge)])
    pane.lines(paper, pens.SWING, lines)
