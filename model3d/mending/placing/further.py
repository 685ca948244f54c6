"""Move a thing further than to the nearest free place, where that shuts somebody in.

A map of free places knows nothing of the ways out. Where they are worse at the nearest
place of each kind, there may be one further on the same way at which they are not.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.mending.movable import in_the_way, item_of, may_move, stands_on_floor
from model3d.mending.moving import along, own_ways
from model3d.mending.placing.nearest_place import nearest
from model3d.mending.proof.remedy import Remedy

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.moving import Vector
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family
    from model3d.scene.parts.item import Item

_STEPS: Final = 128
"""So many steps beyond the nearest free place are looked at."""
_PROVED: Final = 48
"""So many places are proved for one breach: most of them fail soon."""
_ASIDE: Final = 1e-6
"""Metres. What is no further beside a way is on it."""


def further(judged: Judgement, bench: Bench) -> Iterator[Remedy]:
    """Yield moves straight on beyond the nearest free places, the shortest that do it.

    Args:
        judged: The breach, which no move to those cures.
        bench: The scene.
    """
    own = item_of(bench, judged.subject)
    items = [own] if own is not None and may_move(own) else []
    left = _PROVED
    for item in [*items, *in_the_way(judged, bench)]:
        places = [*dict.fromkeys(nearest(bench, item.id, judged))]
        for words, way in _ways(bench, item):
            starts = [along_it for by in places if (along_it := _on(by, way)) > 0.0]
            if starts and left > 0:
                family = along(bench, item.id, way, words, min(starts))
                amount, left = _first_proved(family, judged, bench, left)
                do = None if amount is None else family.do(amount)
                if amount is not None and do is not None:
                    yield Remedy(do, amount, family.clause(amount))


def _ways(bench: Bench, item: Item) -> Iterator[tuple[str, Vector]]:
    """Yield the ways of an item; of what hangs those alone that stay at its wall."""
    stands = stands_on_floor(bench, item.id)
    for words, way in own_ways(bench, item).items():
        if stands or words not in {"forward", "back"}:
            yield words, way


def _on(by: tuple[float, float], way: Vector) -> float:
    """Return how far a displacement goes one way; 0 where it goes another."""
    ahead = by[0] * way[0] + by[1] * way[1]
    aside = by[1] * way[0] - by[0] * way[1]
    return ahead if abs(aside) <= _ASIDE else 0.0


def _first_proved(
    family: Family, judged: Judgement, bench: Bench, left: int
) -> tuple[float | None, int]:
    """Return the amount beyond the least of a family that is proved, and what is left.

    By doubling, then by halving.

    Args:
        family: Moves of a thing one way; the least is known not to do.
        judged: The breach.
        bench: The scene.
        left: So many may be proved.
    """
    low, count = 0, 1
    while True:
        if left <= 0 or count > _STEPS or _amount(family, count, bench) > family.most:
            return None, left
        left -= 1
        if _proves(family, count, judged, bench):
            break
        low, count = count, 2 * count
    while count - low > 1 and left > 0:
        middle, left = (low + count) // 2, left - 1
        if _proves(family, middle, judged, bench):
            count = middle
        else:
            low = middle
    return _amount(family, count, bench), left


def _proves(family: Family, count: int, judged: Judgement, bench: Bench) -> bool:
    do = family.do(_amount(family, count, bench))
    return do is not None and bench.seems_cured(judged, do) and bench.proves(judged, do)


def _amount(family: Family, count: int, bench: Bench) -> float:
    return family.least + count * bench.step
