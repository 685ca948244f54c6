"""A window that tells what it knows: run by the tests, on a display of their own."""

from __future__ import annotations

import json
import sys
import time
from typing import TYPE_CHECKING, Any

from tests.viewer.window_rooms import window_state
from viewer.window.app import App
from viewer.window.shown import shapes_shown

if TYPE_CHECKING:
    from viewer.window.ink import Control


def main() -> None:
    """Open a window of a size, with a lesson or without, and tell of every change."""
    width, height, lesson = (int(word) for word in sys.argv[1:])
    app = App(window_state(lesson=bool(lesson)), (width, height))
    app.open()
    last = ""
    while app.pump():
        if not app.step():
            time.sleep(0.005)
        told = json.dumps(_told(app))
        if told != last:
            sys.stdout.write(f"{told}\n")
            sys.stdout.flush()
            last = told
    app.picture.close()


def _told(app: App) -> dict[str, Any]:
    state = app.state
    room = app.frame.room
    shelf = next(one for one in state.stage.shapes if one.id == "S1")
    return {
        "finding": None if state.picked is None else state.picked.requirement,
        "item": state.item,
        "verdicts": {
            f"{one.subject} {one.requirement}": one.verdict
            for one in state.stage.findings
        },
        "busy": state.moving.busy,
        "steps": state.moving.steps("S1"),
        "shelf": shelf.vertices.mean(axis=0).round(3).tolist(),
        "drawn": sum(len(shapes) for shapes in shapes_shown(state).values()),
        "section": state.section and state.section.axis,
        "step": state.place.step,
        "bearing": round(app.pose.bearing, 1),
        "elevation": round(app.pose.elevation, 1),
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
