"""The names on a view of an item: its own with its supply, and those of the others."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.catalogue.provenance import provenance
from viewer.figure.drafting.labels.label import SIZE, FigureLabel
from viewer.figure.drafting.typeface import wrapped
from viewer.stage.looking.names import shortened
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from model3d.standing.placed import Placed
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.drafting.strokes import Box
    from viewer.figure.things.scenery import SceneryPiece
    from viewer.figure.things.subject import Subject
    from viewer.figure.things.view import Which

_LONGEST: Final = 34
"""Characters of a name beside an id."""
_WIDEST: Final = 22.0
"""Millimetres that a name takes in a line, as far as its words allow."""
_SMALLEST: Final = 0.5
"""Millimetres of paper; what is drawn smaller in the window has no name there."""


def name_subject(
    paper: Paper,
    pane: Pane,
    which: Which,
    subject: Subject,
    own: SceneryPiece,
    others: Sequence[Box],
) -> None:
    """Write what the item is; in plan also its voltage to ground and the condition."""
    lines = [shortened(subject.placed.id)]
    if which == "plan":
        lines += [*about(subject)]
    thing = box_in(pane, own)
    label = FigureLabel(
        tuple(lines),
        thing,
        pane.room,
        bold=1,
        inside=_inside(thing),
        others=others,
    )
    paper.label(label)


def box_in(pane: Pane, one: SceneryPiece) -> Box:
    """Return the box on the paper of what a view shows of a thing."""
    low = np.maximum(one.low, np.array(pane.low))
    high = np.minimum(one.high, np.array(pane.high))
    left, bottom = pane.at(*low.tolist())
    right, top = pane.at(*high.tolist())
    return left, top, right, bottom


_PARTS: Final = ((0.5, 0.5), (0.72, 0.5), (0.28, 0.5), (0.5, 0.75), (0.5, 0.25))
"""Where in a thing its name may stand, as shares of its width and height."""


def _inside(thing: Box) -> tuple[Spot, ...]:
    """Return the middle of a thing, then places beside leaves drawn across that."""
    left, top, right, bottom = thing
    return tuple(
        (left + across * (right - left), top + down * (bottom - top))
        for across, down in _PARTS
    )


def about(subject: Subject) -> Iterable[str]:
    """Yield what decides the depth: the voltage to ground, and the condition."""
    volts = subject.placed.volts
    if subject.placed.live:
        known = "voltage not stated" if volts is None else f"{volts:.0f} V to ground"
        yield known
    working = subject.working
    if working is not None and working.condition is not None:
        book = provenance(subject.report)
        condition = book.condition_name(working, volts) if book else ""
        if condition:
            yield f"condition {condition}"


def name_things(
    paper: Paper,
    pane: Pane,
    shown: Iterable[SceneryPiece],
    others: Sequence[Box],
    wrong: Collection[str] = (),
    above: float = float("inf"),
) -> None:
    """Write the names of other things that a view shows.

    Args:
        paper: Where they are written.
        pane: The view.
        shown: The things.
        others: Boxes of all things that are drawn solid.
        wrong: Ids of those that are in the way: their names must be there.
        above: What is wholly nearer to the reader is told as overhead, lest its name
            is taken for that of what lies below it; metres of the view.
    """
    for one in sorted(shown, key=lambda one: one.placed.id):
        thing = box_in(pane, one)
        is_wrong = one.placed.id in wrong
        if not is_wrong and max(thing[2] - thing[0], thing[3] - thing[1]) < _SMALLEST:
            continue
        overhead = one.far >= above
        plain = f"{shortened(one.placed.id)} overhead" if overhead else one.placed.id
        lines = named(one.placed) if is_wrong else (shortened(plain),)
        paper.label(
            FigureLabel(
                lines,
                thing,
                pane.room,
                bold=int(is_wrong),
                inside=() if is_wrong or overhead else _inside(thing),
                needed=is_wrong,
                others=others,
            )
        )


def named(placed: Placed) -> tuple[str, ...]:
    """Return an id with the name that people gave the thing."""
    name = placed.item.name if placed.item else None
    if not name:
        return (shortened(placed.id),)
    return shortened(placed.id), *wrapped(clean(name, _LONGEST), SIZE, _WIDEST)
