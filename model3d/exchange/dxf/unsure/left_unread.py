"""What of a plan could not be read: no scene can show it, so it is named there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.dxf.unsure.undecided import may_be

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d.exchange.dxf.drawn_plan import Left, Plan
    from model3d.exchange.dxf.layer_table import LayerTable
    from model3d.geometry.frame import Corner

_MOST: Final = 100
"""So many are named in a scene, the nearest first; the others are counted."""
_LONGEST: Final = 100


def left_unread(
    plan: Plan,
    table: LayerTable,
    outline: Sequence[Corner],
    written: Callable[[Corner], list[float]],
) -> list[dict[str, Any]]:
    """Return what could not be read and may be in the way, as a scene lists it.

    Args:
        plan: The plan.
        table: What its layers become: what is on one to ignore is no thing.
        outline: Of the room.
        written: Puts a point as the scene writes it.
    """
    low, high = np.min(outline, axis=0), np.max(outline, axis=0)

    def aside(at: Corner | None) -> float:
        if at is None:
            return -1.0
        return float(np.linalg.norm(np.maximum(0.0, np.maximum(low - at, at - high))))

    found = [*_unread(plan, table)]
    found.sort(key=lambda each: aside(each[2]))
    listed = []
    for left, count, at in found[:_MOST]:
        name = f"{left.what} {left.which}".rstrip() + f" on layer {left.layer}"
        entry: dict[str, Any] = {"name": name[:_LONGEST]}
        entry |= {"count": count} if count > 1 else {}
        entry |= {"at": [*written(at), 0.0]} if at is not None else {}
        listed.append(entry)
    if more := sum(count for _, count, _ in found[_MOST:]):
        listed.append({"name": "others of the plan", "count": more})
    return listed


def _unread(plan: Plan, table: LayerTable) -> Iterator[tuple[Left, int, Corner | None]]:
    for left in plan.left:
        if left.whole or left.hidden or left.loose or not may_be(table, left.layer):
            continue
        for at in left.places:
            yield left, 1, at
        if rest := left.count - len(left.places):
            yield left, rest, None
