"""What a step of a lesson looks at, drawn to scale for its sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.lessons import expectations
from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import AddItem, MoveItem, SetItem
from viewer.figure.item.three_sides import ALL, item_figure
from viewer.figure.plans.room import room_figure
from viewer.figure.plans.ways_sheet import way_figures
from viewer.figure.things.sight import sight_of
from viewer.figure.things.subject import subject_of
from viewer.stage.looking.cameras import ABOVE, direction

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Report
    from model3d.lessons import StepResult
    from model3d.scene.parts.look import Look
    from viewer.figure.drafting.drawing import Figure

_ENTRANCE: Final = "entrance"
_SECOND: Final = "second-entrance"
_HIGH: Final = 140.0
"""Millimetres of height that three views of an item take at most."""
_FLAT: Final = 74.0
"""Millimetres of height that one plan takes at most."""
_WHOLE: Final = 130.0
"""Millimetres of height of the plan of a room in which all counts."""
_AROUND: Final = 1.0
"""Metres. So much is drawn about an item where no spaces tell how far to look."""
_OF_CHANGE: Final = 0.7
"""Metres. So much is drawn of what a step changes farther away than it looks."""
_BESIDE: Final = 0.1
"""Cosine. Who stands so far from straight in front sees the item from its side."""


def step_figures(report: Report, result: StepResult, width: float) -> Iterator[Figure]:
    """Yield what a step looks at, as near and in the layers that it says.

    Of a step about ways out that is the whole room, for its doors decide; and for the
    trainer the ways that are not met or open, each with its narrowest place.

    Args:
        report: What is told of it: of the class all judgements are kept.
        result: The step.
        width: Of the paper, millimetres.
    """
    items = _ways_asked(result)
    if not items:
        yield _drawn(report, result, width)
        return
    ways = [one for item in items for one in way_figures(report, item, width)]
    yield from ways or [room_figure(report, width, _WHOLE)]
    if not ways and result.opened:
        yield _drawn(report, result, width)  # a plan of the room shows no open leaves


def _ways_asked(result: StepResult) -> list[str]:
    """Return the items about whose ways out of the room a step is.

    It is where it expects something of a second way, or of any where it changes doors.
    """
    changes = (one for one in result.step.do if isinstance(one, SetItem))
    is_changed = any(one.set == "room" and "doors" in one.fields for one in changes)
    asked = {_SECOND, _ENTRANCE} if is_changed else {_SECOND}
    found = (item for item, name, _ in expectations(result.step) if name in asked)
    return [*dict.fromkeys(found)]


def _drawn(report: Report, result: StepResult, width: float) -> Figure:
    look = result.look
    if result.step.find:
        # What is to be found may be anywhere, wherever the step looks.
        return room_figure(report, width, _WHOLE)
    if look is None:
        return room_figure(report, width, _FLAT)
    near = None
    if look.near is not None:
        near = _near(result, look, result.scene.metres(look.near))
    elif not report.judgements:
        near = _near(result, look, _AROUND)
    sight = sight_of(result.report, look.at, near, look.layers or ())
    subject = subject_of(report, look.at)
    if subject is None:
        return room_figure(report, width, _FLAT, sight)
    if look.from_ == ABOVE:
        return item_figure(subject, ("plan",), width, _FLAT, sight)
    if look.from_ is not None:
        ahead = float(np.dot(direction(look.from_)[:2], subject.front.frame.out[:2]))
        if abs(ahead) < _BESIDE:
            return item_figure(subject, ("side",), width, _FLAT, sight)
    return item_figure(subject, ALL, width, _HIGH, sight)


def _near(result: StepResult, look: Look, near: float) -> float:
    """Return how far about an item a step is drawn: what it changes is in it.

    The page sees that beyond as well, for its picture is wider than what it must hold.

    Args:
        result: The step.
        look: Where it looks.
        near: Metres about the item that are drawn at least.
    """
    items = result.report.arrangement.items if result.report.arrangement else {}
    if look.at not in items:
        return near
    low, high = np.array(items[look.at].solid.bounds)
    for change in result.step.do:
        match change:
            case SetItem(set=item) | MoveItem(move=item) | AddItem(add=Item(id=item)):
                pass
            case _:
                continue
        if item not in items or item == look.at:
            continue
        least, most = np.array(items[item].solid.bounds)
        gap = float(np.maximum(low - most, least - high).max())
        far = float(np.maximum(low - least, most - high).max())
        near = max(near, min(far, gap + _OF_CHANGE))
    return near
