"""Required sizes and what is there, as chains of dimensions beside a view."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from model3d.wording import bracketed
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import DimensionLine
from viewer.figure.drafting.labels.label import SIZE, FigureLabel, at_point
from viewer.figure.drafting.labels.spots import extent
from viewer.figure.drafting.typeface import wide
from viewer.figure.lettering.amount import two_lines
from viewer.stage.bodies.dimensions import dimensions
from viewer.wording.shortfall import shortfall
from viewer.wording.sizes import lacking, of, required

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from model3d import Judgement
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.stage.drawn import Dimension

Side = Literal["left", "right", "top", "bottom"]
"""Beside which edge of a view a chain stands."""

LANE: Final = 5.5
"""Millimetres from one dimension line to the next."""
FIRST: Final = 4.5
"""Millimetres from a view to its first dimension line."""
_LEAST: Final = 1e-6
_NOWHERE: Final = (0.0, 0.0, 0.0, 0.0)
_APART: Final = 0.02
"""Metres that two chains in one lane are apart."""


@dataclass(frozen=True, slots=True)
class Link:
    """One length of a chain.

    Attributes:
        start, end: In the view, metres.
        lines: What is written.
        missing: It is what is not there.
    """

    start: Spot
    end: Spot
    lines: tuple[str, ...]
    missing: bool = False

    @property
    def metres(self) -> float:
        """Its length."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Chain:
    """Lengths one after the other on one line.

    Attributes:
        name: Which size it tells.
        side: Where its line stands.
        links: Its lengths.
    """

    name: str
    side: Side
    links: tuple[Link, ...]

    @property
    def upright(self) -> bool:
        """Whether its line runs up the paper."""
        return self.side in {"left", "right"}

    @property
    def span(self) -> tuple[float, float]:
        """From where to where it runs along its line, metres of the view."""
        axis = 1 if self.upright else 0
        ends = [end[axis] for link in self.links for end in (link.start, link.end)]
        return min(ends), max(ends)


def chains(
    judgement: Judgement,
    units: str,
    axes: Axes,
    sizes: Iterable[Dimension] | None = None,
) -> Iterator[Chain]:
    """Yield the sizes of a judgement that lie flat in a view.

    Args:
        judgement: What was tested.
        units: Of the scene.
        axes: From where the view looks.
        sizes: Its dimension lines, where they are known from another view.
    """
    for size in dimensions(judgement, 0, units) if sizes is None else sizes:
        ends = np.array([size.start, size.end, size.reached_start, size.reached_end])
        seen = axes.seen(ends)
        step = seen[1] - seen[0]
        length = float(np.linalg.norm(step))
        flat = [abs(float(one)) > _LEAST for one in step]
        if length < _LEAST or flat[2] or flat[0] == flat[1]:
            continue
        aside = axes.seen(np.array([np.add(axes.origin, size.aside)]))[0]
        spots = [(float(x), float(y)) for x, y, _ in seen]
        links = tuple(_links(judgement, size, spots, units))
        yield Chain(size.name, _side(aside, upright=flat[1]), links)


def own_size(start: Spot, end: Spot, units: str) -> Link:
    """Return a length of the thing itself."""
    metres = math.dist(start, end)
    return Link(start, end, two_lines(metres, units))


def _side(aside: np.ndarray, *, upright: bool) -> Side:
    if upright:
        return "right" if aside[0] > _LEAST else "left"
    return "top" if aside[1] > _LEAST else "bottom"


def _links(
    judgement: Judgement, size: Dimension, spots: Sequence[Spot], units: str
) -> Iterator[Link]:
    start, end, reached_start, reached_end = spots
    first, second = required(judgement, size.name, units)
    needed = bracketed((first, second))
    short = shortfall(judgement)
    if not size.short or short is None:
        limit = "at most " if size.most else ""
        words = (f"{limit}{first}", f"({second})" if second else "")
        yield Link(start, end, tuple(filter(None, words)))
        return
    if size.most:
        yield Link(start, end, (needed, "allowed"))
        yield Link(
            end, reached_end, two_lines(short.by, units, short.too), missing=True
        )
        return
    there = short.provided or 0.0
    if there > _LEAST:
        words = two_lines(there, units, "there")
        yield Link(reached_start, reached_end, words)
    lost = (reached_end, end)
    if math.dist(reached_end, end) < _LEAST:
        lost = (start, reached_start)
    if math.dist(*lost) > _LEAST:
        by, by_other = lacking(judgement, short, units)
        lines = (f"{by} short", f"({by_other})" if by_other else "", of(needed))
        yield Link(*lost, tuple(filter(None, lines)), missing=True)


def lanes(found: Iterable[Chain]) -> dict[Side, list[list[Chain]]]:
    """Return chains in lanes beside each edge, so that none overlap in a lane."""
    sides: dict[Side, list[list[Chain]]] = {}
    for chain in found:
        low, high = chain.span
        for lane in sides.setdefault(chain.side, []):
            spans = [one.span for one in lane]
            if all(high + _APART < a or b + _APART < low for a, b in spans):
                lane.append(chain)
                break
        else:
            sides[chain.side].append([chain])
    return sides


def depth_of(found: Sequence[Sequence[Chain]]) -> float:
    """Return how much room the lanes of one edge take, millimetres."""
    return FIRST + LANE * (len(found) - 1) + 1.5 if found else 0.0


def words_width(found: Iterable[Sequence[Chain]]) -> float:
    """Return how wide the words of upright chains are, millimetres."""
    return max(
        (
            extent(FigureLabel(link.lines, _NOWHERE, _NOWHERE, bold=9))[0]
            for lane in found
            for chain in lane
            for link in chain.links
        ),
        default=0.0,
    )


def draw_chains(paper: Paper, pane: Pane, sides: dict[Side, list[list[Chain]]]) -> None:
    """Draw chains in the margins of a view."""
    left, top, right, bottom = pane.box
    for side, found in sides.items():
        told = []
        for number, lane in enumerate(found):
            off = FIRST + LANE * number
            level = {
                "left": left - off,
                "right": right + off,
                "top": top - off,
                "bottom": bottom + off,
            }[side]
            told += [
                (chain, link, round(level, 3)) for chain in lane for link in chain.links
            ]
        # What is missing has its words beside it first, then what is longest across:
        # the words of the others are led to what room is left.
        for chain, link, level in sorted(
            told,
            key=lambda one: (
                not one[1].missing,
                0.0 if one[0].upright else -round(one[1].metres, 3),
            ),
        ):
            _draw(paper, pane, (chain, link), level)


def _draw(paper: Paper, pane: Pane, told: tuple[Chain, Link], level: float) -> None:
    chain, link = told
    upright = chain.upright
    start, end = pane.at(*link.start), pane.at(*link.end)
    if upright:
        line = ((level, start[1]), (level, end[1]))
    else:
        line = ((start[0], level), (end[0], level))
    middle = ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)
    layer = pens.MISSING if link.missing else pens.SIZE
    mark = DimensionLine(layer, start, end, line, link.metres, pane.scale)
    lines = link.lines
    one = " ".join(lines)
    if not upright and wide(one, SIZE, bold=link.missing) < abs(end[0] - start[0]):
        lines = (one,)
    label = FigureLabel(
        lines,
        at_point(middle),
        pane.room,
        layer=layer,
        bold=9 * link.missing,
        about=chain.name,
    )
    if not upright and extent(label)[0] > abs(end[0] - start[0]):
        label = replace(label, rows=_rows(label, middle, chain.side), far=_FAR)
    paper.dimension(mark, label)


_ROWS: Final = (
    (0, 0.0), (0, 0.25), (0, -0.25), (1, 0.0), (0, 0.5), (0, -0.5), (1, 0.25),
    (1, -0.25), (1, 0.5), (1, -0.5), (0, 0.75), (0, -0.75), (1, 0.75), (1, -0.75),
    (1, 1.0), (1, -1.0),
)  # fmt: skip
"""Where the words of a chain across are tried: in which row beside it, and how many
times their width aside of the middle of their link."""
_OFF: Final = 2.0
"""Millimetres between a chain across and its words, past its extension lines."""
_FAR: Final = 24.0
"""Millimetres that words are led away from a link that is too narrow for them."""
_BETWEEN: Final = 1.2
"""Millimetres between rows of words."""


def _rows(label: FigureLabel, middle: Spot, side: Side) -> tuple[Spot, ...]:
    """Return the places of words beside a chain across, outside the view."""
    across, high = extent(label)
    out = 1 if side == "bottom" else -1
    return tuple(
        (
            middle[0] + aside * across,
            middle[1] + out * (_OFF + high / 2 + row * (high + _BETWEEN)),
        )
        for row, aside in _ROWS
    )
