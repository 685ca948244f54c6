"""How far things above and below gear stand out past its front, as a large section."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.wording import bracketed
from viewer.figure.drafting import pens
from viewer.figure.drafting.axes import side
from viewer.figure.drafting.drawing import Figure, Line, Text
from viewer.figure.drafting.hidden_lines import cropped, hull
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.drafting.pane import Pane
from viewer.figure.drafting.paper import Paper
from viewer.figure.drafting.scale import draw_bar, fitting, scale_words
from viewer.figure.item.names import named
from viewer.figure.lettering.amount import two_lines
from viewer.figure.lettering.chains import FIRST, LANE, Chain, Link, draw_chains
from viewer.figure.lettering.key import draw_key, key_width
from viewer.figure.lettering.notes import complete
from viewer.figure.things.scenery import piece
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError
from viewer.wording.shortfall import REACH
from viewer.wording.sizes import required

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Intrusion, Judgement
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.figure.things.subject import Subject

_AROUND: Final = 0.1
"""Metres around what stands out that are shown."""
_OWN: Final = 0.22
"""Metres of the item itself that are shown above or below its edge."""
_APART: Final = 0.4
"""Metres. An item's edge that is further from what stands out is not shown."""
_BEHIND: Final = 0.35
"""Metres behind the front plane that are shown at most."""
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
    detail = _Detail(subject, judgement)
    paper, scale = complete(
        lambda high, more: _drawn(detail, (width, high), more), height
    )
    marks = tuple(paper.marks)
    about = f"{detail.title}, from the side. {judgement.reason}"
    return Figure(detail.title, clean(about), width, paper.lowest(), scale, marks)


@dataclass(frozen=True, slots=True, eq=False)
class _Detail:
    """What is drawn: an item, and the judgement of what reaches past its front."""

    subject: Subject
    judgement: Judgement

    @property
    def title(self) -> str:
        return f"Reach past the front of {self.subject.placed.id}"

    @property
    def axes(self) -> Axes:
        return side(self.subject.front.frame)

    @property
    def allowed(self) -> float:
        return self.judgement.required[REACH]

    @property
    def hits(self) -> list[Intrusion]:
        return [hit for hit in self.judgement.intrusions if hit.reach is not None]

    def window(self) -> tuple[Points, Points]:
        """Return what is shown: what stands out, and the edge it stands out over."""
        front, hits = self.subject.front, self.hits
        bottom = min(hit.low[2] for hit in hits)
        top = max(hit.high[2] for hit in hits)
        if 0.0 <= bottom - front.top <= _APART:
            bottom = min(bottom, max(front.top - _OWN, front.bottom))
        if 0.0 <= front.bottom - top <= _APART:
            top = max(top, min(front.bottom + _OWN, front.top))
        reach = max(self.allowed, *(hit.reach or 0.0 for hit in hits))
        behind = min(max(front.depth, 0.05), _BEHIND)
        low = np.array([-reach - _AROUND, bottom - _AROUND])
        return low, np.array([behind + _AROUND / 2, top + _AROUND])


def _drawn(
    detail: _Detail, size: tuple[float, float], more: float
) -> tuple[Paper, float]:
    """Draw the detail; ``more`` is room beside it for words, millimetres."""
    subject, (width, height) = detail.subject, size
    low, high = detail.window()
    lanes = [[chain] for chain in _chains(subject, detail.judgement, detail.hits)]
    below = FIRST + LANE * len(lanes) + 16.0
    beside = _WORDS + more
    scale = fitting(
        subject.units,
        lambda scale: (
            (high[0] - low[0]) * 1000 / scale <= width - 2 * beside - _KEY
            and (high[1] - low[1]) * 1000 / scale <= height - below - _ABOVE
        ),
    )
    room = (0.0, 0.0, width - _KEY, height)
    ends = (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    pane = Pane(detail.axes, *ends, scale, beside, _ABOVE, room)
    paper = Paper(width, height)
    bottom = round(pane.box[3] + below, 3)
    words = f"{clean(detail.title, 60)} {scale_words(scale, subject.units)}"
    paper.put(Text(pens.SHEET, (beside, bottom), words, 3.0, bold=True))
    _draw(paper, pane, detail)
    draw_chains(paper, pane, {"bottom": lanes})
    _things(paper, pane, detail)
    _beside(paper, pane, subject)
    paper.settle()
    return paper, scale


def _things(paper: Paper, pane: Pane, detail: _Detail) -> None:
    """Draw the item and what reaches past its front, with their names."""
    items, scene = detail.subject.arrangement.items, detail.subject.arrangement.scene
    own = detail.subject.placed.id
    for name in dict.fromkeys([own, *(hit.item for hit in detail.hits)]):
        one = piece(items[name], pane.axes, scene)
        pane.lines(paper, pens.SUBJECT if name == own else pens.THING, one.edges)
        low = np.maximum(one.low, np.array(pane.low))
        high = np.minimum(one.high, np.array(pane.high))
        if (low < high).all():
            box = (*pane.at(low[0], high[1]), *pane.at(high[0], low[1]))
            middle = pane.at(*((low + high) / 2).tolist())
            lines = named(one.placed)
            paper.label(FigureLabel(lines, box, pane.room, bold=1, inside=(middle,)))


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


def _draw(paper: Paper, pane: Pane, detail: _Detail) -> None:
    """Draw the front plane, the band that may be reached into, and the excess."""
    allowed, (low, high) = detail.allowed, (pane.low[1], pane.high[1])
    band = np.array([(-allowed, low), (0.0, low), (0.0, high), (-allowed, high)])
    pane.hatch(paper, pens.BAND, band)
    pane.lines(paper, pens.SPACE, np.array([[(-allowed, low), (-allowed, high)]]))
    paper.put(Line(pens.LEVEL, (pane.at(0.0, low), pane.at(0.0, high))))
    for hit in detail.hits:
        if hit.body is None:
            continue
        outline = hull(pane.axes.seen(hit.body.vertices)[:, :2])
        past = cropped(outline, np.array(pane.low), np.array([-allowed, high]))
        if len(past) > 2:  # noqa: PLR2004 - a surface
            pane.hatch(paper, pens.IN_THE_WAY, past)
            pane.outline(paper, pens.IN_THE_WAY, past)
    plane, edge = pane.at(0.0, high), pane.at(-allowed, high)
    paper.label(FigureLabel(("front plane",), at_point(plane), pane.room))
    words = bracketed(required(detail.judgement, REACH, detail.subject.units))
    paper.label(FigureLabel((f"at most {words}",), at_point(edge), pane.room))


def _beside(paper: Paper, pane: Pane, subject: Subject) -> None:
    used = {mark.layer for mark in paper.marks}
    left = round(min(paper.width - _KEY + 4.0, paper.width - key_width(used) - 0.5), 3)
    draw_key(paper, (left, 16.0), used)
    draw_bar(paper, (left + 1.0, 5.0), pane.scale, subject.units)
