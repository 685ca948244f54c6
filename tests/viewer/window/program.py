"""A window that tells what it knows: run by the tests, on a display of their own."""

from __future__ import annotations

import json
import sys
from typing import Any

from tests.viewer.window.window_rooms import stage
from viewer.sheet.projection import Projection
from viewer.window.app import App
from viewer.window.shown import shapes_shown


def main() -> None:
    """Open a window of a size, with a lesson or without, and tell of each picture."""
    width, height, lesson = (int(word) for word in sys.argv[1:])
    app = App(stage(lesson=bool(lesson)), (width, height))

    def tell() -> None:
        sys.stdout.write(f"{json.dumps(_told(app))}\n")
        sys.stdout.flush()

    app.plotter.render_window.AddObserver("EndEvent", lambda *_: tell())
    app.run()


def _told(app: App) -> dict[str, Any]:
    state, view, room = app.state, app.view(), app.frame.room
    middle = state.stage.shape("S1").vertices.mean(axis=0)
    corner = round(room.left), round(room.top)
    seen = Projection(view, *app.frame.room_size, *corner)
    return {
        "fine": app.is_fine,
        "finding": state.picked and state.picked.requirement,
        "number": state.finding,
        "item": state.item,
        "panel": state.panel,
        "hidden": sorted(state.hidden),
        "section": state.section and [state.section.axis, state.section.at],
        "step": state.place.step,
        "withheld": state.is_withheld,
        "eye": view.eye,
        "target": view.target,
        "up": view.up,
        "shelf": seen.pixels(middle)[0].tolist(),
        "drawn": sum(map(len, shapes_shown(state).values())),
        "numbers": {
            number: [
                one + two for one, two in zip(mark.box.middle, corner, strict=True)
            ]
            for mark in app.signs.marks
            for number in mark.findings
        },
    }


if __name__ == "__main__":
    main()
