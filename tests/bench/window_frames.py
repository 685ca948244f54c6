"""Frames of a window, measured on a display: run by ``tests.bench.window``.

A process of its own, for a window must be gone before its display is.
"""

from __future__ import annotations

import json
import sys
import time
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Final

from model3d.following.claims import Following
from tests.bench.fields import joining, many_boxes
from tests.bench.halls import hall
from viewer.window.app import App
from viewer.window.frame import framed
from viewer.window.picture import Picture
from viewer.window.poses import Pose
from viewer.window.state import Action, WindowState

if TYPE_CHECKING:
    from collections.abc import Callable

SIZE: Final = (1280, 800)
MOVED: Final = "B3-0"
"""A box in the working space of the fourth gear of a hall."""
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


@dataclass(frozen=True, slots=True)
class Moved:
    """How long a frame takes in which a box of a hall moves, in seconds.

    Attributes:
        boxes: Of the hall.
        judged: The check of what the move bears on, and the stage of it.
        frame: With all that is drawn anew.
        still: A frame in which nothing moves.
    """

    boxes: int
    judged: float
    frame: float
    still: float


def turning(count: int) -> Turning:
    """Turn so many boxes on the display, and pick one of them."""
    shapes = many_boxes(count)
    side = int(count**0.5) + 1
    pose = Pose((side / 2, side / 2, 0.5), 142.0, 32.0, side * 0.9)
    frame = framed(*SIZE, lesson=False)
    picture = Picture("boxes", SIZE)
    picture.put_layers({"gear": shapes})
    picture.divide(frame)

    def turn(*, rough: bool) -> None:
        nonlocal pose
        pose = pose.turned(0.02, 0.0)
        picture.look(pose.view(frame.aspect))
        picture.draw(rough=rough)

    turn(rough=False)
    found: list[str | None] = []
    middle = frame.room.middle
    motion = _fastest(lambda: turn(rough=True))
    rest = _fastest(lambda: turn(rough=False))
    picked = _fastest(lambda: found.append(picture.item_at(middle)))
    if not any(found):
        msg = "no box was under the mouse"
        raise RuntimeError(msg)
    picture.close()
    return Turning(count, joining(count), motion, rest, picked)


def moving(boxes: int) -> Moved:
    """Move a box of a hall in a window, as its slider does."""
    scene = hall(boxes, door=True)
    app = App(WindowState((scene,), Following(scene)), SIZE)
    app.open()
    app.do(Action("item", MOVED))
    app.do(Action("form"))
    _settle(app)
    judged, drawn = [], []
    for _ in range(_FRAMES):
        start = time.perf_counter()
        app.do(Action("nudge", "0", 1))
        judged.append(time.perf_counter() - start)
        app.step()
        drawn.append(time.perf_counter() - start)
    _settle(app)

    def still() -> None:
        app.uncover()
        app.step()

    least = _fastest(still)
    app.picture.close()
    return Moved(boxes, min(judged), min(drawn), least)


def _settle(app: App) -> None:
    while not app.is_settled:
        app.pump()
        app.step()


def _fastest(work: Callable[[], object]) -> float:
    times = []
    for _ in range(_FRAMES):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Measure what is asked for, and print it as JSON."""
    what, count = sys.argv[1], int(sys.argv[2])
    told = moving(count) if what == "moving" else turning(count)
    sys.stdout.write(f"{json.dumps(asdict(told))}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
