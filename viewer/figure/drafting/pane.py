"""One view on a paper: a window of the world at a scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting.drawing import Fill, Hatch, Line
from viewer.figure.drafting.hatch import hatched
from viewer.figure.drafting.hidden_lines import clipped, cropped, shifted
from viewer.figure.drafting.pens import PENS

if TYPE_CHECKING:
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.drafting.strokes import Box

MILLIMETRES: Final = 1000.0


@dataclass(frozen=True, slots=True)
class Pane:
    """A window of the world on the paper.

    Attributes:
        axes: From where it looks.
        low, high: The window, right and up of the axes, metres.
        scale: How many millimetres one millimetre of paper stands for.
        left, top: Of the window on the paper, millimetres.
        room: The part of the paper that belongs to it, its margins included.
    """

    axes: Axes
    low: Spot
    high: Spot
    scale: float
    left: float
    top: float
    room: Box

    @property
    def box(self) -> Box:
        """The window on the paper, millimetres."""
        right, bottom = self.at(self.high[0], self.low[1])
        return self.left, self.top, right, bottom

    def at(self, right: float, up: float) -> Spot:
        """Return where a point of the view is on the paper."""
        share = MILLIMETRES / self.scale
        x = self.left + (right - self.low[0]) * share
        y = self.top + (self.high[1] - up) * share
        return round(float(x), 3), round(float(y), 3)

    def spots(self, points: Points) -> tuple[Spot, ...]:
        """Return points of the view, shape (n, 2), on the paper."""
        share = MILLIMETRES / self.scale
        x, y, left, top = self.low[0], self.high[1], self.left, self.top
        return tuple(
            (round((a - x) * share + left, 3), round((y - b) * share + top, 3))
            for a, b in points.tolist()
        )

    def lines(self, paper: Paper, layer: str, segments: Points) -> None:
        """Draw what of segments, shape (n, 2, 2), lies in the window."""
        low, high = np.array(self.low), np.array(self.high)
        whole = (segments >= low).all() and (segments <= high).all()
        kept = segments if whole else clipped(segments, low, high)
        spots = self.spots(kept.reshape(-1, 2))
        paper.put(
            *(
                Line(layer, (one, other))
                for one, other in zip(spots[::2], spots[1::2], strict=True)
            )
        )

    def outline(self, paper: Paper, layer: str, outline: Points) -> None:
        """Draw an outline, as far as it lies in the window."""
        low, high = np.array(self.low), np.array(self.high)
        if (outline >= low).all() and (outline <= high).all():
            paper.put(Line(layer, self.spots(outline), closed=True))
            return
        after = shifted(outline)
        self.lines(paper, layer, np.stack([outline, after], axis=1))

    def hatch(self, paper: Paper, layer: str, outline: Points) -> None:
        """Hatch a surface, as far as it lies in the window."""
        spots = self._cropped(outline)
        pattern = PENS[layer].pattern
        if spots and pattern is not None:
            paper.put(Hatch(layer, spots, hatched(spots, pattern)))

    def area(self, paper: Paper, layer: str, outline: Points) -> None:
        """Fill a surface, as far as it lies in the window."""
        spots = self._cropped(outline)
        if spots:
            paper.put(Fill(layer, spots))

    def _cropped(self, outline: Points) -> tuple[Spot, ...]:
        kept = cropped(outline, np.array(self.low), np.array(self.high))
        return self.spots(kept) if len(kept) > 2 else ()  # noqa: PLR2004 - a surface

    def holds(self, point: Spot) -> bool:
        """Tell whether a point of the view lies in the window."""
        inside = zip(self.low, point, self.high, strict=True)
        return all(low <= here <= high for low, here, high in inside)
