"""What of a plan could not be read, with where it lies if that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from model3d.exchange.dxf.unsure.undecided import may_be
from model3d.exchange.listed_unread import listed_unread

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d.exchange.dxf.drawn_plan import Left, Plan
    from model3d.exchange.dxf.layer_table import LayerTable
    from model3d.geometry.frame import Corner


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
    found = (
        (None if at is None else np.array(at), _entry(left, count, at, written))
        for left, count, at in _unread(plan, table)
    )
    low, high = np.min(outline, axis=0), np.max(outline, axis=0)
    return listed_unread(found, low, high, "plan")


def _entry(
    left: Left, count: int, at: Corner | None, written: Callable[[Corner], list[float]]
) -> dict[str, Any]:
    what = f"{left.what} {left.which}".rstrip()
    entry: dict[str, Any] = {"name": f"{what} on layer {left.layer}"}
    entry |= {"count": count} if count > 1 else {}
    return entry | ({"at": [*written(at), 0.0]} if at is not None else {})


def _unread(plan: Plan, table: LayerTable) -> Iterator[tuple[Left, int, Corner | None]]:
    for left in plan.left:
        if left.whole or left.hidden or left.loose or not may_be(table, left.layer):
            continue
        for at in left.places:
            yield left, 1, at
        if rest := left.count - len(left.places):
            yield left, rest, None
