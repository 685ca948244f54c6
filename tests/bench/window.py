"""Print how fast the window and the live check are: ``python -m tests.bench.window``.

Frames need Xvfb; without a graphics card they are drawn by the processor. Checks are
timed by the processor time of this process, all else by elapsed time, the fastest of a
few; what counts are ratios within one run.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from model3d import check
from model3d.standing.moves import moved
from tests.bench.halls import hall
from tests.viewer.window.virtual_display import (
    PATIENCE,
    Display,
    ended,
    program,
    virtual_display,
)
from viewer.live.rechecked import LiveCheck
from viewer.stage import build_stage

if TYPE_CHECKING:
    from viewer.live.rechecked import Known
    from viewer.stage.drawn import Shape

SIZE: Final = (1280, 800)
MOVED: Final = "B3-0"
"""A box in the working space of the fourth gear of a hall."""
SCENE: Final = Path("scenes") / "pump-station.yaml"
_SHOW: Final = "import sys; from viewer.cli.main import main; sys.exit(main())"
_IMPORT: Final = "import pyvista"
_OFTEN: Final = 0.01
"""Seconds between two looks at the screen."""
_LIGHT: Final = 200
_DRAWN: Final = 0.2
"""Share of the screen that is light once a picture is there."""


@dataclass(frozen=True, slots=True)
class Recheck:
    """How long a room takes to answer while an item moves.

    Attributes:
        boxes: Of the hall.
        whole: Seconds of a check and of the stage of it, made anew.
        judged: Until the body in the way has followed.
        shown: With the stage of it, as one frame has it.
        left: Until all is judged that is judged while things move.
    """

    boxes: int
    whole: float
    judged: float
    shown: float
    left: float

    @property
    def follows(self) -> bool:
        """Whether the body in the way follows within one frame."""
        return self.judged <= self.shown * 1.1


def recheck(boxes: int, repeats: int = 5) -> Recheck:
    """Move a box of a hall about, and check the hall anew; take the fastest."""
    scene = hall(boxes, door=True)
    start = time.process_time()
    build_stage(scene, check(scene))
    whole = time.process_time() - start
    live = LiveCheck(scene)
    _move(live, 10.0)
    judged, shown, left = [], [], []
    for _ in range(repeats):
        while live.has_more:
            live.more()
        start = time.process_time()
        told = _move(live, 10.0)
        shown.append(time.process_time() - start)
        while not _has_followed(told.stage.shapes):
            assert live.has_more, "the body in the way did not follow"
            told = live.more()
        judged.append(time.process_time() - start)
        while live.has_more:
            live.more()
        left.append(time.process_time() - start)
    return Recheck(boxes, whole, min(judged), min(shown), min(left))


def _move(live: LiveCheck, by: float) -> Known:
    """Move the box eastwards, in millimetres; all else stays the very same."""
    scene = live.scene
    items = tuple(
        moved(scene, one, (by, 0.0, 0.0)) if one.id == MOVED else one
        for one in scene.items
    )
    return live.move(scene.model_copy(update={"items": items}))


def _has_followed(shapes: tuple[Shape, ...]) -> bool:
    """Tell whether the body in the way ends where the box does, on its right."""
    inside = [s for s in shapes if s.role == "intrusion" and s.item == MOVED]
    (box,) = (s for s in shapes if s.id == MOVED)
    end = box.vertices[:, 0].max()
    return any(abs(one.vertices[:, 0].max() - end) < 1e-6 for one in inside)


def first_frame(repeats: int = 3) -> tuple[float, float]:
    """Return the median seconds until a window is drawn, and of loading pyvista.

    From the start of the process; of the window until its picture is on the screen.
    """
    drawn, loaded = [], []
    for _ in range(repeats):
        # One after the other, so that a busy moment of the machine falls on both.
        with virtual_display(SIZE) as display:
            drawn.append(_until_drawn(display))
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", _IMPORT], check=True)  # noqa: S603 - this Python
        loaded.append(time.perf_counter() - start)
    return statistics.median(drawn), statistics.median(loaded)


def _until_drawn(display: Display) -> float:
    words = ("-c", _SHOW, "show", str(SCENE), "--size", f"{SIZE[0]}x{SIZE[1]}")
    start = time.perf_counter()
    with program(display, *words) as running:
        while not _is_drawn(display):
            assert running.poll() is None, running.communicate()[1]
            assert time.perf_counter() - start < PATIENCE, "no window was opened"
            time.sleep(_OFTEN)
        taken = time.perf_counter() - start
        display.press("key", "q")
        ended(running)
    return taken


def _is_drawn(display: Display) -> bool:
    counts = display.picture().convert("L").histogram()
    return sum(counts[_LIGHT:]) > _DRAWN * sum(counts)


def frames(count: int) -> dict[str, Any]:
    """Measure frames of a window in a process of its own, see ``window_frames``."""
    words = ("-m", "tests.bench.window_frames", str(count))
    with virtual_display(SIZE) as display, program(display, *words) as running:
        out, told = running.communicate(timeout=10 * PATIENCE)
        if running.returncode:
            raise RuntimeError(told)
    found: dict[str, Any] = json.loads(out)
    return found


def main() -> None:
    """Measure everything and print tables."""
    line = "{:<40} {:>10} {:>10} {:>10} {:>10}".format
    drawn, loaded = first_frame()
    _print(line("first frame of a window", "", "pyvista", "ratio", ""))
    ratio = f"{drawn / loaded:.1f}"
    _print(line(f"{SCENE.stem}", _ms(drawn), _ms(loaded), ratio, ""))
    heads = ("whole", "body", "one check", "all soon")
    _print(line("a box moves in a hall: the check", *heads))
    for boxes in (50, 100, 300):
        one = recheck(boxes)
        times = (one.whole, one.judged, one.shown, one.left)
        _print(line(f"{boxes} boxes", *map(_ms, times)))
    _print(line("a field of boxes", "joined", "turns", "rests", "pick"))
    for count in (60, 1_000, 10_000, 50_000):
        told = frames(count)
        shown = (_ms(told[name]) for name in ("joined", "motion", "rest", "pick"))
        _print(line(f"{count} boxes", *shown))


def _ms(seconds: float) -> str:
    return f"{seconds * 1000:.1f} ms"


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
