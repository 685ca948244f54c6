"""The drawing of one item: one view, or plan, front and side on one sheet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Figure, Text
from viewer.figure.drafting.pane import Pane
from viewer.figure.drafting.paper import Paper
from viewer.figure.drafting.scale import draw_bar, fitting, scale_words
from viewer.figure.drafting.typeface import wide
from viewer.figure.item.one_side import draw_item
from viewer.figure.item.story import told_of
from viewer.figure.lettering.chains import depth_of, words_width
from viewer.figure.lettering.key import draw_key, draw_north, key_width
from viewer.figure.lettering.notes import complete
from viewer.figure.things.sight import ALL as EVERYTHING
from viewer.figure.things.view import VIEWS, prospects

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.figure.things.sight import Showing
    from viewer.figure.things.subject import Subject
    from viewer.figure.things.view import Prospect, Which

TITLE: Final = 7.0
"""Millimetres below a view for its title."""
_EDGE: Final = 3.0
"""Millimetres between a view's margin and what is next to it."""
_BESIDE: Final = 9.0
"""Millimetres at least to the left and the right of a window, for words."""
_KEY: Final = 52.0
"""Millimetres for the key and the north arrow beside a view."""
_KEY_HIGH: Final = 58.0
"""Millimetres that north and a key of all layers take, one below the other."""
_WORDS: Final = 3.0
"""Millimetres. Height of the letters of a view's title."""

ALL: Final[tuple[Which, ...]] = ("plan", "front", "side")


@dataclass(frozen=True, slots=True)
class _Margins:
    """Millimetres around a window."""

    left: float
    top: float
    right: float
    bottom: float


def item_figure(
    subject: Subject,
    views: Sequence[Which],
    width: float,
    height: float,
    sight: Showing = EVERYTHING,
) -> Figure:
    """Draw views of an item to one scale, as large as fits.

    Three views are set in third-angle projection: the plan above the front, the side
    to the right of the front.

    Args:
        subject: The item and what is asked of it.
        views: One of them, or all three.
        width: Of the paper, millimetres.
        height: Of the paper, millimetres; what is left over below is cut off.
        sight: What of the room is shown.
    """
    planned = prospects(subject, views, sight)
    paper, scale = complete(
        lambda high, more: _drawn(subject, planned, (width, high), more), height
    )
    title = f"{subject.placed.id}: {', '.join(VIEWS[one].lower() for one in views)}"
    marks = tuple(paper.marks)
    return Figure(title, told_of(subject), width, paper.lowest(), scale, marks)


def _drawn(
    subject: Subject,
    planned: Sequence[Prospect],
    size: tuple[float, float],
    more: float,
) -> tuple[Paper, float]:
    """Draw planned views; ``more`` is room beside each for words, millimetres."""
    spaces = [_margins(one, more) for one in planned]
    scale = fitting(subject.units, lambda scale: _fits(planned, spaces, scale, size))
    paper = Paper(*size)
    panes = _panes(planned, spaces, scale, size)
    for prospect, pane in zip(planned, panes, strict=True):
        _title(paper, pane, prospect, subject.units)
    panes = _roomy(panes, size)
    for prospect, pane in zip(planned, panes, strict=True):
        draw_item(paper, pane, prospect, subject)
    _beside(paper, panes, planned, subject)
    paper.settle()
    return paper, scale


def _margins(prospect: Prospect, more: float) -> _Margins:
    sides = prospect.sides
    left, right = (
        depth_of(sides[side]) + words_width(sides[side]) + 1.0 if side in sides else 0.0
        for side in ("left", "right")
    )
    top, bottom = depth_of(sides.get("top", [])), depth_of(sides.get("bottom", []))
    words = 7.0 if bottom else 0.0
    return _Margins(
        max(left, _BESIDE) + more,
        top + (4.0 if top else 1.0),
        max(right, _BESIDE) + more,
        bottom + words + TITLE,
    )


def _sizes(
    planned: Sequence[Prospect], spaces: Sequence[_Margins], scale: float
) -> list[tuple[float, float]]:
    """Return how wide and how high each view is with its margins, millimetres."""
    found = []
    for one, margins in zip(planned, spaces, strict=True):
        wide = (one.high[0] - one.low[0]) * 1000 / scale
        high = (one.high[1] - one.low[1]) * 1000 / scale
        found.append(
            (
                wide + margins.left + margins.right,
                high + margins.top + margins.bottom,
            )
        )
    return found


def _fits(
    planned: Sequence[Prospect],
    spaces: Sequence[_Margins],
    scale: float,
    size: tuple[float, float],
) -> bool:
    sizes = _sizes(planned, spaces, scale)
    width, height = size
    if len(planned) == 1:
        ((wide, high),) = sizes
        return wide + _KEY <= width and high <= height
    (plan, front, side) = sizes
    beside = max(side[0], _KEY)
    return (
        max(plan[0], front[0]) + _EDGE + beside <= width
        and max(plan[1], _KEY_HIGH) + _EDGE + max(front[1], side[1]) <= height
    )


def _panes(
    planned: Sequence[Prospect],
    spaces: Sequence[_Margins],
    scale: float,
    size: tuple[float, float],
) -> list[Pane]:
    sizes = _sizes(planned, spaces, scale)
    if len(planned) == 1:
        return [_pane(planned[0], spaces[0], scale, (0.0, 0.0), sizes[0])]
    share = 1000 / scale
    # The plan stands above the front so that the item's ends are in line.
    plan_left = planned[0].low[0] * share - spaces[0].left
    front_left = planned[1].low[0] * share - spaces[1].left
    start = min(plan_left, front_left)
    column = max(plan_left + sizes[0][0], front_left + sizes[1][0]) - start
    rest = max((size[0] - column - _EDGE - max(sizes[2][0], _KEY)) / 2, 0.0)
    # Front and side stand on one floor.
    below = max(sizes[0][1], _KEY_HIGH) + _EDGE
    tall = [
        one.high[1] * share + margins.top
        for one, margins in zip(planned, spaces, strict=True)
    ]
    level = max(tall[1], tall[2])
    return [
        _pane(planned[0], spaces[0], scale, (plan_left - start, 0.0), sizes[0]),
        _pane(
            planned[1],
            spaces[1],
            scale,
            (front_left - start, below + level - tall[1]),
            sizes[1],
        ),
        _pane(
            planned[2],
            spaces[2],
            scale,
            (column + _EDGE + rest, below + level - tall[2]),
            sizes[2],
        ),
    ]


def _roomy(panes: list[Pane], size: tuple[float, float]) -> list[Pane]:
    """Return views that share all of the paper for their words."""
    if len(panes) == 1:
        left = panes[0].room[2] + _EDGE
        return [replace(panes[0], room=(0.0, 0.0, left, size[1]))]
    plan, front, side = panes
    middle = max(plan.room[2], front.room[2]) + _EDGE / 2
    middle = max(middle, min(side.left - _BESIDE, side.room[0]))
    below = max(plan.room[3], _KEY_HIGH) + _EDGE / 2
    return [
        replace(plan, room=(0.0, 0.0, middle, below)),
        replace(front, room=(0.0, below, middle, size[1])),
        replace(side, room=(middle, below, size[0], size[1])),
    ]


def _pane(
    prospect: Prospect,
    margins: _Margins,
    scale: float,
    at: tuple[float, float],
    size: tuple[float, float],
) -> Pane:
    x, y = at
    room = (x, y, x + size[0], y + size[1])
    left, top = round(x + margins.left, 3), round(y + margins.top, 3)
    return Pane(prospect.axes, prospect.low, prospect.high, scale, left, top, room)


def _title(paper: Paper, pane: Pane, prospect: Prospect, units: str) -> None:
    words = f"{VIEWS[prospect.which]} {scale_words(pane.scale, units)}"
    most = paper.width - wide(words, _WORDS, bold=True) - 0.5
    at = (round(min(pane.left, most), 3), round(pane.room[3] - 2.0, 3))
    paper.put(Text(pens.SHEET, at, words, _WORDS, bold=True))


def _beside(
    paper: Paper,
    panes: Sequence[Pane],
    planned: Sequence[Prospect],
    subject: Subject,
) -> None:
    """Draw the key, the scale bar and north where no view stands."""
    used = {mark.layer for mark in paper.marks}
    across = key_width(used)
    single = len(panes) == 1
    left = panes[0].room[2] if single else panes[0].room[2] + _EDGE
    left = min(left, paper.width - across - 1.0)
    x = round(left + 1.0, 3)
    if planned[0].which == "plan":
        draw_north(paper, (round(left + 7.0, 3), 11.0), planned[0].axes)
        x = round(left + 21.0, 3)
    draw_bar(paper, (x, 7.0), panes[0].scale, subject.units)
    draw_key(paper, (round(left, 3), 20.5), used)
