"""What the picture of a lesson's step must hold, and from where it is seen."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.layers import WAYS
from viewer.stage.looking.cameras import ABOVE, corners_of, direction, framed
from viewer.stage.looking.sights import best_view, narrow_places, screens
from viewer.stage.looking.views import faded, held

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.judging.report import Report
    from model3d.scene.parts.look import Look
    from viewer.stage.drawn import Dimension, Points, Shape, View
    from viewer.stage.parts import Stage

_MARGIN: Final = 0.12
"""Share of the picture kept free about what is looked at."""
_BESIDE: Final = 0.5
"""Metres about what is looked at in which what a step changes is shown."""
_ALONG: Final = 2.0
"""Metres. So much is shown of a thing that a step changes farther away."""
_OF_RESULT: Final = frozenset({"space", "footprint", "intrusion"})
"""The roles of shapes that come from the check."""


def view_of(stage: Stage, report: Report, look: Look, points: Points) -> View:
    """Return the camera that sees some points from where a step looks."""
    if look.from_ is not None:
        name = ABOVE if look.from_ == ABOVE else ""
        towards = direction(look.from_)
        room = held(stage, towards)
        return framed(points, towards, name=name, margin=_MARGIN, room=room)
    items = report.arrangement.items if report.arrangement else {}
    placed = items.get(look.at)
    front = placed.front if placed else None
    ahead = front.frame.out if front else None
    return best_view(points, ahead, screens(stage.shapes), room=partial(held, stage))


def asked_about(
    before: Stage,
    after: Stage,
    item: str,
    changed: set[str],
    near: float | None,
    ends: Points,
) -> Points:
    """Return the points that the picture of a step must hold, shape (n, 3).

    They are those of what is looked at, after the step and before it, for the question
    shows the room before; and of what the step changes, as much of that as lies beside.

    Args:
        before: The stage before the step.
        after: The stage after it.
        item: What is looked at.
        changed: Ids of what the step puts in or alters.
        near: How far about the item its author wants it seen; no more is shown then
            but the author's own dimensions.
        ends: Of these dimensions, shape (n, 3): a line that is cut off tells nothing.
    """
    points = np.concatenate((points_of(after, item, near), ends))
    if near is not None:
        return points
    low, high = points.min(axis=0) - _BESIDE, points.max(axis=0) + _BESIDE
    found = [points, *(shape.vertices for shape in _bodies(before, {item}))]
    for shape in (*_bodies(before, changed), *_bodies(after, changed)):
        least, most = shape.vertices.min(axis=0), shape.vertices.max(axis=0)
        # Of a pipe through the whole room the end next to what is looked at.
        first = np.maximum(least, np.minimum(low, most - _ALONG))
        last = np.minimum(most, np.maximum(high, least + _ALONG))
        found.append(corners_of(tuple(first.tolist()), tuple(last.tolist())))
    return np.concatenate(found)


def _bodies(stage: Stage, items: set[str]) -> list[Shape]:
    """Return what is drawn of some things, but of a ceiling: it is above all else."""
    return [
        shape
        for shape in stage.shapes
        if shape.item in items
        and shape.role in {"solid", "leaf"}
        and shape.kind != "ceiling"
        and len(shape.vertices)
    ]


def points_of(stage: Stage, item: str, near: float | None = None) -> Points:
    """Return the points that a picture about an item must hold, shape (n, 3).

    Args:
        stage: What there is.
        item: Its id; of one that is not there all there is is meant.
        near: How far about it the picture goes, as far as there is anything, metres;
            left out, it holds the item, its spaces and what is in them.
    """
    if near is not None:
        return _about(stage, item, near)
    narrow = [(one.start, one.end) for one in narrow_places(stage, item)]
    found = [
        points.reshape(-1, 3)
        for shape in _of_item(stage, item)
        if not (shape.layer == WAYS and narrow)
        for points in (shape.vertices, shape.edges)
        if len(points)
    ]
    # What decides about a way that is too narrow is where: all of it may be far longer.
    found += [np.array(ends) for ends in narrow]
    return np.concatenate(found or [corners_of(stage.low, stage.high)])


def _of_item(stage: Stage, item: str) -> Iterator[Shape]:
    """Yield the shapes of an item, of its spaces and of what is in them."""
    rows = {index for index, row in enumerate(stage.judgements) if row.subject == item}
    for shape in stage.shapes:
        is_result = shape.role in _OF_RESULT
        if rows.intersection(shape.judgements) if is_result else shape.item == item:
            yield shape


def _about(stage: Stage, item: str, near: float) -> Points:
    """Return the corners of all that lies so near to an item, shape (8, 3)."""
    own = [
        shape
        for shape in stage.shapes
        if shape.item == item and shape.role not in _OF_RESULT and len(shape.vertices)
    ]
    if not own:
        return corners_of(stage.low, stage.high)
    # Handles and what else stands out of it is no part of its size.
    bodies = [shape for shape in own if shape.role == "solid"] or own
    points = np.concatenate([shape.vertices for shape in bodies])
    low, high = points.min(axis=0), points.max(axis=0)
    # Behind a wall there is nothing to be seen.
    low = np.maximum(low - near, np.minimum(low, stage.low))
    high = np.minimum(high + near, np.maximum(high, stage.high))
    return corners_of(tuple(low.tolist()), tuple(high.tolist()))


def hiding(
    stage: Stage,
    view: View,
    item: str,
    but: set[str],
    sizes: Iterable[Dimension] = (),
) -> Iterator[Shape]:
    """Yield, drawn faintly, what stands before an item, what it requires, or sizes.

    Args:
        stage: What there is.
        view: The camera.
        item: What is looked at.
        but: Ids of what is told of: it stays as it is; so does what is in the way.
        sizes: Dimension lines of the step.
    """
    seen = _of_item(stage, item)
    told = {one.item for one in stage.shapes if one.role == "intrusion"}
    for was, now in zip(
        stage.shapes,
        faded(stage.shapes, view, seen, {item, *told, *but}, sizes),
        strict=True,
    ):
        if now is not was:
            yield now
