"""The floor of a room, or the ground of a place outdoors, with a grid for scale."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.bodies.surfaces import NO_EDGES, cover
from viewer.stage.bodies.walls import BAND, mark
from viewer.stage.drawn import Shape
from viewer.stage.layers import ROOM

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement
    from viewer.stage.drawn import Faces, Point, Points

_MARGIN: Final = 1.2
"""Metres of ground drawn about what stands outdoors."""
_SLAB: Final = 0.1
"""Metres. Thickness of the drawn floor."""
_STEP: Final = {"mm": 1.0, "m": 1.0, "in": 0.9144, "ft": 0.9144}
"""Metres between lines of the grid: one metre, or three feet."""
_MOST_LINES: Final = 200
"""A place so wide that more would be needed gets no grid."""
_LEVEL: Final = 0.0015
"""Metres. How far the grid lies above the floor, so that both are seen."""

_GRID_WORDS: Final = {"mm": "1 m", "m": "1 m", "in": "3 ft", "ft": "3 ft"}
"""The step of the grid in words, by the scene's units."""


def ground_shapes(arrangement: Arrangement, low: Point, high: Point) -> Iterator[Shape]:
    """Yield the floor and its grid.

    Args:
        arrangement: The room.
        low: Lowest corner of all that is drawn.
        high: Highest corner of all that is drawn.
    """
    outline = _outline(arrangement, low, high)
    walled = len(arrangement.shell.open_sides) < len(arrangement.shell.lines)
    yield _floor(outline)
    yield _slab(_wider(outline, BAND) if walled else outline)
    grid = _grid(outline, _STEP[arrangement.scene.units])
    if len(grid):
        words = f"grid {_GRID_WORDS[arrangement.scene.units]}"
        yield replace(mark("grid", "", grid, colour=palette.GRID), about=words)


def _outline(arrangement: Arrangement, low: Point, high: Point) -> Points:
    shell = arrangement.shell
    if shell.lines and not shell.open_sides:
        return np.array(shell.outline)
    corners = np.array([*shell.outline, low[:2], high[:2]])
    (a, b), (c, d) = corners.min(axis=0) - _MARGIN, corners.max(axis=0) + _MARGIN
    for line in shell.lines:
        # Open ground goes on past an open side, and ends at the face of a wall.
        if line.name not in shell.open_sides:
            (x, y), (ox, oy) = line.start, line.frame.out
            a, b = (x if ox == 1 else a), (y if oy == 1 else b)
            c, d = (x if ox == -1 else c), (y if oy == -1 else d)
    return np.array([(a, b), (c, b), (c, d), (a, d)])


def _floor(outline: Points) -> Shape:
    vertices = np.column_stack([outline, np.zeros(len(outline))])
    return _surface("floor", vertices, cover(outline), NO_EDGES, palette.FLOOR)


def _slab(outline: Points) -> Shape:
    """Return the sides of the floor, as of a model that stands on a table."""
    count = len(outline)
    vertices = np.concatenate(
        [
            np.column_stack([outline, np.full(count, level)])
            for level in (-_SLAB, -_LEVEL)
        ]
    )
    here = np.arange(count)
    after = np.roll(here, -1)
    top = cover(outline) + count
    sides = np.concatenate(
        [
            np.column_stack([here, after, after + count]),
            np.column_stack([here, after + count, here + count]),
        ]
    )
    edges = np.stack([vertices[here], vertices[after]], axis=1)
    faces = np.concatenate([sides, top])
    return _surface("floor/slab", vertices, faces, edges, palette.SLAB)


def _surface(
    shape_id: str, vertices: Points, faces: Faces, edges: Points, colour: str
) -> Shape:
    return Shape(
        id=shape_id,
        item="floor",
        layer=ROOM,
        role="surface",
        kind="floor",
        about="",
        vertices=vertices,
        faces=faces,
        edges=edges,
        colour=colour,
        edge_colour=palette.MARK,
        edge_width=1.0,
        edge_opacity=0.6,
        pickable=False,
    )


def _wider(outline: Points, by: float) -> Points:
    """Return a polygon with every side moved outwards."""
    along = np.roll(outline, -1, axis=0) - outline
    along = along / np.linalg.norm(along, axis=1)[:, None]
    after = np.column_stack([along[:, 1], -along[:, 0]])
    before = np.roll(after, 1, axis=0)
    share = 1 + np.einsum("ij,ij->i", before, after)
    # A corner so sharp that its tip would lie far off keeps a blunt one.
    mitre = (before + after) / np.maximum(share, 0.2)[:, None]
    wider: Points = outline + by * mitre
    return wider


def _grid(outline: Points, step: float) -> Points:
    found: list[list[Point]] = []
    for axis in (0, 1):
        low, high = outline[:, axis].min(), outline[:, axis].max()
        first, last = int(np.floor(low / step)) + 1, int(np.ceil(high / step))
        if last - first > _MOST_LINES:
            return NO_EDGES
        for n in range(first, last):
            for start, end in _inside(outline, axis, n * step):
                ends = [(start, n * step), (end, n * step)]
                turned = [pair[::-1] if axis == 0 else pair for pair in ends]
                found.append([(x, y, _LEVEL) for x, y in turned])
    return np.array(found) if found else NO_EDGES


def _inside(outline: Points, axis: int, level: float) -> list[tuple[float, float]]:
    """Return the stretches of a grid line that lie inside a polygon."""
    ends = np.roll(outline, -1, axis=0)
    a, b = outline[:, axis], ends[:, axis]
    crossing = (a > level) != (b > level)
    share = (level - a[crossing]) / (b[crossing] - a[crossing])
    one, two = outline[crossing, 1 - axis], ends[crossing, 1 - axis]
    at = sorted(float(value) for value in one + share * (two - one))
    return list(zip(at[::2], at[1::2], strict=True))
