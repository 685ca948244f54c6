"""Where signs go in a picture: near what they name, and never over one another."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]

Spot = tuple[float, float]

_TURNS: Final = 16
_AROUND: Final = np.array(
    [
        (math.sin(2 * math.pi * n / _TURNS), -math.cos(2 * math.pi * n / _TURNS))
        for n in range(_TURNS)
    ]
)
"""Ways from an anchor to the places of a ring, the one above it first."""
_GROWTH: Final = 1.35
"""Each ring of places that are tried is so much wider than the one before."""
_CROSSED: Final = 60.0
"""Pixels further away that are as bad as a leader across another one."""
_COVERED: Final = 140.0
"""Pixels further away that are as bad as hiding what must be seen altogether."""
_HIDDEN: Final = 25.0
"""Pixels further away that are as bad as hiding one spot of a line."""
_TURNED: Final = 8.0
"""Pixels further away that are as bad as standing below and not above."""

_ASTRAY: Final = 160.0
"""Pixels further away that are as bad as standing on the wrong side of the anchor."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """An upright rectangle of a picture, pixels."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Rectangle) -> bool:
        """Whether two rectangles share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def wider(self, by: float) -> Rectangle:
        """Return the rectangle with every side moved outwards."""
        return Rectangle(
            self.left - by, self.top - by, self.right + by, self.bottom + by
        )

    def holds(self, spot: Spot) -> bool:
        """Whether a pixel is in it or on its edge."""
        x, y = spot
        return self.left <= x <= self.right and self.top <= y <= self.bottom

    def nearest(self, spot: Spot) -> Spot:
        """Return the pixel in it that is nearest to another."""
        x, y = spot
        return min(max(x, self.left), self.right), min(max(y, self.top), self.bottom)

    @property
    def middle(self) -> Spot:
        """The middle point."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


@dataclass(frozen=True, slots=True)
class Sign:
    """Something that wants a place.

    Attributes:
        anchor: The pixel it points at.
        width, height: Its size, pixels.
        near: How far its nearest side would best be from the anchor.
        far: How far it may go; beyond that it is left out.
        must: It is never left out, however far it goes.
        on: It may lie on its anchor, and does if it can.
        towards: On which side of the anchor it would best lie, as far right and down as
            this; None: above.
    """

    anchor: Spot
    width: float
    height: float
    near: float
    far: float
    must: bool = False
    on: bool = False
    towards: Spot | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Soft:
    """What signs may cover if they must: boxes of shape (n, 4)."""

    clear: Numbers
    spots: Numbers

    def cost(self, boxes: Numbers) -> Numbers:
        """Return how bad it is where boxes lie, in pixels further away."""
        areas = (boxes[:, 2:] - boxes[:, :2]).prod(axis=1)
        found = _COVERED * _shared(boxes, self.clear).sum(axis=1) / areas
        whole = (self.spots[:, 2:] - self.spots[:, :2]).prod(axis=1)
        hidden = (_shared(boxes, self.spots) / whole).sum(axis=1)
        return np.asarray(found + _HIDDEN * hidden)


def place(
    signs: Sequence[Sign],
    frame: Rectangle,
    *,
    taken: Iterable[Rectangle] = (),
    keep_clear: Iterable[Rectangle] = (),
    spots: Iterable[Rectangle] = (),
    gap: float = 3.0,
) -> list[Rectangle | None]:
    """Find a place for every sign, the first first.

    Args:
        signs: What wants a place, what matters most first.
        frame: Where signs may be.
        taken: Where none may be.
        keep_clear: What is better not covered.
        spots: Along lines; each of them is better not covered, small as it is.
        gap: Between two signs, pixels.

    Returns:
        For each sign its place, or None where there is none. Signs that ``must`` have
        one lie outside the frame if it is full.
    """
    hard = [box.wider(gap / 2) for box in taken]
    soft = _Soft(_table([*keep_clear]), _table([*spots]))
    leaders: list[tuple[Spot, Spot]] = []
    found: list[Rectangle | None] = []
    for sign in signs:
        box = _best(sign, frame, hard, soft, leaders, gap)
        found.append(box)
        if box is not None:
            hard.append(box.wider(gap / 2))
            leaders.append((sign.anchor, box.middle))
    return found


def _best(
    sign: Sign,
    frame: Rectangle,
    hard: list[Rectangle],
    soft: _Soft,
    leaders: list[tuple[Spot, Spot]],
    gap: float,
) -> Rectangle | None:
    boxes, away = _candidates(sign, frame)
    inside = (
        (boxes[:, 0] >= frame.left)
        & (boxes[:, 1] >= frame.top)
        & (boxes[:, 2] <= frame.right)
        & (boxes[:, 3] <= frame.bottom)
    )
    wide = boxes + np.array([-1.0, -1.0, 1.0, 1.0]) * gap / 2
    free = inside & ~(_shared(wide, _table(hard)) > 0).any(axis=1)
    if not sign.must:
        free &= away <= sign.far
    if not free.any():
        return _outside(sign, frame, hard, gap) if sign.must else None
    boxes, away = boxes[free], away[free]
    middles = (boxes[:, :2] + boxes[:, 2:]) / 2
    cost = away + _aside(sign, middles) + soft.cost(boxes)
    cost += _CROSSED * _crossings(sign.anchor, middles, leaders)
    left, top, right, bottom = boxes[int(cost.argmin())]
    return Rectangle(float(left), float(top), float(right), float(bottom))


def _aside(sign: Sign, middles: Numbers) -> Numbers:
    """Return how bad it is on which side of the anchor signs lie, in pixels."""
    off = middles - sign.anchor
    if sign.towards is None:
        return np.asarray(_TURNED * (off[:, 1] > 0.0))
    lengths = np.hypot(*off.T) * math.hypot(*sign.towards)
    right = (off @ np.array(sign.towards)) / np.where(lengths > 0.0, lengths, 1.0)
    return np.asarray(_ASTRAY * (1.0 - right) / 2.0)


def _candidates(sign: Sign, frame: Rectangle) -> tuple[Numbers, Numbers]:
    """Return places about the anchor, shape (n, 4), and how far each is from it."""
    x, y = sign.anchor
    half = np.array([sign.width / 2, sign.height / 2])
    farther = max(abs(frame.left - x), abs(frame.right - x))
    most = math.hypot(farther, max(abs(frame.top - y), abs(frame.bottom - y)))
    distance, rings = max(sign.near, 1.0), []
    while distance < (most if sign.must else sign.far * _GROWTH):
        rings.append(distance)
        distance *= _GROWTH
    off = np.array(rings)[:, None, None] + half
    middles = (sign.anchor + _AROUND * off).reshape(-1, 2)
    away = np.repeat(rings, _TURNS)
    if sign.on:
        middles = np.vstack([sign.anchor, middles])
        away = np.concatenate([[0.0], away])
    return np.hstack([middles - half, middles + half]), away


def _outside(
    sign: Sign, frame: Rectangle, hard: list[Rectangle], gap: float
) -> Rectangle:
    """Return the first free place in a row below the frame: it was full."""
    top = frame.bottom + gap
    while True:
        left = frame.left
        while left + sign.width <= frame.right or left == frame.left:
            box = Rectangle(left, top, left + sign.width, top + sign.height)
            if not any(box.overlaps(other) for other in hard):
                return box
            left += sign.width + gap
        top += sign.height + gap


def _shared(boxes: Numbers, others: Numbers) -> Numbers:
    """Return the area each box shares with each of the others, shape (n, m)."""
    low = np.maximum(boxes[:, None, :2], others[None, :, :2])
    high = np.minimum(boxes[:, None, 2:], others[None, :, 2:])
    area: Numbers = np.clip(high - low, 0.0, None).prod(axis=2)
    return area


def _crossings(
    anchor: Spot, middles: Numbers, leaders: list[tuple[Spot, Spot]]
) -> Numbers:
    """Return how many leaders the line from the anchor to each middle crosses."""
    if not leaders:
        return np.zeros(len(middles))
    a = np.array(anchor)
    c = np.array([one for one, _ in leaders])
    d = np.array([other for _, other in leaders])
    b = middles[:, None, :]
    one = _side(a, b, c[None]) * _side(a, b, d[None])
    two = _side(c[None], d[None], a) * _side(c[None], d[None], b)
    crossed: Numbers = ((one < 0) & (two < 0)).sum(axis=1).astype(float)
    return crossed


def _side(a: Numbers, b: Numbers, p: Numbers) -> Numbers:
    found: Numbers = (b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1]) - (
        b[..., 1] - a[..., 1]
    ) * (p[..., 0] - a[..., 0])
    return found


def _table(boxes: list[Rectangle]) -> Numbers:
    rows = [(box.left, box.top, box.right, box.bottom) for box in boxes]
    return np.array(rows, dtype=float).reshape(-1, 4)
