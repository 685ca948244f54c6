"""Hang a leaf on its other side, or put two leaves in place of one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.mending.movable import item_of
from model3d.mending.proof.search import Family
from model3d.scene.parts.lesson import SetItem
from model3d.units import from_metres
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Leaf
    from model3d.scene.scene import Scene

_OTHER = {"left": "right", "right": "left"}


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield other hinges of a leaf that does not open far enough."""
    item = item_of(bench, judged.subject)
    if item is None or judged.leaf is None:
        return
    if item.doors is not None:
        leaf = item.doors[judged.leaf]
        other = _OTHER[leaf.hinge]
        which = say("leaf {} of {}", f"{judged.leaf + 1}", Named(item.id))
        one = {**_written(leaf), "hinge": other}
        yield _doors(
            item.doors, judged.leaf, [one], item.id, say("Hinge {} {}", which, other)
        )
        two = _halves(leaf, bench.scene)
        words = say("Make {} two leaves", which)
        yield _doors(item.doors, judged.leaf, two, item.id, words)
    elif item.door in _OTHER:
        other = _OTHER[item.door]
        yield _set(
            item.id,
            {"door": other},
            say("Hinge the door of {} {}", Named(item.id), other),
        )
        words = say("Give {} two leaves", Named(item.id))
        yield _set(item.id, {"door": "pair"}, words)


def _set(name: str, fields: dict[str, Any], words: str) -> Family:
    change = SetItem(set=name, fields=fields)
    return Family(
        lambda _: (change,), lambda _: words, 0.0, 0.0, moves=False, fixed=True
    )


def _doors(
    doors: tuple[Leaf, ...],
    number: int,
    new: list[dict[str, Any]],
    name: str,
    words: str,
) -> Family:
    found = [_written(leaf) for leaf in doors]
    found[number : number + 1] = new
    return _set(name, {"doors": found}, words)


def _written(leaf: Leaf) -> dict[str, Any]:
    found: dict[str, Any] = leaf.model_dump(exclude_unset=True)
    return found


def _halves(leaf: Leaf, scene: Scene) -> list[dict[str, Any]]:
    half = scene.metres(leaf.width) / 2
    width, start = from_metres(half, scene.units), scene.metres(leaf.offset)
    second = from_metres(start + half, scene.units)
    plain = _written(leaf)
    return [
        {**plain, "hinge": "left", "width": width},
        {**plain, "hinge": "right", "width": width, "offset": second},
    ]
