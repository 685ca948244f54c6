"""Set the tiers of a rack higher that are too near above the cells that are judged."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.geometry.tolerance import TOUCH
from model3d.mending.movable import item_of
from model3d.mending.proof.search import Family
from model3d.scene.parts.lesson import SetItem
from model3d.units import from_metres
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.scene.parts.item import Item, Tier
    from model3d.scene.parts.lesson import Change


def families(judged: Judgement, bench: Bench) -> Iterator[Family]:
    """Yield greater heights of all tiers above the one whose cells are judged."""
    item = item_of(bench, judged.subject)
    if item is None or judged.tier is None or item.size is None or item.mesh:
        return
    above = judged.tier + 1
    own = any(one.item == judged.subject for one in judged.intrusions)
    if own and above < len(item.tiers or ()):
        yield _higher(bench, item, above, max(-(judged.margin or 0.0), 0.0))


def _higher(bench: Bench, item: Item, first: int, least: float) -> Family:
    """Return greater heights of the tiers from the first one on.

    The rack is made as much taller as its cells need.
    """
    scene, tiers = bench.scene, item.tiers or ()
    size = item.size or (0, 0, 0)
    tall = scene.metres(size[2])
    last = len(tiers)
    words = f"tier {last}" if first + 1 == last else f"tiers {first + 1} to {last}"

    def top(tier: Tier) -> float:
        parts = (tier.shelf, tier.cell[2], tier.post)
        return sum(scene.metres(part) for part in parts)

    highest = max(top(tier) for tier in tiers[first:])

    def raised(tier: Tier, amount: float) -> dict[str, Any]:
        shelf = from_metres(scene.metres(tier.shelf) + amount, scene.units)
        return {**tier.model_dump(exclude_unset=True), "shelf": shelf}

    def do(amount: float) -> tuple[Change, ...] | None:
        fields: dict[str, Any] = {
            "tiers": [
                raised(tier, amount if number >= first else 0.0)
                for number, tier in enumerate(tiers)
            ]
        }
        if highest + amount > tall + TOUCH:
            high = from_metres(highest + amount, scene.units)
            fields["size"] = [size[0], size[1], high]
        return (SetItem(set=item.id, fields=fields),)

    def clause(amount: float) -> str:
        told = say(
            "Set {} of {} {} higher", words, Named(item.id), bench.length(amount)
        )
        if highest + amount > tall + TOUCH:
            return say(
                "{}, so that it is {} high", told, bench.length(highest + amount)
            )
        return told

    return Family(do, clause, least, tall)
