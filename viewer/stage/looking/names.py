"""The names of things, beside them, and which of them matter most."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.drawn import Label
from viewer.stage.looking.sights import Screens, screens
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from model3d.judging.results import Judgement
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed
    from viewer.stage.drawn import Point, Points, Shape, View
    from viewer.stage.kept import Kept
    from viewer.stage.parts import Stage

IN_QUESTION: Final = 0
GEAR: Final = 1
DOOR: Final = 2
PART: Final = 3
OTHER: Final = 4
GHOST: Final = 6
_LONGEST: Final = 28
"""Characters of a name in the picture; a longer one ends in an ellipsis."""
_BELOW: Final = 0.02
"""Metres below the top of an item: what lies on it hides that, but not the top."""


def labels(
    arrangement: Arrangement,
    judgements: Sequence[Judgement],
    shapes: Sequence[Shape],
    kept: Kept,
) -> tuple[Label, ...]:
    """Return a label for every item and every personnel door, what matters first."""
    in_question = {
        name
        for one in judgements
        if one.verdict == "not-met"
        for name in (one.subject, *(hit.item for hit in one.intrusions))
    }
    ghosts = {shape.item for shape in shapes if shape.ghost}
    placed = [one for one in arrangement.items.values() if not one.of_room]
    names = [one.id for one in placed]
    asked, faint = ([name in some for name in names] for some in (in_question, ghosts))

    def make(number: int, _last: object) -> Label:
        return _label(placed[number], asked[number], faint[number])

    found = kept.each("labels", names, (placed,), (asked, faint), make)
    found += _doors(arrangement)
    return tuple(sorted(found, key=lambda label: (label.rank, label.item)))


def _label(placed: Placed, in_question: bool, ghost: bool) -> Label:  # noqa: FBT001 - two facts
    rank = IN_QUESTION if in_question else _rank(placed, ghost=ghost)
    return Label(placed.id, shortened(placed.id), _anchor(placed), rank, ghost)


def shortened(text: str) -> str:
    """Return a name short enough for a picture.

    >>> shortened("a" * 40)
    'aaaaaaaaaaaaaaaaaaaaaaaaaaa…'
    """
    plain = clean(text)
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 1] + "…"


def _rank(placed: Placed, *, ghost: bool) -> int:
    if ghost:
        return GHOST
    if placed.live:
        return GEAR
    return PART if placed.associated else OTHER


def _anchor(placed: Placed) -> Point:
    """Return a point on top of an item, at its front where it has one."""
    open_rack = placed.item is not None and placed.item.tiers is not None
    if placed.front is not None and not open_rack:
        x, y = placed.front.frame.to_plan(placed.front.width / 2, 0.0)
        return x, y, placed.top
    low, high = placed.solid.bounds
    return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2, high[2]


def _doors(arrangement: Arrangement) -> Iterator[Label]:
    room = arrangement.scene.room
    metres = arrangement.scene.metres
    for door in room.doors if room else ():
        line = arrangement.shell.line(door.wall)
        x, y = line.frame.to_plan(metres(door.along) + metres(door.width) / 2, 0.0)
        # On the threshold: a wall near the viewer vanishes, and its lintel with it.
        yield Label(door.id, shortened(door.id), (x, y, metres(door.sill)), DOOR)


def in_sight(labels: Iterable[Label], stage: Stage, view: View) -> Iterator[Label]:
    """Yield labels; one whose point another thing hides names a point that is seen.

    It would else be read as the name of that thing. It is the item's middle, or else
    the middle of a side or an upright edge of it, the nearest to the viewer first.
    Where all of that is hidden as well, the label stays.
    """
    shown = {layer.id for layer in stage.layers if layer.shown}
    solids = [
        shape
        for shape in stage.shapes
        if shape.role == "solid" and shape.layer in shown and len(shape.vertices)
    ]
    bodies = screens(solids)
    whose = np.array([shape.item for shape in solids if not shape.ghost])
    eye = np.array(view.eye)
    for label in labels:
        own = [one.vertices for one in solids if one.item == label.item]
        other = whose != label.item
        if not own or not other.any():
            yield label
            continue
        others = Screens(bodies.low[other], bodies.high[other])
        x, y, top = label.anchor
        points = np.concatenate(own)
        low, high = points.min(axis=0), points.max(axis=0)
        sides = _about(low, high, eye)
        # Above what carries something its name would stand on that.
        over = np.append(((low + high) / 2)[:2], high[2] + _BELOW)
        if ((others.low < over) & (over < others.high)).all(axis=1).any():
            spots = sides
        else:
            middle = x, y, (float(low[2]) + top) / 2
            spots = [(x, y, top - _BELOW), middle, *sides]
        spot = next((one for one in spots if _is_seen(one, others, eye)), None)
        if spot is None or spot == (x, y, top - _BELOW):
            yield label
        else:
            yield replace(label, anchor=spot)


def _is_seen(point: Point, others: Screens, eye: Points) -> bool:
    return not others.before(np.array([point]), eye).any()


def _about(low: Points, high: Points, eye: Points) -> list[Point]:
    """Return middles of the upright sides and edges of a box that an eye may see."""
    middle, half = (low + high) / 2, (high - low) / 2
    ahead = np.sign(eye - middle) * (np.abs(eye - middle) > half)
    found = [
        middle + half * (across, along, 0.0)
        for across, along in product((-1, 0, 1), repeat=2)
        if (across and across == ahead[0]) or (along and along == ahead[1])
    ]
    found.sort(key=lambda point: float(np.linalg.norm(eye - point)))
    return [(float(x), float(y), float(z)) for x, y, z in found]
