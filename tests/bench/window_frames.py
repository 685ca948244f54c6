"""Frames of a window, measured on a display: run by ``tests.bench.window``.

A process of its own, for a window must be gone before its display is.
"""

from __future__ import annotations

import json
import sys
import time
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Final

import pyvista as pv  # noqa: TID251 - a plotter is what bodies are drawn with

from tests.bench.fields import many_boxes
from viewer.picture.drawing.canvas import aim
from viewer.picture.drawing.passes import in_order, light_room
from viewer.stage.looking.cameras import corners_of, framed, towards_eye
from viewer.window.bodies import Bodies

if TYPE_CHECKING:
    from collections.abc import Callable

SIZE: Final = (1280, 800)
_FRAMES: Final = 7


@dataclass(frozen=True, slots=True)
class Turning:
    """How long many boxes take to be drawn, in seconds.

    Attributes:
        boxes: How many.
        joined: To join them to one body, with its lines.
        motion: A frame while the room turns.
        rest: A frame with all edges.
        pick: To find the box under the mouse.
    """

    boxes: int
    joined: float
    motion: float
    rest: float
    pick: float


def turning(count: int) -> Turning:
    """Turn so many boxes on the display, and pick one of them."""
    shapes, side = many_boxes(count), int(count**0.5) + 1
    points = corners_of((0.0, 0.0, 0.0), (side, side, 1.0))
    plotter = pv.Plotter(off_screen=False, window_size=[*SIZE], lighting="none")
    plotter.suppress_rendering = True
    plotter.disable_anti_aliasing()
    light_room(plotter.renderer)
    plotter.renderer.SetPass(in_order(0))
    bodies = Bodies(plotter.renderer)
    start = time.perf_counter()
    bodies.show({"gear": shapes})
    joined = time.perf_counter() - start
    plotter.suppress_rendering = False
    bearing = 142.0

    def turn(*, rough: bool) -> None:
        nonlocal bearing
        bearing += 4.0
        view = framed(points, towards_eye(bearing), aspect=SIZE[0] / SIZE[1])
        aim(plotter.renderer, view, SIZE)
        bodies.look(view, rough=rough)
        plotter.render()

    turn(rough=False)
    plotter.show(auto_close=False, interactive=False)
    found: list[str | None] = []
    motion = _fastest(lambda: turn(rough=True))
    rest = _fastest(lambda: turn(rough=False))
    picked = _fastest(lambda: found.append(bodies.item_at(SIZE[0] / 2, SIZE[1] / 2)))
    if not any(found):
        msg = "no box was under the mouse"
        raise RuntimeError(msg)
    plotter.close()
    return Turning(count, joined, motion, rest, picked)


def _fastest(work: Callable[[], object]) -> float:
    times = []
    for _ in range(_FRAMES):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Measure what is asked for, and print it as JSON."""
    sys.stdout.write(f"{json.dumps(asdict(turning(int(sys.argv[1]))))}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
