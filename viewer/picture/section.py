"""A picture that is cut open through an item, seen from its side."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
import pyvista as pv

from viewer.stage import palette
from viewer.stage.bodies.hatched import lines_on
from viewer.stage.bodies.surfaces import NO_EDGES
from viewer.stage.looking.cameras import direction
from viewer.stage.looking.cuts import FULL, Cut, beside_faces

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.drawn import Dimension, Point, Points, Shape
    from viewer.stage.parts import Stage

_LEAST_OPACITY: Final = 0.9
"""What is fainter than that is drawn without an inside."""
_DARKER: Final = 0.35
"""Share of the edges' colour in the face of a cut."""
_ALONG: Final = 0.7
"""Cosine. A size that runs so much towards the eye is not seen from there."""


def cut_through(stage: Stage, item: str, looking_from: str | None) -> Cut:
    """Return the plane through the middle of an item, along its depth.

    Args:
        stage: It has the item.
        item: Its id.
        looking_from: The compass direction the viewer stands in; left out, the item's
            right. The side of the item that is nearest to it is taken.

    Raises:
        ValueError: The item has no front, or the view is from above.
    """
    body = next(
        (one for one in stage.shapes if one.item == item and one.ahead is not None),
        None,
    )
    if body is None or body.ahead is None:
        msg = f"a section goes through an item with a front, {item} has none"
        raise ValueError(msg)
    right = np.array([-body.ahead[1], body.ahead[0], 0.0])
    if looking_from is not None:
        eye = np.array(direction(looking_from))
        if not np.hypot(*eye[:2]) > 0.5:  # noqa: PLR2004 - from above it is nothing
            msg = "a section is seen from a side, not from above"
            raise ValueError(msg)
        right = right if float(np.dot(right, eye)) >= 0.0 else -right
    middle = (body.vertices.min(axis=0) + body.vertices.max(axis=0)) / 2
    at = float(middle @ right)
    off = beside_faces(stage.shapes, _point(right), at) - at
    return Cut(_point(middle + off * right), _point(right))


def opened_up(shapes: Iterable[Shape], cut: Cut) -> Iterator[Shape]:
    """Yield what a cut leaves of shapes, and the hatched faces it makes."""
    for shape in shapes:
        heights = cut.heights(shape.vertices) if len(shape.vertices) else np.zeros(1)
        if shape.kind == "person" or (heights.max() <= 0.0 and not len(shape.edges)):
            yield shape
            continue
        left = _left(shape, cut)
        if len(left.faces) or len(left.edges):
            yield left
        if is_crossed(shape, cut):
            yield from cut_faces(shape, cut)


def is_crossed(shape: Shape, cut: Cut) -> bool:
    """Tell whether a plane goes through a shape that is full inside."""
    is_full = shape.role in FULL and shape.opacity >= _LEAST_OPACITY
    if not is_full or not len(shape.faces):
        return False
    heights = cut.heights(shape.vertices)
    return bool(heights.min() < 0.0 < heights.max())


def cut_faces(shape: Shape, cut: Cut) -> Iterator[Shape]:
    """Yield the face that a plane leaves of a shape, and the hatching on it."""
    face = cap(shape, cut.towards, cut.point)
    if face is not None:
        yield face
        yield lines_on(face, _slanting(cut))


def seen_sizes(sizes: Iterable[Dimension], cut: Cut) -> tuple[Dimension, ...]:
    """Return the sizes that are seen from the side, not those towards the eye."""
    return tuple(
        one
        for one in sizes
        if abs(float(np.dot(_unit(np.subtract(one.end, one.start)), cut.towards)))
        < _ALONG
    )


def cap(shape: Shape, normal: Point, point: Point) -> Shape | None:
    """Return the face that a plane leaves of a shape that is solid.

    Args:
        shape: What is cut.
        normal: Of the plane.
        point: On the plane.

    Returns:
        None where the surface is not closed, so that it has no inside.
    """
    outline = _mesh(shape).slice(normal=normal, origin=point)
    ends = outline.lines.reshape(-1, 3)[:, 1:]
    # Around a closed surface every line goes on where another ends.
    if not len(ends) or (np.bincount(ends.ravel()) % 2).any():
        return None
    filled = outline.triangulate_contours().triangulate()
    return replace(
        shape,
        id=f"{shape.id}/cut",
        role="cut",
        vertices=np.asarray(filled.points, dtype=np.float64),
        faces=filled.faces.reshape(-1, 4)[:, 1:],
        edges=outline.points[ends],
        colour=palette.mixed(shape.colour, palette.EDGE, _DARKER),
        edge_width=2.0,
        pivot=None,
        # What is in the way lies in the face of the thing it is a part of.
        lift=shape.lift + 1,
    )


def _left(shape: Shape, cut: Cut) -> Shape:
    """Return the part of a shape on the side that stays."""
    edges = _left_of(shape.edges, cut)
    if not len(shape.faces):
        return replace(shape, edges=edges, vertices=edges.reshape(-1, 3))
    kept = _mesh(shape).clip(normal=cut.towards, origin=cut.point, invert=True)
    flat = kept.extract_surface(algorithm="dataset_surface").triangulate()
    return replace(
        shape,
        vertices=np.asarray(flat.points, dtype=np.float64).reshape(-1, 3),
        faces=np.asarray(flat.faces).reshape(-1, 4)[:, 1:],
        edges=edges,
    )


def _mesh(shape: Shape) -> pv.PolyData:
    corners = np.full((len(shape.faces), 1), 3)
    return pv.PolyData(shape.vertices, np.hstack([corners, shape.faces]).ravel())


def _left_of(edges: Points, cut: Cut) -> Points:
    """Return the parts of edges, shape (k, 2, 3), on the side that stays."""
    if not len(edges):
        return NO_EDGES
    heights = cut.heights(edges)
    some = (heights <= 0.0).any(axis=1)
    edges, heights = edges[some].copy(), heights[some]
    for end in (0, 1):
        gone = heights[:, end] > 0.0
        one, other = edges[gone, end], edges[gone, 1 - end]
        share = heights[gone, end] / (heights[gone, end] - heights[gone, 1 - end])
        edges[gone, end] = one + share[:, None] * (other - one)
    return edges


def _slanting(cut: Cut) -> Points:
    """Return which way planes face that leave slanting lines on the face of a cut."""
    if abs(cut.towards[2]) > _ALONG:
        return np.array([1.0, 1.0, 0.0])
    upright = np.array([0.0, 0.0, 1.0])
    return np.asarray(np.cross(cut.towards, upright) + upright, dtype=np.float64)


def _unit(vector: Points) -> Points:
    length = float(np.linalg.norm(vector))
    return np.asarray(vector / length if length else vector, dtype=np.float64)


def _point(vector: Points) -> Point:
    return float(vector[0]), float(vector[1]), float(vector[2])
