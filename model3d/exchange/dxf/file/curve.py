"""Lines and arcs of a plan, and arcs as lines that keep to one side of them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.geometry.frame import Corner

TOLERANCE: Final = 0.001
"""Metres between an arc and the lines that stand for it, on the safe side."""
SAME: Final = 1e-7
"""Metres between points that are one."""
_STRAIGHT: Final = 1e-9
_ROUND: Final = 0.01
_WIDEST: Final = math.pi / 4
_MOST: Final = 4096
"""Pieces of an arc; more are needed of a radius beyond a kilometre alone."""


@dataclass(frozen=True, slots=True)
class EllipseArc:
    """A part of an ellipse: at angle t is centre + u cos t + v sin t."""

    centre: Corner
    u: Corner
    v: Corner
    start: float
    end: float

    def at(self, angle: float, far: float = 1.0) -> Corner:
        """Return the point at an angle, or farther from the centre than that."""
        cosine, sine = far * math.cos(angle), far * math.sin(angle)
        return (
            self.centre[0] + self.u[0] * cosine + self.v[0] * sine,
            self.centre[1] + self.u[1] * cosine + self.v[1] * sine,
        )

    @property
    def turns_left(self) -> bool:
        """Whether it turns counter-clockwise."""
        turn = self.u[0] * self.v[1] - self.u[1] * self.v[0]
        return (self.end - self.start) * turn > 0

    @property
    def is_circular(self) -> bool:
        """Whether it is a part of a circle, up to a hundredth."""
        one, other = math.hypot(*self.u), math.hypot(*self.v)
        lean = abs(self.u[0] * self.v[0] + self.u[1] * self.v[1])
        return abs(one - other) <= _ROUND * one and lean <= _ROUND * one * other

    @property
    def radius(self) -> float:
        """The longer of its half axes."""
        return max(math.hypot(*self.u), math.hypot(*self.v))


@dataclass(frozen=True, slots=True)
class CurvePiece:
    """A piece of a line, straight or an arc, from one point to another."""

    start: Corner
    end: Corner
    arc: EllipseArc | None = None

    def back(self) -> CurvePiece:
        """Return it from its end to its start."""
        arc = self.arc
        if arc is not None:
            arc = EllipseArc(arc.centre, arc.u, arc.v, arc.end, arc.start)
        return CurvePiece(self.end, self.start, arc)


def along(arc: EllipseArc) -> CurvePiece:
    """Return an arc as a piece of a line."""
    return CurvePiece(arc.at(arc.start), arc.at(arc.end), arc)


def bulged(start: Corner, end: Corner, bulge: float) -> CurvePiece:
    """Return a piece of a polyline.

    Args:
        start: Where it begins.
        end: Where it ends.
        bulge: The tangent of a quarter of the angle that it turns to the left.

    >>> bulged((0.0, 0.0), (2.0, 0.0), 1.0).arc.centre
    (1.0, 0.0)
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(bulge) < _STRAIGHT or math.hypot(dx, dy) < SAME:
        return CurvePiece(start, end)
    off = (1 - bulge * bulge) / (4 * bulge)
    centre = (start[0] + end[0]) / 2 - dy * off, (start[1] + end[1]) / 2 + dx * off
    radius = math.dist(centre, start)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    last = first + 4 * math.atan(bulge)
    return CurvePiece(
        start, end, EllipseArc(centre, (radius, 0.0), (0.0, radius), first, last)
    )


def flat(edges: Sequence[CurvePiece], *, outward: bool) -> tuple[Corner, ...]:
    """Return the corners of a counter-clockwise ring with its arcs as straight lines.

    Args:
        edges: The ring.
        outward: The lines leave nothing of its inside out; else they take in nothing
            of its outside.
    """
    points: list[Corner] = []
    for edge in edges:
        outside = edge.arc is not None and edge.arc.turns_left == outward
        points += [edge.start, *_between(edge.arc, outside=outside), edge.end]
    return tuple(_parted(points))


def middle(edges: Sequence[CurvePiece]) -> tuple[Corner, ...]:
    """Return the corners of a line that does not close, on its arcs."""
    points: list[Corner] = []
    for edge in edges:
        points += [edge.start, *_between(edge.arc, outside=False), edge.end]
    kept = [*_parted(points)]
    return (*kept, points[-1]) if len(kept) == 1 else tuple(kept)


def _between(arc: EllipseArc | None, *, outside: bool) -> Iterator[Corner]:
    if arc is None:
        return
    sweep = arc.end - arc.start
    step = 2 * math.acos(arc.radius / (arc.radius + TOLERANCE))
    count = min(math.ceil(abs(sweep) / min(step, _WIDEST)), _MOST)
    if outside:  # where the tangents of two points meet
        far = 1 / math.cos(sweep / count / 2)
        for number in range(count):
            yield arc.at(arc.start + sweep * (number + 0.5) / count, far)
    else:
        for number in range(1, count):
            yield arc.at(arc.start + sweep * number / count)


def _parted(points: Sequence[Corner]) -> Iterator[Corner]:
    """Yield points without those that repeat the one before, the first after all."""
    last: Corner | None = None
    for number, point in enumerate(points):
        at_end = number == len(points) - 1 and math.dist(point, points[0]) < SAME
        if not at_end and (last is None or math.dist(point, last) >= SAME):
            yield point
            last = point


def area(points: Sequence[Corner]) -> float:
    """Return the area within a ring, below zero where it turns clockwise."""
    x, y = points[0] if points else (0.0, 0.0)
    ends = zip(points, (*points[1:], *points[:1]), strict=True)
    return sum((a[0] - x) * (b[1] - y) - (b[0] - x) * (a[1] - y) for a, b in ends) / 2
