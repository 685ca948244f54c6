"""A window that tells what it knows: run by the tests, on a display of their own."""

from __future__ import annotations

import json
import sys
import time
from typing import TYPE_CHECKING, Any, Final

from tests.viewer.window.window_rooms import window_state
from viewer.sheet.projection import Projection
from viewer.window.app import App
from viewer.window.shown import shapes_shown

if TYPE_CHECKING:
    from viewer.window.ink import Control

_PAUSE: Final = 0.005
_COUNTED: Final = ("Press", "Release", "Wheel")
"""What the names of events have in them that a test waits for."""


def main() -> None:
    """Open a window of a size, with a lesson or without, and tell of every change."""
    width, height, lesson = (int(word) for word in sys.argv[1:])
    app = App(window_state(lesson=bool(lesson)), (width, height))
    app.open()
    heard = 0

    def count(event: str) -> None:
        nonlocal heard
        heard += any(word in event for word in _COUNTED)

    app.picture.listen(count)
    last = ""
    while app.pump():
        if not app.step():
            time.sleep(_PAUSE)
        told = json.dumps({"heard": heard, **_told(app)})
        if told != last:
            sys.stdout.write(f"{told}\n")
            sys.stdout.flush()
            last = told
    app.picture.close()


def _told(app: App) -> dict[str, Any]:
    state = app.state
    room = app.frame.room
    middle = state.stage.shape("S1").vertices.mean(axis=0)
    size = round(room.right - room.left), round(room.bottom - room.top)
    seen = Projection(app.view(), *size, round(room.left), round(room.top))
    return {
        "settled": app.is_settled,
        "mouse": app.picture.mouse,
        "finding": None if state.picked is None else state.picked.requirement,
        "item": state.item,
        "verdicts": {
            f"{one.subject} {one.requirement}": one.verdict
            for one in state.stage.findings
        },
        "steps": state.moving.steps("S1"),
        "shelf": seen.pixels(middle).round().tolist()[0],
        "drawn": sum(len(shapes) for shapes in shapes_shown(state).values()),
        "hidden": sorted(state.hidden),
        "section": state.section and state.section.axis,
        "step": state.place.step,
        "withheld": state.is_withheld,
        "bearing": round(app.pose.bearing, 1),
        "tall": round(app.pose.tall, 3),
        "room": [room.left, room.top, room.right, room.bottom],
        "controls": [_control(one) for one in app.controls],
    }


def _control(control: Control) -> list[Any]:
    action, box = control.action, control.box
    places = [box.left, box.top, box.right, box.bottom]
    return [action.name, action.value, action.number, places]


if __name__ == "__main__":
    main()
