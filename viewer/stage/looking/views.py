"""What a picture shows of a stage, and from where."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.bodies.hung import opened
from viewer.stage.looking.about import OF_ROWS
from viewer.stage.looking.cameras import MARGIN, direction, framed, towards_eye
from viewer.stage.looking.sights import (
    best_stand,
    best_view,
    important,
    sampled,
    screens,
)

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator, Sequence

    from viewer.stage.drawn import Dimension, Point, Points, Shape, View
    from viewer.stage.parts import Stage

_GRAZING: Final = -0.3
"""A wall turned away by less may be seen by a camera that stands near."""
FRAME: Final = 0.1
"""Share of the picture kept free about one item."""
_ALONG: Final = 8
"""Points along a dimension line at which it is asked whether something hides it."""


def view_of_place(
    stage: Stage,
    aspect: float,
    *,
    looking_from: str | None = None,
    margin: float = MARGIN,
) -> View:
    """Return the camera that fills a picture with the whole place.

    Args:
        stage: What there is.
        aspect: Width by height of the picture.
        looking_from: A compass direction, or above; left out, where little of what is
            in the way is hidden.
        margin: Share of the picture kept free on each side.

    Raises:
        ValueError: There is no view of that name.
    """
    if looking_from is None:
        towards = towards_eye(*best_stand(important(stage), screens(stage.shapes)))
    else:
        towards = direction(looking_from)
    name = looking_from or ""
    points = held(stage, towards)
    return framed(points, towards, aspect=aspect, name=name, margin=margin)


def view_of_item(
    stage: Stage, of: str, aspect: float, *, looking_from: str | None = None
) -> View:
    """Return the camera that fills a picture with one item and its spaces.

    Args:
        stage: Of a picture about the item.
        of: The item's id.
        aspect: Width by height of the picture.
        looking_from: As for a whole place.

    Raises:
        ValueError: There is no view of that name.
    """
    shapes = [
        shape for shape in stage.shapes if shape.item == of or shape.role in OF_ROWS
    ]
    points = _extent(shapes)
    if looking_from is not None:
        towards = direction(looking_from)
        return framed(
            points,
            towards,
            aspect=aspect,
            name=looking_from,
            margin=FRAME,
            room=held(stage, towards),
        )
    ahead = next((shape.ahead for shape in shapes if shape.ahead), None)
    room = partial(held, stage)
    return best_view(points, ahead, screens(stage.shapes), aspect=aspect, room=room)


def visible(stage: Stage, looked_from: Point | View) -> Iterator[Shape]:
    """Yield the shapes a picture shows, leaves turned as far as they are shown.

    A wall that is seen from behind is left out, with its edges; the part of it that is
    in the way is seen through.

    Args:
        stage: What there is.
        looked_from: The camera; or only the way to it, as long as it is not placed.
    """
    shown = {layer.id for layer in stage.layers if layer.shown}
    away = {
        shape.id
        for shape in stage.shapes
        if shape.one_sided and is_turned_away(shape, looked_from)
    }
    for shape in stage.shapes:
        if shape.layer not in shown or shape.id in away:
            continue
        if shape.role == "intrusion" and shape.item in away:
            yield replace(shape, opacity=palette.GLASS_OPACITY)
        else:
            yield opened(shape)


def seen_past(
    shapes: Sequence[Shape], view: View, of: str, sizes: Iterable[Dimension] = ()
) -> Iterator[Shape]:
    """Yield shapes, those faintly that stand before one item, its spaces and sizes.

    What is itself in one of the item's spaces stays as it is.
    """
    spaces = [s for s in shapes if s.role in OF_ROWS or s.item == of]
    return faded(shapes, view, spaces, {shape.item for shape in spaces}, sizes)


def faded(
    shapes: Sequence[Shape],
    view: View,
    seen: Iterable[Shape],
    but: Container[str],
    sizes: Iterable[Dimension] = (),
) -> Iterator[Shape]:
    """Yield shapes, solids faintly that stand between the eye and some of them.

    Args:
        shapes: What is drawn.
        view: The camera.
        seen: What is to be seen.
        but: Ids of things that stay as they are.
        sizes: Dimension lines that are to be seen in whole.
    """
    found = [sampled(shape.vertices) for shape in seen if len(shape.vertices)]
    found += [np.linspace(one.start, one.end, _ALONG) for one in sizes]
    solids = [
        one
        for one in shapes
        if one.role == "solid"
        and not one.ghost
        and one.item not in but
        and len(one.vertices)
    ]
    faint = set()
    if found and solids:
        before = screens(solids).before(np.concatenate(found), np.array(view.eye))
        faint = {one.item for one, hides in zip(solids, before, strict=True) if hides}
    for shape in shapes:
        yield _ghost(shape) if shape.item in faint else shape


def _ghost(shape: Shape) -> Shape:
    return replace(
        shape,
        opacity=min(shape.opacity, palette.GHOST_OPACITY),
        edge_opacity=palette.GHOST_EDGE_OPACITY,
        ghost=True,
    )


def held(stage: Stage, towards: Point) -> Points:
    """Return the points that a picture of the whole place must hold, shape (n, 3).

    Indoors the floor is one of them; outdoors the ground may run out of the picture.
    """
    walls = sum(one.kind == "wall" and one.role == "surface" for one in stage.shapes)
    outdoors = walls < len(stage.outline) or not stage.outline
    held = [
        shape
        for shape in visible(stage, towards)
        if not outdoors or (shape.item not in {"", "floor"} and shape.role != "cut")
    ]
    return _extent(held or visible(stage, towards))


def _extent(shapes: Iterable[Shape]) -> Points:
    """Return all points of shapes that must be in the picture, shape (n, 3)."""
    parts = [
        points
        for shape in shapes
        for points in (shape.vertices, shape.edges.reshape(-1, 3))
    ]
    return np.concatenate(parts)


def is_turned_away(shape: Shape, looked_from: Point | View) -> bool:
    """Tell whether a camera, or one somewhere in a direction, sees it from behind."""
    if shape.ahead is None:
        return False
    if isinstance(looked_from, tuple):
        east, north, _ = looked_from
        least = _GRAZING
    else:
        place = (shape.edges if len(shape.edges) else shape.vertices).reshape(-1, 3)[0]
        east, north = np.subtract(looked_from.eye, place)[:2]
        least = 0.0
    return bool(shape.ahead[0] * east + shape.ahead[1] * north < least)
