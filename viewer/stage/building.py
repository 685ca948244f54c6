"""From a scene and its report to the stage: the one place where all parts meet."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from model3d.results import ANGLE, ClearBox
from viewer.stage.cameras import (
    ABOVE,
    BEARINGS,
    corners,
    direction,
    framed,
)
from viewer.stage.dimensions import dimensions
from viewer.stage.ground import ground_shapes
from viewer.stage.layers import LAYERS
from viewer.stage.names import labels
from viewer.stage.parts import Stage
from viewer.stage.rows import anchor, badges, ordered, own_shapes, row
from viewer.stage.sights import best_view, screens
from viewer.stage.solids import Marked, Turned, item_shapes, overhead_in
from viewer.stage.spaces import intrusion_shapes, space_shapes
from viewer.stage.walls import (
    door_shapes,
    head_height_marks,
    wall_height,
    wall_shapes,
)
from viewer.text import CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from model3d.results import Judgement, Report
    from model3d.scene.arranging import Arrangement
    from model3d.scene.scene import Scene
    from viewer.stage.parts import Finding, Point, Shape, View

LeafAngles = dict[tuple[str, int], float]
"""Angles to show door leaves at, in degrees, by item or door id and leaf number."""


def build_stage(
    scene: Scene,
    report: Report,
    *,
    of: str | None = None,
    leaves: Mapping[tuple[str, int], float] | None = None,
) -> Stage:
    """Return everything that is drawn of a scene and its report.

    Args:
        scene: What was checked.
        report: What the check answered; its arrangement says where things stand.
        of: An item whose spaces are shown even where they are met.
        leaves: Angles to show door leaves at; else a leaf that is stopped is shown
            where it stops, any other closed.

    Raises:
        ValueError: The report has no arrangement, or ``of`` is no item of the scene.
    """
    arrangement = report.arrangement
    if arrangement is None:
        msg = "the report does not say where things stand; check the scene again"
        raise ValueError(msg)
    if of is not None and of not in arrangement.items:
        msg = f"no item {of!r} in the scene"
        raise ValueError(msg)
    judgements = ordered(report)
    low, high = _bounds(arrangement)
    overhead = overhead_in(arrangement.shell.height)
    shapes = (
        *_room(arrangement, judgements, low, high, leaves or {}),
        *_items(arrangement, _marked(judgements, leaves or {}, overhead)),
        *_spaces(judgements, of),
    )
    findings = _findings(judgements, arrangement, shapes, low, high)
    named = labels(arrangement, judgements, shapes)
    places = {label.item: label.anchor for label in named}
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, 0.0)
    return Stage(
        title=scene.title,
        rules=report.rules,
        units=scene.units,
        layers=LAYERS,
        shapes=shapes,
        badges=badges(
            findings,
            [anchor(one, places.get(one.subject, middle)) for one in judgements],
        ),
        labels=named,
        dimensions=tuple(
            line
            for index, one in enumerate(judgements)
            for line in dimensions(one, index, scene.units)
        ),
        findings=findings,
        low=low,
        high=high,
        outline=arrangement.shell.outline,
        height=arrangement.shell.height,
        views=_views(low, high),
        caution=" ".join(CAUTION),
    )


def _bounds(arrangement: Arrangement) -> tuple[Point, Point]:
    """Return the lowest and highest corner of the room and all that stands in it."""
    found = [one.solid.bounds for one in arrangement.items.values() if not one.of_room]
    points: list[Point] = [corner for bounds in found for corner in bounds]
    shell = arrangement.shell
    walled = len(shell.open_sides) < len(shell.lines)
    tall = wall_height(arrangement) if walled else 0.0
    points += [(x, y, z) for x, y in shell.outline for z in (0.0, tall)]
    if not points:
        points = [(0.0, 0.0, 0.0), (1.0, 1.0, 1.0)]
    ends = np.array(points)
    a, b = ends.min(axis=0), ends.max(axis=0)
    return (float(a[0]), float(a[1]), min(float(a[2]), 0.0)), tuple(b.tolist())


def _views(low: Point, high: Point) -> tuple[View, ...]:
    points = corners(low, high)
    return tuple(
        framed(points, direction(name), name=name) for name in (*BEARINGS, ABOVE)
    )


def _marked(
    judgements: Sequence[Judgement],
    leaves: Mapping[tuple[str, int], float],
    overhead: float,
) -> Marked:
    """Gather what the report says of items and of door leaves."""
    found: defaultdict[str, list[int]] = defaultdict(list)
    turned: dict[tuple[str, int], Turned] = {}
    for index, one in enumerate(judgements):
        if one.verdict != "met":
            for name in {one.subject, *(hit.item for hit in one.intrusions)}:
                found[name].append(index)
        if one.leaf is not None and ANGLE in one.provided:
            place = (one.subject, one.leaf)
            reached = one.provided[ANGLE]
            stopped = reached if one.verdict == "not-met" else 0.0
            shown = leaves.get(place, stopped)
            turned[place] = Turned(shown, reached, one.required.get(ANGLE))
    for place, angle in leaves.items():
        if place not in turned:
            turned[place] = Turned(angle, max(angle, 90.0), None)
    return Marked(
        {name: tuple(where) for name, where in found.items()},
        frozenset(
            one.subject
            for one in judgements
            if one.verdict == "not-met" and not (one.shapes or one.intrusions)
        ),
        turned,
        overhead,
    )


def _room(
    arrangement: Arrangement,
    judgements: Sequence[Judgement],
    low: Point,
    high: Point,
    leaves: Mapping[tuple[str, int], float],
) -> Iterator[Shape]:
    yield from ground_shapes(arrangement, low, high)
    yield from wall_shapes(arrangement)
    yield from door_shapes(arrangement, leaves)
    level = _head_height(judgements)
    if level is not None:
        yield from head_height_marks(arrangement, level)


def _head_height(judgements: Sequence[Judgement]) -> float | None:
    """Return how high most working spaces reach; the lower one if it is a tie."""
    tops = Counter(
        round(shape.high[2], 4)
        for one in judgements
        if one.requirement == "working-space"
        for shape in one.shapes
        if isinstance(shape, ClearBox)
    )
    if not tops:
        return None
    return min(tops, key=lambda top: (-tops[top], top))


def _items(arrangement: Arrangement, marked: Marked) -> Iterator[Shape]:
    for placed in arrangement.items.values():
        if not placed.of_room:
            yield from item_shapes(placed, arrangement.scene, marked)


def _spaces(judgements: Sequence[Judgement], of: str | None) -> list[Shape]:
    """Return spaces and what is in them; what several judgements share is one shape.

    Drawn several times it would be the darker the more rules ask for it.
    """
    found: dict[tuple[str, str, str, bytes], Shape] = {}
    for index, one in enumerate(judgements):
        shown = one.verdict != "met" or one.subject == of
        drawn = (
            *space_shapes(one, index, shown=shown),
            *intrusion_shapes(one, index),
        )
        for shape in drawn:
            place = np.round(shape.vertices, 4).tobytes()
            same = shape.role, shape.layer, shape.item, place
            first = found.get(same)
            if first is None:
                found[same] = shape
            else:
                found[same] = replace(first, findings=(*first.findings, index))
    return list(found.values())


def _findings(
    judgements: Sequence[Judgement],
    arrangement: Arrangement,
    shapes: Sequence[Shape],
    low: Point,
    high: Point,
) -> tuple[Finding, ...]:
    own = own_shapes(shapes)
    by_item: defaultdict[str, list[Shape]] = defaultdict(list)
    for shape in shapes:
        if shape.role in {"solid", "leaf"}:
            by_item[shape.item].append(shape)
    blocking = screens(shapes)
    units = arrangement.scene.units
    found = []
    number = 0
    for index, one in enumerate(judgements):
        drawn = own.get(index, [])
        subject = arrangement.items.get(one.subject)
        points = [shape.vertices for shape in drawn + by_item[one.subject]]
        front = subject.front if subject else None
        numbered = one.verdict != "met"
        look = best_view(
            np.concatenate(points or [corners(low, high)]),
            front.frame.out if front else None,
            blocking,
        )
        number += numbered
        names = [shape.id for shape in drawn]
        found.append(row(one, number if numbered else None, units, names, look))
    return tuple(found)
