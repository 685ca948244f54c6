"""Sizes on a picture: where their lines are drawn, and what texts keep off."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.sheet.sign_places import Rectangle
from viewer.sheet.signage import RuledSize

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.sheet.projection import Projection
    from viewer.sheet.sign_places import Spot
    from viewer.stage.drawn import Dimension

_SHORTEST: Final = 14.0
"""Pixels. A dimension line that is seen shorter than that is left out."""
_BESIDE: Final = 7.0
"""Pixels. Half the side of the spots along a line that no text should cover."""
_OFFSET: Final = 0.14
"""Metres a dimension line is moved off its space."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A size in the picture.

    Attributes:
        size: What is written.
        rule: Its line; None where it would be too short to be seen.
        anchor: The pixel the text is about.
    """

    size: Dimension
    rule: RuledSize | None
    anchor: Spot


def measured(sizes: Sequence[Dimension], projection: Projection) -> Iterator[Measured]:
    """Yield sizes with their lines; one too short to be seen is written all the same.

    Unless it is one that is met: that matters too little. A lesson's own matters.
    """
    for one in sizes:
        rule = _rule(one, projection)
        if rule is not None:
            (a, b), (c, d) = rule.line
            yield Measured(one, rule, ((a + c) / 2, (b + d) / 2))
        elif one.short or one.judgement is None:
            middle = projection.pixels(np.array([one.start, one.end])).mean(axis=0)
            if np.isfinite(middle).all():
                yield Measured(one, None, (float(middle[0]), float(middle[1])))


def _rule(one: Dimension, projection: Projection) -> RuledSize | None:
    aside = np.array(one.aside) * _OFFSET
    points = np.array([one.start, one.end, one.reached_start, one.reached_end])
    on = projection.pixels(points[:2])
    off = projection.pixels(points[:2] + aside)
    second = projection.pixels(points[2:] + aside * 0.45)
    if not np.isfinite(np.concatenate([on, off, second])).all():
        return None
    if math.dist(on[0], on[1]) < _SHORTEST:
        return None
    reached = _pair(second) if one.short else None
    return RuledSize(_pair(on), _pair(off), reached, own=one.judgement is None)


def _pair(points: np.ndarray) -> tuple[Spot, Spot]:
    (a, b), (c, d) = points.tolist()
    return (a, b), (c, d)


def along_lines(drawn: Iterable[Measured], scale: float) -> Iterator[Rectangle]:
    """Yield spots along the lines of what is short, so that they stay to be seen."""
    half = _BESIDE * scale
    for one in drawn:
        if one.rule is None or one.rule.reached is None:
            continue
        for (a, b), (c, d) in (one.rule.line, one.rule.reached):
            count = max(2, round(math.hypot(c - a, d - b) / (3 * half)))
            for n in range(count):
                x, y = (a + (c - a) * n / (count - 1), b + (d - b) * n / (count - 1))
                yield Rectangle(x - half, y - half, x + half, y + half)
