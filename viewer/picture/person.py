"""A grey person of ordinary height in a picture, to show how much room there is."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.things.person import TALL, from_the_back, from_the_side
from viewer.stage import palette
from viewer.stage.bodies.surfaces import cover
from viewer.stage.drawn import Shape
from viewer.stage.layers import ROOM
from viewer.stage.looking.cameras import ABOVE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.stage.drawn import Points, View
    from viewer.stage.parts import Stage

_OUT: Final = (0.55, 0.75, 0.4)
"""Metres before the front at which a person stands to work, the best first."""
_HALF: Final = 0.25
"""Metres. Half the width of a person."""
_GREY: Final = "#8B949C"
_SIDEWAYS: Final = 0.75
"""Sine. Who looks so much along the front of an item sees a person from the side."""
Spot = tuple[float, float]
"""A place in plan, or a way in it."""


def person_shape(stage: Stage, view: View, of: str | None) -> Shape | None:
    """Return a person who stands before an item, turned to the camera.

    Args:
        stage: What is drawn.
        view: The camera.
        of: The item; left out, the first one that something is not met or open at.

    Returns:
        None where nobody can stand there, as below a low ceiling, and from above.
    """
    if view.name == ABOVE or (stage.height is not None and stage.height < TALL):
        return None
    for item in _asked(stage, of):
        spot = _spot(stage, item)
        if spot is not None:
            at, ahead = spot
            return _silhouette(at, ahead, view)
    return None


def peopled(stage: Stage, view: View, item: str | None) -> Stage:
    """Return a stage with a person in it: the legend tells of it as of all else.

    Args:
        stage: What is drawn.
        view: The camera.
        item: What is worked at; a thing without a front, as a door of the room, is not.
    """
    fronts = {shape.item for shape in stage.shapes if shape.ahead is not None}
    person = person_shape(stage, view, item if item in fronts else None)
    return stage if person is None else replace(stage, shapes=(*stage.shapes, person))


def _asked(stage: Stage, of: str | None) -> Iterator[str]:
    if of is not None:
        yield of
        return
    for row in stage.judgements:
        if row.requirement == "working-space":
            yield row.subject


def _spot(stage: Stage, item: str) -> tuple[Spot, Spot] | None:
    """Return where a person stands before an item, and which way the item faces."""
    body = next(
        (one for one in stage.shapes if one.item == item and one.ahead is not None),
        None,
    )
    if body is None or body.ahead is None:
        return None
    out = np.array(body.ahead)
    right = np.array([-out[1], out[0]])
    plan = body.vertices[:, :2]
    front, along = float((plan @ out).max()), plan @ right
    middle, half = float(along.max() + along.min()) / 2, float(np.ptp(along)) / 2
    sides = (0.0, half - _HALF, _HALF - half) if half > _HALF else (0.0,)
    taken = [*_taken(stage, item)]
    for away in _OUT:
        for side in sides:
            spot = out * (front + away) + right * (middle + side)
            if not any(_holds(box, spot) for box in taken):
                return (float(spot[0]), float(spot[1])), body.ahead
    return None


def _taken(stage: Stage, item: str) -> Iterator[tuple[Points, Points]]:
    """Yield the plan corners of what stands as high as a person's body."""
    for shape in stage.shapes:
        if shape.role == "solid" and shape.item != item and len(shape.vertices):
            low, high = shape.vertices.min(axis=0), shape.vertices.max(axis=0)
            if low[2] < TALL and high[2] > 0.1 * TALL:
                yield low[:2] - _HALF, high[:2] + _HALF


def _holds(box: tuple[Points, Points], spot: Points) -> bool:
    return bool((spot > box[0]).all() and (spot < box[1]).all())


def _silhouette(spot: Spot, ahead: Spot, view: View) -> Shape:
    """Return a flat person turned to the camera, from behind or from the side."""
    away = np.subtract(view.eye, (*spot, 0.0))[:2]
    long = float(np.hypot(*away))
    turn = math.atan2(away[1], away[0]) if long > 1.0 else -math.pi / 2
    right = np.array([-math.sin(turn), math.cos(turn)])
    towards_item = -float(np.dot(ahead, right))
    outline = from_the_back(0.0, 0.0)
    if abs(towards_item) > _SIDEWAYS:
        outline = from_the_side(0.0, 0.0) * (math.copysign(1.0, towards_item), 1.0)
        outline = outline if towards_item > 0.0 else outline[::-1]
    plan = np.array(spot) + outline[:, :1] * right
    vertices = np.column_stack([plan, outline[:, 1]])
    edges = np.stack([vertices, np.roll(vertices, -1, axis=0)], axis=1)
    return Shape(
        id="person",
        item="",
        layer=ROOM,
        role="cut",
        kind="person",
        about="a person, 1.75 m tall",
        vertices=vertices,
        faces=cover(outline),
        edges=edges,
        colour=_GREY,
        edge_colour=palette.MARK,
        edge_width=1.0,
        opacity=0.6,
        pickable=False,
    )
