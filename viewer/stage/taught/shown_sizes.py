"""The dimensions that the author of a lesson has drawn in a step."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.drawn import Dimension
from viewer.wording.words import amount, amounts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.scene.parts.lesson import ShownSize, Step
    from model3d.scene.scene import Scene
    from viewer.stage.drawn import Point, Points, View

_UP: Final = (0.0, 0.0, 1.0)
_STEEP: Final = 0.99
"""A line is upright where so much of its length goes up."""


def shown_sizes(step: Step, scene: Scene, view: View | None) -> Iterator[Dimension]:
    """Yield a step's own dimensions, each with the length between its ends.

    Args:
        step: As it was written.
        scene: Whose units the ends are written in.
        view: The step's camera: a line is moved off its ends so that this shows.
    """
    for one in step.show:
        start, end = _ends(one, scene)
        length, label = math.dist(start, end), one.label or ""
        own, other = amounts(label, length, scene.units)
        yield Dimension(
            judgement=None,
            item="",
            name=label,
            start=start,
            end=end,
            reached_start=start,
            reached_end=end,
            aside=_aside(start, end, view),
            required=amount(label, length, scene.units),
            provided="",
            brief=f"{label} {own}".strip(),
            brief_other=other,
            short=False,
            most=False,
        )


def ends_of(step: Step, scene: Scene) -> Points:
    """Return where a step's own dimensions begin and end, metres, shape (n, 3)."""
    ends = [point for one in step.show for point in _ends(one, scene)]
    return np.array(ends, dtype=float).reshape(-1, 3)


def _ends(shown: ShownSize, scene: Scene) -> tuple[Point, Point]:
    (a, b, c), (d, e, f) = map(scene.metres, shown.from_), map(scene.metres, shown.to)
    return (a, b, c), (d, e, f)


def _aside(start: Point, end: Point, view: View | None) -> Point:
    """Return the way a line is moved off its ends: square to it, and well seen.

    Of the level way and the other one it is that which the camera looks along less.
    """
    along = np.subtract(end, start) / math.dist(start, end)
    upright = abs(float(along[2])) > _STEEP
    level = np.cross(along, (0.0, 1.0, 0.0) if upright else _UP)
    level /= np.linalg.norm(level)
    other = np.cross(level, along)
    if view is None:
        return _point(level)
    sight = np.subtract(view.target, view.eye)
    sight /= np.linalg.norm(sight)
    is_level = abs(float(level @ sight)) <= abs(float(other @ sight))
    return _point(level if is_level else other)


def _point(vector: np.ndarray) -> Point:
    x, y, z = vector.tolist()
    return x, y, z
