"""The rows of the list, each with where the camera goes to see what it is about."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

import numpy as np

from viewer.stage.drawn import Dimension
from viewer.stage.listed import name_of, own_shapes, row
from viewer.stage.looking.cameras import corners_of
from viewer.stage.looking.sights import NOTHING, best_view, screens

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.judging.results import Judgement
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Front
    from viewer.stage.drawn import Point, Points, Shape, View
    from viewer.stage.kept import Kept
    from viewer.stage.looking.sights import Screens
    from viewer.stage.rows import ListedJudgement

    _Look: TypeAlias = Callable[[Sequence[Points], Front | None, bool], View]

_MOST_LOOKED: Final = 300
"""So many judgements get a view in which little is hidden, the rest from the front."""


class _Asked(NamedTuple):
    """What decides how a row comes out.

    Attributes:
        judgement: What was judged.
        told: The number of the row; None where it is met.
        drawn: The shapes that belong to the row.
        things: What is to be seen: those, the item, and sizes without a space.
        front: Of the item.
        bounds: Of the room, which is looked at where there is nothing of the row.
    """

    judgement: Judgement
    told: int | None
    drawn: Sequence[Shape]
    things: tuple[Shape | Dimension, ...]
    front: Front | None
    bounds: tuple[Point, Point]

    @property
    def clear(self) -> bool:
        """Whether the view shall be one in which little is hidden."""
        return self.told is not None and self.told <= _MOST_LOOKED


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

    def asked(index: int) -> _Asked:
        one = judgements[index]
        drawn, subject = own.get(index, ()), arrangement.items.get(one.subject)
        things = *drawn, *by_item.get(one.subject, ()), *bare.get(index, ())
        front = subject.front if subject else None
        return _Asked(one, told[index], drawn, things, front, bounds)

    def make(index: int, last: _Rowed | None) -> _Rowed:
        return _rowed(every[index], units, look, last)

    every = [asked(index) for index in range(len(judgements))]
    same = judgements, [one.front for one in every]
    alike = (
        told,
        [len(one.drawn) for one in every],
        [one.things for one in every],
        [() if one.things else bounds for one in every],
    )
    names = [name_of(one) for one in judgements]
    return tuple(one.row for one in kept.each("rows", names, same, alike, make))


def _rowed(asked: _Asked, units: str, look: _Look, last: _Rowed | None) -> _Rowed:
    """Make a row; of the last one of the same judgement what may stay is kept."""
    seen = tuple(map(_corners, asked.things)) or (corners_of(*asked.bounds),)
    room, front, clear = _extent(seen), asked.front, asked.clear
    # Where other items stand may have changed: it is still a view of all of it.
    if (
        last is not None
        and (last.room, last.clear) == (room, clear)
        and last.front is front
    ):
        looked = last.of[-1]
    else:
        looked = look(seen, front, clear)
    names = tuple(shape.id for shape in asked.drawn)
    of = asked.judgement, asked.told, names, looked
    if last is not None and last.of[0] is of[0] and last.of[1:] == of[1:]:
        return _Rowed(room, front, clear, of, last.row)
    made = row(asked.judgement, asked.told, units, names, looked)
    return _Rowed(room, front, clear, of, made)


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
