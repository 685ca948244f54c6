"""Changes of several things at once, where no single one of them cures a breach."""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING, Final

from model3d.following import Following
from model3d.mending.effort import WHOLE
from model3d.mending.kinds import all_kinds
from model3d.mending.map.posed import carried
from model3d.mending.map.probe import key_of
from model3d.mending.movable import in_the_way, is_scan
from model3d.mending.proof.remedy import Bench, Remedy, changed_items
from model3d.mending.proof.search import Enough, offered
from model3d.mending.proof.sketch import changed
from model3d.wording.said import Named, ids, joined, lowered, say

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from model3d.judging.results import Judgement
    from model3d.scene.parts.lesson import Change
    from model3d.standing.placed import Placed

_MOST: Final = 3
"""With more in the way than this one set of changes is looked for, and no choice."""
_HEAP: Final = 8
"""With more in the way than this no changes together are looked for."""
_PROVED: Final = 12
"""So many changes together are proved."""


def several(judged: Judgement, bench: Bench) -> Iterator[Remedy]:
    """Yield changes together: one for each of the things that are in the way.

    Each is looked for where the others are not there, and all are proved together. What
    comes to be in the way only when something else is gone is one of them.

    Args:
        judged: The breach.
        bench: The scene.
    """
    names = _all_in_the_way(judged, bench)
    if len(names) < 2:  # noqa: PLR2004 - one alone was tried
        return
    if len(names) > _MOST:
        for order in _orders(judged, bench, names):
            found = _one_after_another(judged, bench, order)
            if found is not None and bench.proves(judged, found.do):
                yield found
                return
        return
    yield from _chosen(judged, bench, names)


def why_none(judged: Judgement, bench: Bench) -> str:
    """Say why what is in the way is not moved; "" where that was looked for."""
    scans = [one.item for one in judged.intrusions if is_scan(bench, one.item)]
    if scans:
        return say("{} is a scan: what it shows stays where it is.", Named(scans[0]))
    names = [one.id for one in in_the_way(judged, bench)]
    if len(names) <= _HEAP:
        return ""
    return say(
        "{} things are in the way ({}): no more than {} are moved together.",
        f"{len(names)}",
        ids(names),
        f"{_HEAP}",
    )


def _orders(judged: Judgement, bench: Bench, names: list[str]) -> list[list[str]]:
    """Return orders in which many things are moved, the likeliest first.

    What is furthest from the item goes first: what goes before it may be put where it
    stands still.
    """
    items = bench.situation.arrangement.items
    here = _middle(items[judged.subject])
    far = sorted(names, key=lambda name: -math.dist(here, _middle(items[name])))
    orders = [far, names, names[::-1]]
    return [one for n, one in enumerate(orders) if one not in orders[:n]]


def _middle(placed: Placed) -> tuple[float, float]:
    low, high = placed.solid.bounds
    return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2


def _one_after_another(
    judged: Judgement, bench: Bench, names: list[str]
) -> Remedy | None:
    """Return a change of each of many things, each where those before it are moved.

    Those after it are not in its way, but it is not put where one of them still stands.
    """
    each: list[Remedy] = []
    for number, name in enumerate(names):
        do = [change for one in each for change in one.do]
        less = _without(bench, names[number + 1 :], do)
        left = None if less is None else _same(judged, less)
        if less is None or left is None:
            return None
        if left.verdict != "met":
            alone = _alone(left, less, name)
            fit = (one for one in alone if bench.keeps_apart([*do, *one.do]))
            if (found := next(fit, None)) is None:
                return None
            each.append(found)
    return _together(tuple(each)) if each else None


def _chosen(judged: Judgement, bench: Bench, names: list[str]) -> Iterator[Remedy]:
    """Yield the smallest of all choices of one change for each of a few things."""
    go = names
    each: list[list[Remedy]] = []
    for name in names:
        less = _without(bench, [one for one in go if one != name])
        left = None if less is None else _same(judged, less)
        if less is None or left is None:
            return
        if left.verdict == "met":
            go = [one for one in go if one != name]  # it may stay
        else:
            each.append(_alone(left, less, name))
    together = sorted(map(_together, product(*each)), key=Remedy.order)
    found = 0
    for one in together[:_PROVED]:
        if found < _MOST and bench.proves(judged, one.do):
            found += 1
            yield one


def _all_in_the_way(judged: Judgement, bench: Bench) -> list[str]:
    """Return what must go; nothing where more is in the way, or what stays."""
    names: dict[str, None] = {}
    left: Judgement | None = judged
    less: Bench | None = bench
    while left is not None and less is not None and left.verdict != "met":
        more = [one.id for one in in_the_way(left, less)]
        if not more or len(names) + len(more) > _HEAP:
            return []
        names |= dict.fromkeys(more)
        less = _without(bench, names)
        left = None if less is None else _same(judged, less)
    return list(names)


def _without(
    bench: Bench, names: Collection[str], do: Sequence[Change] = ()
) -> Bench | None:
    """Return a scene after changes in which things are not, nor what stands on them."""
    whole = changed(bench.scene, do)
    if whole is None or not bench.may_try(WHOLE):
        return None
    gone = {one for name in names for one in carried(whole, name)}
    items = tuple(item for item in whole.items if item.id not in gone)
    scene = whole.model_copy(update={"items": items, "lesson": None})
    following = Following(scene)
    return Bench(following, following.followed.report, bench.step, bench.effort)


def _same(judged: Judgement, bench: Bench) -> Judgement | None:
    found = (one for one in bench.report.judgements if key_of(one) == key_of(judged))
    return next(found, None)


def _alone(judged: Judgement, bench: Bench, name: str) -> list[Remedy]:
    """Return the smallest single changes of one thing that cure a breach."""
    families = (
        family
        for kind in all_kinds()
        for family in kind.families(judged, bench)
        if changed_items(family.do(family.least) or ()) == {name}
    )
    return sorted(
        offered(families, judged, bench, Enough(_MOST, _MOST)), key=Remedy.order
    )


def _together(each: tuple[Remedy, ...]) -> Remedy:
    first, *others = (one.clause for one in each)
    clause = joined(", and ", (first, *map(lowered, others)))
    do = tuple(change for one in each for change in one.do)
    return Remedy(do, sum(one.size for one in each), clause)
