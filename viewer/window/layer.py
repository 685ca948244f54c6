"""The bodies of one layer, and how they change with the place of the eye."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from viewer.stage import palette
from viewer.stage.shading import LIFT, LINE_LIFT, THROUGH
from viewer.window.batches import face_batches, line_batches
from viewer.window.bodies import face_body, line_body, name_of

if TYPE_CHECKING:
    from viewer.stage.parts import Point, Shape
    from viewer.window.batches import FaceBatch

    Facing = tuple[Any, tuple[float, float], Point]
    """A body, which way its wall faces in plan, and a point of it."""

_MANY: Final = 40_000
"""Lines of one kind; to draw more of them takes longer than a picture in motion has."""


class Layer:
    """The bodies of some shapes.

    Attributes:
        shapes: What they are made from.
        actors: All of them.
        picks: What a click on a body means, by the body's name.
    """

    def __init__(self, shapes: tuple[Shape, ...]) -> None:
        """Make the bodies."""
        self.shapes = shapes
        self.actors: list[Any] = []
        self.picks: dict[str, FaceBatch] = {}
        self._lines: list[tuple[Any, float]] = []
        self._many: list[Any] = []
        self._walls: list[Facing] = []
        self._in_walls: list[tuple[Facing, float]] = []
        for batch in face_batches(shapes):
            actor = face_body(batch)
            self.actors.append(actor)
            if batch.pickable:
                self.picks[name_of(actor)] = batch
            if batch.ahead is not None:
                facing = actor, batch.ahead, _point(batch.vertices[0])
                self._in_walls.append((facing, batch.opacity))
        for line in line_batches(shapes):
            drawn = [line_body(line, LINE_LIFT + line.lift * LIFT)]
            drawn += [line_body(line, THROUGH)] if line.through else []
            self.actors += drawn
            self._lines += [(actor, line.width) for actor in drawn]
            if len(line.ends) > _MANY and line.ahead is None:
                self._many += drawn
            if line.ahead is not None:
                point = _point(line.ends[0, 0])
                self._walls += [(actor, line.ahead, point) for actor in drawn]

    def is_of(self, shapes: tuple[Shape, ...]) -> bool:
        """Tell whether it is made from the very same shapes."""
        return len(shapes) == len(self.shapes) and all(
            a is b for a, b in zip(shapes, self.shapes, strict=True)
        )

    def look(self, eye: Point) -> None:
        """Draw it as it is seen from somewhere.

        Lines of a wall that is seen from behind vanish, as the wall does by itself;
        what is in the way there is seen through.
        """
        for wall in self._walls:
            wall[0].SetVisibility(_is_ahead(wall, eye))
        for wall, opacity in self._in_walls:
            seen = _is_ahead(wall, eye)
            faint = min(opacity, palette.GLASS_OPACITY)
            wall[0].GetProperty().SetOpacity(opacity if seen else faint)

    def roughen(self, *, rough: bool) -> None:
        """Leave lines away that are too many to be drawn in motion, or draw them."""
        for actor in self._many:
            actor.SetVisibility(not rough)

    def widen(self, by: float) -> None:
        """Draw lines wider than they ask for, by a factor."""
        for actor, width in self._lines:
            actor.GetProperty().SetLineWidth(width * by)


def _is_ahead(wall: Facing, eye: Point) -> bool:
    _, (east, north), point = wall
    return bool(east * (eye[0] - point[0]) + north * (eye[1] - point[1]) > 0)


def _point(vector: np.ndarray) -> Point:
    x, y, z = np.asarray(vector, dtype=float).tolist()
    return x, y, z
