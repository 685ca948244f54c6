"""How far things above and below gear stand out past its front, as a large section."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.wording import bracketed
from viewer.figure import pens
from viewer.figure.amount import two_lines
from viewer.figure.axes import side
from viewer.figure.chains import FIRST, LANE, Chain, Link, draw_chains
from viewer.figure.convex import hull
from viewer.figure.drawing import Figure, Line, Text
from viewer.figure.extent import lowest
from viewer.figure.item_names import named
from viewer.figure.key import draw_key, key_width
from viewer.figure.pane import Pane
from viewer.figure.paper import Label, Paper, at_point
from viewer.figure.scale import draw_bar, fitting, scale_words
from viewer.figure.scenery import piece
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError
from viewer.wording.shortfall import REACH
from viewer.wording.sizes import required

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Intrusion, Judgement
    from viewer.figure.subject import Subject

_AROUND: Final = 0.12
"""Metres around what stands out that are shown."""
_WORDS: Final = 34.0
"""Millimetres on either side for names."""
_KEY: Final = 50.0
_ABOVE: Final = 10.0


def reaching(subject: Subject) -> Judgement | None:
    """Return the judgement that is about a reach, if there is one."""
    found = (one for one in subject.judgements if REACH in one.required)
    return next(found, None)


def reach_figure(subject: Subject, width: float, height: float) -> Figure:
    """Draw the reach past an item's front: the front plane, the band, the excess.

    Raises:
        UnusableError: Nothing reaches too far there.
    """
    judgement = reaching(subject)
    if judgement is None:
        words = f"nothing at {subject.placed.id} reaches too far past its front"
        raise UnusableError([f"standclear: {words}"])
    hits = [hit for hit in judgement.intrusions if hit.reach is not None]
    axes = side(subject.front.frame)
    allowed = judgement.required[REACH]
    scene, items = subject.arrangement.scene, subject.arrangement.items
    shown = [
        piece(items[name], axes, scene)
        for name in dict.fromkeys([subject.placed.id, *(hit.item for hit in hits)])
    ]
    corners = np.concatenate([one.outline for one in shown])
    low, high = corners.min(axis=0) - _AROUND, corners.max(axis=0) + _AROUND
    low[0] = min(low[0], -allowed - _AROUND)
    lanes = [[chain] for chain in _chains(subject, judgement, hits)]
    below = FIRST + LANE * len(lanes) + 16.0
    scale = fitting(
        subject.units,
        lambda scale: (
            (high[0] - low[0]) * 1000 / scale <= width - 2 * _WORDS - _KEY
            and (high[1] - low[1]) * 1000 / scale <= height - below - _ABOVE
        ),
    )
    room = (0.0, 0.0, width - _KEY, height)
    pane = Pane(
        axes,
        (float(low[0]), float(low[1])),
        (float(high[0]), float(high[1])),
        scale,
        _WORDS,
        _ABOVE,
        room,
    )
    paper = Paper(width, height)
    title = f"Reach past the front of {subject.placed.id}"
    bottom = round(pane.box[3] + below, 3)
    words = f"{clean(title, 60)} {scale_words(scale, subject.units)}"
    paper.put(Text(pens.SHEET, (_WORDS, bottom), words, 3.0, bold=True))
    _draw(paper, pane, subject, judgement, hits)
    for one in shown:
        layer = pens.SUBJECT if one.placed.id == subject.placed.id else pens.THING
        pane.lines(paper, layer, one.edges)
        middle = pane.at(*((one.low + one.high) / 2).tolist())
        lines = named(one.placed)
        paper.label(Label(lines, at_point(middle), room, bold=1, inside=(middle,)))
    draw_chains(paper, pane, {"bottom": lanes})
    _beside(paper, pane, subject)
    paper.settle()
    marks = tuple(paper.marks)
    about = f"{title}, from the side. {judgement.reason}"
    return Figure(title, clean(about), width, lowest(marks), scale, marks)


def _chains(
    subject: Subject, judgement: Judgement, hits: list[Intrusion]
) -> Iterator[Chain]:
    """Yield a chain for each thing: what is allowed, what is past it."""
    units = subject.units
    allowed = judgement.required[REACH]
    needed = bracketed(required(judgement, REACH, units))
    level = min(hit.low[2] for hit in hits)
    for hit in hits:
        reach = hit.reach or 0.0
        links = [Link((-allowed, level), (0.0, level), (needed, "allowed"))]
        if reach > allowed:
            over = two_lines(reach - allowed, units, "too far")
            links.append(Link((-reach, level), (-allowed, level), over, missing=True))
        else:
            there = two_lines(reach, units, "there")
            links = [Link((-reach, level), (0.0, level), there)]
        yield Chain(hit.item, "bottom", tuple(links))


def _draw(
    paper: Paper,
    pane: Pane,
    subject: Subject,
    judgement: Judgement,
    hits: list[Intrusion],
) -> None:
    """Draw the front plane, the band that may be reached into, and the excess."""
    allowed = judgement.required[REACH]
    low, high = pane.low[1], pane.high[1]
    band = np.array([(-allowed, low), (0.0, low), (0.0, high), (-allowed, high)])
    pane.hatch(paper, pens.BAND, band)
    pane.lines(paper, pens.SPACE, np.array([[(-allowed, low), (-allowed, high)]]))
    paper.put(Line(pens.LEVEL, (pane.at(0.0, low), pane.at(0.0, high))))
    for hit in hits:
        if hit.body is None:
            continue
        outline = hull(pane.axes.seen(hit.body.vertices)[:, :2])
        pane.hatch(paper, pens.IN_THE_WAY, outline)
        pane.outline(paper, pens.IN_THE_WAY, outline)
    plane = pane.at(0.0, high)
    paper.label(Label(("front plane",), at_point(plane), pane.room))
    edge = pane.at(-allowed, high)
    words = bracketed(required(judgement, REACH, subject.units))
    paper.label(Label((f"at most {words}",), at_point(edge), pane.room))


def _beside(paper: Paper, pane: Pane, subject: Subject) -> None:
    used = {mark.layer for mark in paper.marks}
    left = round(min(paper.width - _KEY + 4.0, paper.width - key_width(used) - 0.5), 3)
    draw_key(paper, (left, 16.0), used)
    draw_bar(paper, (left + 1.0, 5.0), pane.scale, subject.units)
