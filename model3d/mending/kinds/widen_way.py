"""Move what a way out is narrowest between straight away from there.

A way is no space of which a map knows what bars it: distances are tried, and to ask of
a way takes long. So none is tried aside, where a thing must go far to be out of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, TypeAlias

from model3d.egress.doors.open_leaves import leaf_name
from model3d.geometry.tolerance import TOUCH
from model3d.mending.movable import may_move
from model3d.mending.moving import along, move, own_ways
from model3d.mending.placing.nearest import room_one_way
from model3d.mending.proof.search import Family

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.moving import Vector
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.item import Item
    from model3d.scene.lesson import Change


_Move: TypeAlias = "tuple[str, str, Vector]"
"""Id of a thing, the way in words, and as a unit vector."""
_TWO: Final = 2
_FURTHEST: Final = 3.0
"""Metres. No remedy moves things further, taken together."""


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of what stands at the narrowest place of a way out."""
    for item in _between(judged, bench):
        for words, way in _apart(judged, bench, item).items():
            yield along(bench, item.id, way, words, _short(judged))


def pairs(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield moves of the two things that a way out is narrowest between.

    One goes as far as it may, the other the rest.
    """
    between = _between(judged, bench)
    if len(between) != _TWO:
        return
    for one, other in (between, between[::-1]):
        for first in _apart(judged, bench, one).items():
            room = room_one_way(bench, one.id, judged, first[1][:2])
            if bench.step <= room < _FURTHEST:
                for second in _apart(judged, bench, other).items():
                    both = (one.id, *first), (other.id, *second)
                    yield _both(bench, both, room, _short(judged))


def _both(bench: Bench, both: tuple[_Move, _Move], room: float, least: float) -> Family:
    """Return moves of two things, the first by what room it has."""
    (one, words, way), (other, other_words, other_way) = both

    def do(amount: float) -> tuple[Change, ...] | None:
        if amount <= room:
            return None
        return tuple(
            move(bench.scene, name, (x * by, y * by, 0.0))
            for name, (x, y, _), by in (
                (one, way, room),
                (other, other_way, amount - room),
            )
        )

    def text(amount: float) -> str:
        return (
            f"Move {one} {bench.length(room)} {words}, and move {other} "
            f"{bench.length(amount - room)} {other_words}."
        )

    return Family(do, text, max(least, room + bench.step), _FURTHEST)


def _between(judged: Judgement, bench: Bench) -> list[Item]:
    """Return what a way out is narrowest between and may be moved."""
    if judged.way is None:
        return []
    names = set(judged.way.between)
    return [
        item
        for item in bench.scene.items
        if may_move(item) and names & {item.id, leaf_name(item.id)}
    ]


def _apart(judged: Judgement, bench: Bench, item: Item) -> dict[str, Vector]:
    """Return the ways that take a thing away from the narrowest place of a way out."""
    at = judged.way.at if judged.way else (0.0, 0.0)
    ways = own_ways(bench, item)
    return {word: way for word, way in ways.items() if _widens(bench, item.id, at, way)}


def _short(judged: Judgement) -> float:
    return max(-(judged.margin or 0.0), 0.0) if judged.short == "width" else 0.0


def _widens(bench: Bench, name: str, at: Corner, way: Vector) -> bool:
    """Tell whether a move takes a thing away from the narrowest place of a way."""
    low, high = bench.situation.arrangement.items[name].solid.bounds
    ahead = (
        (there - min(max(there, low[n]), high[n])) * way[n]
        for n, there in enumerate(at)
    )
    return sum(ahead) < -TOUCH
