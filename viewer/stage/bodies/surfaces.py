"""Surfaces and edges of simple bodies, and the edges of any body."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Protocol

import numpy as np

if TYPE_CHECKING:
    from viewer.stage.drawn import Faces, Point, Points

NO_POINTS: Final[Points] = np.empty((0, 3))
NO_FACES: Final[Faces] = np.empty((0, 3), dtype=np.int64)
NO_EDGES: Final[Points] = np.empty((0, 2, 3))

_CORNERS: Final = np.array(
    [(x, y, z) for z in (0, 1) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))], float
)
_FACES: Final = np.array(
    [*map(int, "021032456467015054126165237276304347")], dtype=np.int64
).reshape(-1, 3)
_EDGES: Final = np.array([*map(int, "011223304556677404152637")]).reshape(-1, 2)
_SAME: Final = 1e-4
"""Metres. Corners nearer to one another are the same."""
_OFF: Final = 0.37 * _SAME
_SPREAD: Final = np.array(
    [0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9], dtype=np.uint64
)
"""Large odd numbers: places that differ give sums that differ."""
_SHARP: Final = 30.0
"""Degrees. Faces that meet at less belong to one curved surface."""


class UprightFrame(Protocol):
    """The frame of an item, a wall or a space: right, out and up."""

    @property
    def mirrors(self) -> bool:
        """Whether right, out, up is a left-handed system."""

    def world(self, points: Points) -> Points:
        """Return frame points, shape (n, 3), in the world."""


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """Triangles and the lines drawn with them.

    Attributes:
        vertices: Shape (n, 3), metres.
        faces: Shape (m, 3).
        edges: Shape (k, 2, 3), metres.
    """

    vertices: Points
    faces: Faces
    edges: Points


def block(frame: UprightFrame, low: Point, high: Point) -> Surface:
    """Return the box between two corners of a frame."""
    points = frame.world(np.array(low) + _CORNERS * np.subtract(high, low))
    return Surface(points, outward(frame, _FACES), points[_EDGES])


def one_surface(surfaces: list[Surface]) -> Surface:
    """Return several surfaces as one."""
    if not surfaces:
        return Surface(NO_POINTS, NO_FACES, NO_EDGES)
    counts = [len(one.vertices) for one in surfaces]
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    return Surface(
        np.concatenate([one.vertices for one in surfaces]),
        np.concatenate(
            [one.faces + n for one, n in zip(surfaces, starts, strict=True)]
        ),
        np.concatenate([one.edges for one in surfaces]),
    )


def quad(frame: UprightFrame, corners: list[Point]) -> Surface:
    """Return a flat face through four points of a frame, in their order."""
    points = frame.world(np.array(corners, dtype=float))
    faces = np.array([(0, 1, 2), (0, 2, 3)], dtype=np.int64)
    return Surface(points, faces, NO_EDGES)


def lines(frame: UprightFrame, points: list[Point], *, closed: bool = False) -> Points:
    """Return the edges along points of a frame, shape (k, 2, 3)."""
    world = frame.world(np.array(points, dtype=float))
    after = np.concatenate([world[1:], world[:1]])
    edges = np.stack([world, after], axis=1)
    return edges if closed else edges[:-1]


def dashed(edges: Points, dash: float = 0.05, gap: float = 0.04) -> Points:
    """Return edges as dashes, shape (k, 2, 3); lengths in metres."""
    found = []
    for start, end in edges:
        length = float(np.linalg.norm(end - start))
        count = max(1, round(length / (dash + gap)))
        # Whole dashes at both ends, so that corners are drawn.
        at = np.arange(count + 1) / (count + dash / (dash + gap))
        share = at[1] * dash / (dash + gap)
        step = end - start
        ends = np.stack([at, np.minimum(at + share, 1.0)], axis=1)
        found.append(start + ends[:, :, None] * step)
    return np.concatenate(found) if found else NO_EDGES


def outward(frame: UprightFrame, faces: Faces) -> Faces:
    """Return faces so that they look the same way in a frame that mirrors."""
    return faces[:, ::-1] if frame.mirrors else faces


def sharp_edges(vertices: Points, faces: Faces) -> Points:
    """Return the edges where a surface bends or ends, shape (k, 2, 3).

    Corners that stand in the same place count as one, as in files that repeat them
    for every face, and in bodies cut in single precision.
    """
    if not len(faces):
        return NO_EDGES
    first, of = _distinct(vertices)
    places, faces = vertices[first], of[faces]
    triangles = places[faces]
    normals = np.cross(
        triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    )
    length = np.sqrt(np.einsum("ij,ij->i", normals, normals))
    whole = length > 0
    faces, normals = faces[whole], normals[whole] / length[whole, None]
    sides = np.sort(faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    keys = sides[:, 0] * len(places) + sides[:, 1]
    order = np.argsort(keys, kind="stable")
    owner = order // 3
    _, start, count = np.unique(keys[order], return_index=True, return_counts=True)
    pairs = sides[order[start]]
    drawn = count == 1
    shared = np.flatnonzero(count > 1)
    one, other = owner[start[shared]], owner[start[shared] + 1]
    cosine = np.einsum("ij,ij->i", normals[one], normals[other])
    drawn[shared[cosine < np.cos(np.radians(_SHARP))]] = True
    edges: Points = places[pairs[drawn]]
    return edges


def _distinct(vertices: Points) -> tuple[Faces, Faces]:
    """Return the first corner of each place, and of each corner its place."""
    # Off the round numbers that people write, which would lie between two steps.
    steps = np.round((vertices + _OFF) / _SAME).astype(np.int64)
    # One number a place is found much faster than three. It may wrap around.
    keys = (steps.astype(np.uint64) * _SPREAD).sum(axis=1, dtype=np.uint64)
    _, first, of = np.unique(keys, return_index=True, return_inverse=True)
    return first, of.reshape(-1)


def cover(outline: Points) -> Faces:
    """Return triangles that cover a simple polygon, shape (n - 2, 3).

    Args:
        outline: Plan points, shape (n, 2), counter-clockwise.
    """
    left = list(range(len(outline)))
    found: list[tuple[int, int, int]] = []
    while len(left) > 3:  # noqa: PLR2004 - a triangle covers itself
        place = next((n for n in range(len(left)) if _is_ear(outline, left, n)), 0)
        found.append((left[place - 1], left[place], left[(place + 1) % len(left)]))
        del left[place]
    found.append((left[0], left[1], left[2]))
    return np.array(found, dtype=np.int64)


def _is_ear(outline: Points, left: list[int], place: int) -> bool:
    before, here, after = left[place - 1], left[place], left[(place + 1) % len(left)]
    a, b, c = outline[before], outline[here], outline[after]
    if _side(a, b, c) <= 0:
        return False
    others = (outline[n] for n in left if n not in {before, here, after})
    return not any(
        min(_side(a, b, p), _side(b, c, p), _side(c, a, p)) >= 0 for p in others
    )


def _side(a: Points, b: Points, c: Points) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def ribbon_piece(one: Points, after: Points, half: float, corners: int) -> Points:
    """Return a piece of ribbon with round ends in plan, counter-clockwise.

    Args:
        one: The middle of one end.
        after: The middle of the other.
        half: Half its width.
        corners: Of each round end.
    """
    turn = math.atan2(after[1] - one[1], after[0] - one[0])
    ends = []
    for middle, start in ((after, turn - math.pi / 2), (one, turn + math.pi / 2)):
        angles = np.linspace(start, start + math.pi, corners)
        ends.append(middle + half * np.column_stack([np.cos(angles), np.sin(angles)]))
    return np.concatenate(ends)
