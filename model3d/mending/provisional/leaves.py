"""Hinged leaves as the sectors that they sweep."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from model3d.geometry.sweep import QUARTER, Sweep
from model3d.geometry.tolerance import TOUCH
from model3d.judging.results import ANGLE
from model3d.mending.map.probe import key_of
from model3d.mending.provisional.tenths import all_tenths, axes
from model3d.rules import door_swing
from model3d.standing.leaves import stated_leaves, whole_front
from model3d.working.footing import may_be_in_pit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


def leaves(item: Placed, situation: Situation) -> Iterator[dict[str, Any]]:
    """Yield the leaves of an item that must open.

    Each has ``sure``, the sectors of which one that is stopped is not met for certain,
    and ``strict``, those that must all turn free; ``both`` where it is not known on
    which side it is hinged.
    """
    stated = stated_leaves(item, situation.scene)
    front, tolerance = item.front, situation.survey_tolerance
    if front is None:
        return
    for judged in door_swing.claims(item, situation):
        found = [whole_front(front, "left"), whole_front(front, "right")]
        if stated is not None:
            found = [stated[judged.leaf or 0]]
        one = {
            "key": list(key_of(judged)),
            "angle": judged.required[ANGLE],
            "sure": [_told(leaf, -tolerance) for leaf in found],
            "strict": [_told(leaf, tolerance) for leaf in found],
            "both": int(stated is None),
            "meter": int(item.kind.holds_meter),
        }
        if judged.required[ANGLE] > QUARTER or may_be_in_pit(front, situation):
            one["never"] = 1
        yield one


def _told(leaf: Sweep, by: float) -> list[float]:
    leaf = replace(leaf, radius=max(leaf.radius + by, TOUCH), top=leaf.top + by)
    sizes = (leaf.radius, leaf.bottom, leaf.top)
    return [*axes(leaf.frame), *all_tenths(sizes)]


def bands(item: Placed, situation: Situation) -> set[tuple[float, float]]:
    """Return the heights between which the leaves of an item sweep, metres."""
    stated = stated_leaves(item, situation.scene) if item.live else ()
    front, tolerance = item.front, situation.survey_tolerance
    if stated is None and front is not None:
        stated = (whole_front(front, "left"),)
    return {
        (one.bottom, one.top + by)
        for one in stated or ()
        for by in (-tolerance, tolerance)
    }
