"""Where an item may be put, as shapes on the floor and beside the walls."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.bodies.surfaces import NO_FACES, NO_POINTS, dashed
from viewer.stage.bodies.walls import BAND
from viewer.stage.drawn import Layer, Shape
from viewer.stage.layers import HEAD_HEIGHT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.mending.placing.drawn_map import FloorPlaces, WallStretch
    from viewer.stage.drawn import Faces, Point, Points
    from viewer.stage.parts import Stage

FREE: Final = "free-places"
LAYER: Final = Layer(FREE, "Free places", "Where the middle of the item may be.")
_LEVEL: Final = 0.008
"""Metres above the floor, so that the map is seen and hides nothing."""
_AWAY: Final = BAND + 0.05
"""Metres behind a wall's face: there nothing that hangs on the wall hides it."""
_WIDE: Final = 0.14
"""Metres. Width of the band beside a wall."""
_BAND: Final = "wall-"
_LEAST: Final = 0.04
"""Metres. Length of the band where there is one place only."""


def with_free(stage: Stage, ground: FloorPlaces) -> Stage:
    """Return a stage with a map on it, and without what is told of judgements."""
    return replace(
        stage,
        layers=(LAYER, *stage.layers),
        shapes=(
            *(one for one in stage.shapes if not _is_judged(one)),
            *free_shapes(ground),
        ),
        badges=(),
        dimensions=(),
        judgements=(),
    )


def _is_judged(shape: Shape) -> bool:
    told = {"space", "footprint", "intrusion"}
    return shape.role in told or shape.layer == HEAD_HEIGHT


def free_shapes(ground: FloorPlaces) -> Iterator[Shape]:
    """Yield the map of an item's free places, and the item at the best of them."""
    if ground.triangles:
        corners = np.array(ground.triangles).reshape(-1, 2)
        rims = np.concatenate([_closed(np.array(ring)[:-1]) for ring in ground.rings])
        yield _shape(ground, "floor", _raised(corners), rims)
    for number, stretch in enumerate(ground.stretches):
        corners = _band(stretch)
        points = _raised(corners[[0, 1, 2, 0, 2, 3]])
        yield _shape(ground, f"{_BAND}{number}", points, _closed(corners))
    if ground.best:
        edges = dashed(_closed(np.array(ground.best)))
        yield replace(
            _shape(ground, "best", NO_POINTS, edges), faces=NO_FACES, edge_width=3.0
        )


def band_middle(stretch: WallStretch) -> Point:
    """Return the middle of the band beside a wall, which its lengths are about."""
    x, y = _band(stretch).mean(axis=0)
    return float(x), float(y), _LEVEL


def band_rim(stretch: WallStretch) -> Point:
    """Return the middle of the band's edge away from the wall."""
    x, y = _band(stretch)[2:].mean(axis=0)
    return float(x), float(y), _LEVEL


def is_band(shape: Shape) -> bool:
    """Tell whether a shape is a band beside a wall."""
    return shape.layer == FREE and _BAND in shape.id


def _band(stretch: WallStretch) -> Points:
    """Return the corners of the band beside a wall, shape (4, 2)."""
    start, end = (np.array(one) for one in stretch.ends)
    inwards = np.array(stretch.inwards)
    along = np.array([inwards[1], -inwards[0]])
    lacking = max(_LEAST - float(np.linalg.norm(end - start)), 0.0) / 2
    turn = np.sign((end - start) @ along) or 1.0
    start, end = start - turn * lacking * along, end + turn * lacking * along
    near, far = _AWAY * inwards, (_AWAY + _WIDE) * inwards
    return np.array([start - near, end - near, end - far, start - far])


def _raised(corners: Points) -> Points:
    return np.column_stack([corners, np.full(len(corners), _LEVEL)])


def _closed(corners: Points) -> Points:
    points = _raised(corners)
    return np.stack([points, np.roll(points, -1, axis=0)], axis=1)


def _shape(ground: FloorPlaces, part: str, points: Points, edges: Points) -> Shape:
    """Return a part of the map; its triangles look upwards."""
    return Shape(
        id=f"{ground.item}/free/{part}",
        item=ground.item,
        layer=FREE,
        role="footprint",
        kind="",
        about="where it may be",
        vertices=points,
        faces=_upwards(points),
        edges=edges,
        colour=palette.FREE,
        edge_colour=palette.FREE_EDGE,
        edge_width=2.0,
        opacity=palette.FREE_OPACITY,
        through=True,
        lift=1,
        pickable=False,
    )


def _upwards(points: Points) -> Faces:
    """Return the triangles of points three by three, all of them looking upwards."""
    faces = np.arange(len(points), dtype=np.int64).reshape(-1, 3)
    corners = points[faces]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    below = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] < 0
    faces[below] = faces[below][:, ::-1]
    return faces
