"""The plan of a room: what stands where, what is judged, how far things are apart."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.wording.said import say
from viewer.figure.drafting import pens
from viewer.figure.drafting.axes import NORTH_UP
from viewer.figure.drafting.drawing import Figure, Text
from viewer.figure.drafting.pane import Pane
from viewer.figure.drafting.paper import Paper
from viewer.figure.drafting.scale import draw_bar, fitting, scale_words
from viewer.figure.lettering.chains import depth_of, draw_chains, lanes, words_width
from viewer.figure.lettering.key import draw_north, draw_row
from viewer.figure.lettering.notes import complete
from viewer.figure.plans.distances import aisles, wall_chains
from viewer.figure.plans.drawn_room import draw_room
from viewer.figure.plans.names import is_crowded, verdicts, write_names
from viewer.figure.plans.window import bounds, window_about
from viewer.figure.things.sight import ALL
from viewer.figure.things.subject import arrangement_of
from viewer.figure.things.view import lies_in
from viewer.stage.layers import DIMENSIONS, LABELS
from viewer.wording.cleaning import clean
from viewer.wording.words import units_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from model3d import Report
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.lettering.chains import Chain
    from viewer.figure.things.sight import Showing

_GUESS: Final = 60.0
"""Millimetres that a plan's margins take, about."""
_LINK: Final = 8.0
"""Millimetres of a chain that each of its links takes, at least on average."""
_BELOW: Final = 27.0
"""Millimetres below a plan for its title, its key, north and scale bar."""
_ROWS: Final = (7.0, 17.0)
"""Millimetres that the words of a chain across take, by how many neighbours in it are
too narrow for theirs."""
_BESIDE: Final = 44.0
"""Millimetres that north and the scale bar take beside the key."""


def room_figure(
    report: Report, width: float, height: float, sight: Showing = ALL
) -> Figure:
    """Draw the plan of a room, with its key, to the largest scale that fits.

    Args:
        report: What the check answered.
        width: Of the paper, millimetres.
        height: Of the paper, millimetres.
        sight: What of the room is shown.
    """
    paper, scale = complete(
        lambda high, more: _drawn(report, (width, height), high, more, sight), height
    )
    return Figure(
        say("{}: {}", report.scene, "plan of the room"),
        told_of_room(report),
        paper.width,
        paper.height,
        scale,
        tuple(paper.marks),
        None if paper.home is None else (paper.home, _origin(report)),
    )


def _origin(report: Report) -> Spot:
    """Return where the scene lies in the plan that it came from, metres."""
    scene = arrangement_of(report).scene
    if scene.origin is None:
        return 0.0, 0.0
    x, y, _ = (scene.metres(length) for length in scene.origin)
    return x, y


def _drawn(
    report: Report, size: tuple[float, float], most: float, more: float, sight: Showing
) -> tuple[Paper, float]:
    """Draw the plan.

    Args:
        report: What the check answered.
        size: Of the paper, millimetres.
        most: Millimetres of height that are left for the plan.
        more: Millimetres of room beside it for words.
        sight: What of the room is shown.
    """
    arrangement, units = arrangement_of(report), units_of(report)
    width, height = size
    window = (
        None if sight.near is None else window_about(arrangement, sight.of, sight.near)
    )
    low, high = window or bounds(arrangement)
    told = [*wall_chains(arrangement, units)] if sight.shows(DIMENSIONS) else []
    if window is not None:
        told = [one for one in told if lies_in(one, low, high)]
    # A first guess of the scale tells which chains would be too dense to be read.
    guess = _scale(units, low, high, (width - _GUESS, height - _GUESS))
    sides = lanes(one for one in told if _is_readable(one, guess))
    left, right = (
        more
        + (
            depth_of(sides[side]) + words_width(sides[side]) + 1.0
            if side in sides
            else 8.0
        )
        for side in ("left", "right")
    )
    top, bottom = (
        depth_of(sides[side]) + _words_high(sides[side], guess)
        if side in sides
        else 4.0
        for side in ("top", "bottom")
    )
    room = (width - left - right, most - top - bottom - _BELOW)
    scale = _scale(units, low, high, room)
    over = max(room[0] - _paper(high[0] - low[0], scale), 0.0) / 2
    deep = top + _paper(high[1] - low[1], scale) + bottom
    pane = Pane(
        NORTH_UP,
        low,
        high,
        scale,
        round(left + over, 3),
        round(top, 3),
        (0.0, 0.0, width, deep),
    )
    paper = Paper(width, round(deep + _BELOW, 3))
    paper.home = pane.at(0.0, 0.0)
    draw_room(paper, pane, report, sight=sight)
    draw_chains(paper, pane, sides)
    if sight.shows(DIMENSIONS):
        aisles(paper, pane, report)
    if sight.shows(LABELS):
        write_names(paper, pane, report, sight=sight)
    crowded = is_crowded(verdicts(report.judgements), report) and sight.shows(LABELS)
    heavy = ", heavy names: not met or open" if crowded else ""
    what = "the room" if window is None else f"what is about {clean(sight.of)}"
    below(paper, pane, units, f"Plan of {what}{heavy}")
    paper.settle()
    return paper, scale


def _words_high(found: Iterable[Sequence[Chain]], scale: float) -> float:
    """Return what the words of chains across take, millimetres.

    Where neighbours are wider than their links, some stand in rows further out.
    """
    crowded = 0
    for chain in (chain for lane in found for chain in lane):
        width = words_width([[chain]])
        narrow = [_paper(link.metres, scale) < width for link in chain.links]
        crowded = max(crowded, sum(a and b for a, b in pairwise(narrow)))
    return _ROWS[min(crowded, len(_ROWS) - 1)]


def _is_readable(chain: Chain, scale: float) -> bool:
    """Tell whether the links of a chain are long enough for words on average."""
    low, high = chain.span
    return _paper(high - low, scale) >= _LINK * len(chain.links)


def _scale(units: str, low: Spot, high: Spot, room: tuple[float, float]) -> float:
    return fitting(
        units,
        lambda scale: (
            _paper(high[0] - low[0], scale) <= room[0]
            and _paper(high[1] - low[1], scale) <= room[1]
        ),
    )


def _paper(metres: float, scale: float) -> float:
    return metres * 1000 / scale


def below(paper: Paper, pane: Pane, units: str, title: str) -> None:
    """Draw a plan's title below it, with north, scale bar and key."""
    used = {mark.layer for mark in paper.marks}
    top = pane.room[3]
    words = f"{title} {scale_words(pane.scale, units)}"
    paper.put(Text(pens.SHEET, (0.5, round(top + 4.5, 3)), words, 3.0, bold=True))
    draw_north(paper, (5.5, round(top + 16.0, 3)), pane.axes)
    draw_bar(paper, (14.0, round(top + 14.0, 3)), pane.scale, units)
    at = (_BESIDE + 18.0, round(top + 8.5, 3))
    draw_row(paper, at, paper.width - at[0], used)


def told_of_room(report: Report) -> str:
    """Return what a room's plan shows, in sentences."""
    counts = report.counts
    told = verdicts(report.judgements)
    bad = [name for name, verdict in sorted(told.items()) if verdict == "not-met"]
    asked = [name for name, verdict in sorted(told.items()) if verdict == "open"]
    parts = [f"Plan to scale of {report.scene}, north up."]
    if bad:
        parts.append(f"Something is not met at {', '.join(bad)}.")
    if asked:
        parts.append(f"Something is open at {', '.join(asked)}.")
    parts.append(
        f"{counts['not-met']} judgements are not met, {counts['open']} open, "
        f"{counts['met']} met."
    )
    return clean(" ".join(parts))
