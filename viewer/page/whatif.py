"""What a page that is sent must know to answer "what if"."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.judging.unseen import no_judging
from model3d.mending.provisional.record import whole_record
from viewer.page.places import DIGITS, STEP, middle, shown
from viewer.stage.bodies.spaces import key
from viewer.stage.listed import ordered

if TYPE_CHECKING:
    from model3d import Report, Scene


def whatif(scene: Scene, report: Report) -> dict[str, Any] | None:
    """Return a room as the page's own small judge takes it, as plain data.

    None where a scan stands in it: nothing can be judged on the spot, so nothing is
    moved, and the page says why.

    Args:
        scene: The room.
        report: What the check answered.

    Raises:
        ValueError: The report does not say where things stand.
    """
    if report.arrangement is None:
        msg = "the report does not say where things stand"
        raise ValueError(msg)
    if no_judging(scene):
        return None
    unit, items = scene.units, report.arrangement.items
    return {
        "record": whole_record(scene),
        "rows": [key(judgement) for judgement in ordered(report)],
        "unit": unit,
        "step": STEP[unit],
        "digits": DIGITS[unit],
        "places": {
            one.id: shown(middle(items[one.id]), unit)
            for one in scene.items
            if one.id in items
        },
    }
