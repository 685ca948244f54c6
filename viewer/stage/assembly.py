"""From a scene and its report to the stage: the one place where all parts meet."""

from __future__ import annotations

from collections import Counter, defaultdict
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from model3d.judging.results import ANGLE, ClearBox
from model3d.judging.unseen import no_judging
from viewer.stage.bodies.dimensions import dimensions
from viewer.stage.bodies.ground import ground_shapes
from viewer.stage.bodies.merged import merged_spaces
from viewer.stage.bodies.solids import LeafTurn, Marked, item_shapes, overhead_in
from viewer.stage.bodies.walls import (
    door_shapes,
    head_height_marks,
    wall_height,
    wall_shapes,
)
from viewer.stage.kept import Kept
from viewer.stage.layers import LAYERS
from viewer.stage.listed import badges, name_of, ordered
from viewer.stage.looking.cameras import (
    ABOVE,
    BEARINGS,
    corners_of,
    direction,
    framed,
)
from viewer.stage.looking.names import labels
from viewer.stage.looking.rowed import all_rows
from viewer.stage.parts import Stage
from viewer.wording.words import CAUTION, from_memory, no_place_words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement
    from model3d.scene.scene import Scene
    from model3d.standing.arrangement import Arrangement
    from viewer.stage.drawn import Dimension, Point, Shape, View

_T = TypeVar("_T")


def build_stage(
    scene: Scene,
    report: Report,
    *,
    of: str | None = None,
    leaves: Mapping[tuple[str, int], float] | None = None,
    kept: Kept | None = None,
) -> Stage:
    """Return everything that is drawn of a scene and its report.

    Args:
        scene: What was checked.
        report: What the check answered; its arrangement says where things stand.
        of: An item whose spaces are shown even where they are met, or a room door.
        leaves: Angles to show door leaves at; else a leaf that is stopped is shown
            where it stops, any other closed.
        kept: What was made for stages of the same scene before, and may serve again.

    Raises:
        ValueError: The report has no arrangement, or ``of`` is neither an item
            nor a room door of the scene.
    """
    arrangement = report.arrangement
    if arrangement is None:
        msg = "the report does not say where things stand; check the scene again"
        raise ValueError(msg)
    doors = {door.id for door in scene.room.doors} if scene.room else set()
    if of is not None and of not in arrangement.items and of not in doors:
        waits = of in report.no_place
        unknown = f"found {of}, right is the id of an item or a room door of the scene"
        msg = f"{of} has no place yet" if waits else unknown
        raise ValueError(msg)
    kept = kept or Kept()
    judgements = ordered(report)
    low, high = _bounds(arrangement)
    overhead = overhead_in(arrangement.shell.height)
    turned = tuple(sorted((leaves or {}).items()))
    shapes = (
        *kept.again(
            ("room",),
            (arrangement.shell, low, high, _head_height(judgements), turned),
            partial(_all, _room, arrangement, judgements, low, high, leaves or {}),
        ),
        *_items(arrangement, _marked(judgements, leaves or {}, overhead), kept),
        *merged_spaces(judgements, of, kept),
    )
    lines = _sizes(judgements, scene.units, kept)
    listed = all_rows(judgements, arrangement, (shapes, lines), (low, high), kept)
    named = labels(arrangement, judgements, shapes, kept)
    places = {label.item: label.anchor for label in named}
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, 0.0)
    pointing = badges(judgements, places, middle, kept)
    kept.forget()
    return Stage(
        title=scene.title,
        rules=report.rules,
        units=scene.units,
        layers=LAYERS,
        shapes=shapes,
        badges=pointing,
        labels=named,
        dimensions=lines,
        judgements=listed,
        low=low,
        high=high,
        outline=arrangement.shell.outline,
        height=arrangement.shell.height,
        views=kept.again(("views",), (low, high), partial(_views, low, high)),
        caution=" ".join(
            filter(None, (no_place_words(report.no_place), no_judging(scene), *CAUTION))
        ),
        unread=from_memory(report.unread),
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
    points = corners_of(low, high)
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
    # So the rule looks at a way out: with every leaf open as far as it goes. A second
    # entrance is asked for with all of them shut.
    opened = any(
        one.requirement == "entrance" and one.way is not None
        for one in judgements
        if one.verdict == "not-met"
    )
    turned: dict[tuple[str, int], LeafTurn] = {}
    for index, one in enumerate(judgements):
        if one.verdict != "met":
            for name in {one.subject, *(hit.item for hit in one.intrusions)}:
                found[name].append(index)
        if one.leaf is not None and ANGLE in one.provided:
            place = (one.subject, one.leaf)
            reached = one.provided[ANGLE]
            stopped = reached if one.verdict == "not-met" else 0.0
            shown = min(reached, 90.0) if opened else stopped
            shown = leaves.get(place, shown)
            turned[place] = LeafTurn(shown, reached, one.required.get(ANGLE))
    for place, angle in leaves.items():
        if place not in turned:
            turned[place] = LeafTurn(angle, max(angle, 90.0), None)
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


def _items(arrangement: Arrangement, marked: Marked, kept: Kept) -> Iterator[Shape]:
    scene = arrangement.scene
    leaves: defaultdict[str, list[tuple[int, LeafTurn]]] = defaultdict(list)
    for (name, leaf), turned in marked.leaves.items():
        leaves[name].append((leaf, turned))
    placed = [one for one in arrangement.items.values() if not one.of_room]
    names = [one.id for one in placed]
    alike = (
        [marked.judgements.get(name, ()) for name in names],
        [name in marked.wrong for name in names],
        [leaves.get(name, ()) for name in names],
        [marked.overhead] * len(names),
    )

    def make(number: int, _last: object) -> tuple[Shape, ...]:
        return tuple(item_shapes(placed[number], scene, marked))

    return chain.from_iterable(kept.each("items", names, (placed,), alike, make))


def _all(make: Callable[..., Iterator[_T]], *made_from: object) -> tuple[_T, ...]:
    return tuple(make(*made_from))


def _sizes(
    judgements: Sequence[Judgement], units: str, kept: Kept
) -> tuple[Dimension, ...]:
    def make(index: int, _last: object) -> tuple[Dimension, ...]:
        return tuple(dimensions(judgements[index], index, units))

    names, numbers = [name_of(one) for one in judgements], range(len(judgements))
    made = kept.each("sizes", names, (judgements,), (numbers,), make)
    return tuple(chain.from_iterable(made))
