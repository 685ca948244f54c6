"""What a hinged leaf sweeps, and the angle at which something stops it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.bodies.extents import turned_over
from model3d.geometry.bodies.solid import Mesh, Solid
from model3d.geometry.bodies.upright import Column
from model3d.geometry.overlap.shared import Body, shared_body
from model3d.geometry.tolerance import ARC, TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.frame import Frame, Triple

    Points = NDArray[np.float64]

QUARTER = 90.0
"""Degrees of the sweep: from closed until the leaf stands at right angles."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """The quarter of a round that a leaf sweeps from closed to 90 degrees.

    Attributes:
        frame: Origin at the hinge; ``right`` along the closed leaf, ``out`` ahead.
        radius: Width of the leaf, metres.
        bottom, top: World heights of the leaf, metres.
    """

    frame: Frame
    radius: float
    bottom: float
    top: float

    @property
    def bounds(self) -> tuple[Triple, Triple]:
        """Lowest and highest corner in the world, metres."""
        return self.frame.bounds(*self._box(0.0))

    def mesh(self) -> Mesh:
        """Return the swept body in the world, with the area of the true sector."""
        vertices, faces = self._column().mesh
        world, faces = self.frame.world(vertices), turned_over(faces, self.frame)
        return Mesh(world, faces, sound=True)

    def body(self, solid: Solid) -> Body:
        """Intersect the swept body with a solid that reaches into it."""
        return shared_body(self.frame, self._column(), solid, curved=True)

    def angle_reached(self, solid: Solid) -> float:
        """Return how far the leaf opens before it meets a solid, in degrees.

        90 where nothing stops it. The answer is exact: the least angle of a body
        inside the round is at a corner of its plan, or where an edge meets the arc.
        What reaches in no further than ``TOUCH`` is contact.
        """
        view = solid.seen_from(self.frame)
        low, high = self._box(TOUCH)
        if _least_angle(view.plan_edges(low, high), self.radius - TOUCH) is None:
            return QUARTER
        edges = view.plan_edges((0.0, 0.0, low[2]), (self.radius, self.radius, high[2]))
        least = _least_angle(edges, self.radius)
        return QUARTER if least is None else min(least, QUARTER)

    def straight_ahead(self, solid: Solid) -> float:
        """Return how far ahead a leaf at right angles meets a solid, metres.

        Its whole width where that is not in its way.
        """
        view = solid.seen_from(self.frame)
        low, high = self._box(TOUCH)
        edges = view.plan_edges((TOUCH, low[1], low[2]), (2 * TOUCH, high[1], high[2]))
        return min(float(edges[..., 1].min(initial=self.radius)), self.radius)

    def _box(self, slack: float) -> tuple[Triple, Triple]:
        end = self.radius - slack
        return (slack, slack, self.bottom + slack), (end, end, self.top - slack)

    def _column(self) -> Column:
        return Column(_sector(self.radius), self.bottom, self.top)


@lru_cache(maxsize=256)
def _sector(radius: float) -> Points:
    """Return the plan of a leaf's sweep in its own frame, shape (n, 2).

    The arc's points lie a little outside the round, so that the area is the true one.
    """
    count = max(6, math.ceil(math.pi / 4 / math.acos(1 - ARC / radius)))
    step = math.pi / 2 / count
    outer = radius * math.sqrt(step / math.sin(step))
    angles = np.arange(count + 1) * step
    arc = outer * np.column_stack([np.cos(angles), np.sin(angles)])
    return np.concatenate([np.zeros((1, 2)), arc])


def _least_angle(edges: Points, radius: float) -> float | None:
    """Return the least angle, in degrees, of edges (n, 2, 2) within a radius."""
    if not len(edges):
        return None
    start, end = edges[:, 0], edges[:, 1]
    step = end - start
    # |start + t step| = radius, a quadratic in t.
    a = np.einsum("ij,ij->i", step, step)
    b = np.einsum("ij,ij->i", start, step)
    c = np.einsum("ij,ij->i", start, start) - radius**2
    root = b**2 - a * c
    cuts = (root >= 0) & (a > 0)
    crossings = []
    for sign in (-1.0, 1.0):
        t = (-b[cuts] + sign * np.sqrt(root[cuts])) / a[cuts]
        on = (t >= 0) & (t <= 1)
        crossings.append(start[cuts][on] + t[on, None] * step[cuts][on])
    ends = np.concatenate([start, end])
    inside = ends[np.einsum("ij,ij->i", ends, ends) <= radius**2]
    points = np.concatenate([inside, *crossings])
    if not len(points):
        return None
    angles = np.degrees(np.arctan2(points[:, 1], points[:, 0]))
    return float(angles.min())
