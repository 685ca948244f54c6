"""Large equipment: wide, and rated for many amperes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.codebook import Entry
    from model3d.scene.placed import Placed
    from model3d.situation import Situation

WITHOUT_DEVICES: Final = ("transformer", "battery-rack", "meter-socket")
"""Kinds that hold no overcurrent, switching or control devices: large or not, the
sentences on large equipment and on personnel doors do not speak of them."""


def is_large(item: Placed, situation: Situation) -> tuple[bool | None, str]:
    """Tell whether an item is large equipment; None with what must be said to know it.

    High voltage has figures of its own and is not asked about here.
    """
    entry = situation.book.entry("large-equipment")
    if (
        not entry.given
        or not item.live
        or item.front is None
        or item.kind.name in WITHOUT_DEVICES
        or is_high_voltage(item, situation)
    ):
        return False, ""
    alone = _together([item], entry, situation)
    if alone[0] is not False:
        return alone
    if entry.flag("combined_service") and _is_service(item):
        return _group(item, entry, situation, _is_service)
    if entry.flag("combined_feeder") and _may_be_feeder(item):
        found, question = _group(item, entry, situation, _may_be_feeder)
        if found:
            return None, (
                "Feeder disconnects count together: a person must say whether "
                f"{item.id} and those beside it are."
            )
        return found, question
    return False, ""


def _group(
    item: Placed, entry: Entry, situation: Situation, belongs: Callable[[Placed], bool]
) -> tuple[bool | None, str]:
    group = [one for one in situation.live if one is item or belongs(one)]
    return _together(group, entry, situation) if len(group) > 1 else (False, "")


def _together(
    group: Sequence[Placed], entry: Entry, situation: Situation
) -> tuple[bool | None, str]:
    """Add up widths and amperes; one item stands for itself."""
    wide = sum(one.front.width for one in group if one.front is not None)
    if wide <= situation.most(entry.figure("width_over")) + TOUCH:
        return False, ""
    if sum(one.amps or 0.0 for one in group) >= entry.number("amps"):
        return True, ""
    unknown = sorted(one.id for one in group if one.amps is None)
    if unknown:
        return None, f"Say how many amperes {', '.join(unknown)} is rated for."
    return False, ""


def _is_service(item: Placed) -> bool:
    return item.item is not None and item.item.service is True


def _may_be_feeder(item: Placed) -> bool:
    return item.kind.name == "disconnect" and not _is_service(item)
