"""The rows of the list, each with where the camera goes to see what it is about."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.drawn import Dimension
from viewer.stage.listed import name_of, own_shapes, row
from viewer.stage.looking.cameras import corners_of
from viewer.stage.looking.sights import NOTHING, best_view, screens

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.judging.results import Judgement
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Front
    from viewer.stage.drawn import Point, Points, Shape, View
    from viewer.stage.kept import Kept
    from viewer.stage.looking.sights import Screens
    from viewer.stage.rows import ListedJudgement

_MOST_LOOKED: Final = 300
"""So many judgements get a view in which little is hidden, the rest from the front."""
_NO_SHAPES: Final[list[Shape]] = []
_NO_SIZES: Final[list[Dimension]] = []


@dataclass(frozen=True, slots=True)
class _Rowed:
    """A row, and what it was made from.

    Attributes:
        room: What the view holds: the corners of all of it, to the millimetre.
        front, clear: Of the view.
        of: What else the row says.
        row: The row.
    """

    room: tuple[float, ...]
    front: Front | None
    clear: bool
    of: tuple[Judgement, int | None, tuple[str, ...], View]
    row: ListedJudgement


def all_rows(
    judgements: Sequence[Judgement],
    arrangement: Arrangement,
    made: tuple[Sequence[Shape], Sequence[Dimension]],
    bounds: tuple[Point, Point],
    kept: Kept,
) -> tuple[ListedJudgement, ...]:
    """Return the row of each judgement.

    Args:
        judgements: In the order of their rows: what is met comes last.
        arrangement: Where things stand.
        made: The shapes and the dimensions that were made.
        bounds: The lowest and the highest corner of the room and all in it.
        kept: What was made for stages before.
    """
    shapes, lines = made
    own, bare = own_shapes(shapes), _bare_lines(judgements, lines)
    units = arrangement.scene.units
    by_item: defaultdict[str, list[Shape]] = defaultdict(list)
    for shape in shapes:
        if shape.role in {"solid", "leaf"}:
            by_item[shape.item].append(shape)
    blocking: list[Screens] = []

    def look(parts: Sequence[Points], front: Front | None, clear: bool) -> View:  # noqa: FBT001 - as it is kept
        if clear and not blocking:
            blocking.append(screens(shapes))
        ahead = front.frame.out if front else None
        hiding = blocking[0] if clear else NOTHING
        return best_view(np.concatenate(parts), ahead, hiding)

    numbers = accumulate(int(one.verdict != "met") for one in judgements)
    told = [
        None if one.verdict == "met" else number
        for one, number in zip(judgements, numbers, strict=True)
    ]
    # Part by part, so that for a row which stays as it was nothing is put together.
    rows, items = range(len(judgements)), arrangement.items
    subjects = [items.get(one.subject) for one in judgements]
    fronts = [one.front if one else None for one in subjects]
    drawn = [own.get(index, _NO_SHAPES) for index in rows]
    bodies = [by_item.get(one.subject, _NO_SHAPES) for one in judgements]
    sizes = [bare.get(index, _NO_SIZES) for index in rows]
    nothing = [
        () if any(some) else bounds for some in zip(drawn, bodies, sizes, strict=True)
    ]

    def make(index: int, last: _Rowed | None) -> _Rowed:
        """Make a row; of the last one of the same judgement what may stay is kept."""
        judged, number, front = judgements[index], told[index], fronts[index]
        clear = number is not None and number <= _MOST_LOOKED
        things: list[Shape | Dimension] = [
            *drawn[index],
            *bodies[index],
            *sizes[index],
        ]
        seen = tuple(map(_corners, things)) or (corners_of(*bounds),)
        room = _extent(seen)
        # Where other items stand may have changed: it is still a view of all of it.
        if (
            last is not None
            and (last.room, last.clear) == (room, clear)
            and last.front is front
        ):
            looked = last.of[-1]
        else:
            looked = look(seen, front, clear)
        names = tuple(shape.id for shape in drawn[index])
        of = judged, number, names, looked
        if last is not None and last.of[0] is of[0] and last.of[1:] == of[1:]:
            return _Rowed(room, front, clear, of, last.row)
        made = row(judged, number, units, names, looked)
        return _Rowed(room, front, clear, of, made)

    names = [name_of(one) for one in judgements]
    same, alike = (judgements, fronts), (told, drawn, bodies, sizes, nothing)
    return tuple(one.row for one in kept.each("rows", names, same, alike, make))


def _corners(thing: Shape | Dimension) -> Points:
    if not isinstance(thing, Dimension):
        return thing.vertices
    return np.array((thing.start, thing.end, thing.reached_start, thing.reached_end))


def _bare_lines(
    judgements: Sequence[Judgement], lines: Sequence[Dimension]
) -> dict[int, list[Dimension]]:
    """Return the sizes that belong to no space, by their rows."""
    found: defaultdict[int, list[Dimension]] = defaultdict(list)
    for size in lines:
        if size.judgement is not None and judgements[size.judgement].line is not None:
            found[size.judgement].append(size)
    return dict(found)


def _extent(parts: Sequence[Points]) -> tuple[float, ...]:
    """Return the lowest and the highest corner of some points, to the millimetre."""
    points = np.concatenate(parts)
    ends = np.concatenate([points.min(axis=0), points.max(axis=0)])
    return tuple(np.round(ends, 3).tolist())
