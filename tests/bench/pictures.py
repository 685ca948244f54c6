"""How long pictures take: ``python -m tests.bench.pictures``.

Times are those of one machine; what counts are ratios within one run. Elapsed time, for
the drawing uses every processor there is.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final

from model3d import check, read_scene
from viewer.picture.moving.film import turn_film
from viewer.picture.still import SIZE, picture
from viewer.stage import build_stage, document

if TYPE_CHECKING:
    from collections.abc import Callable

SCENE: Final = Path(__file__).parents[2] / "scenes" / "pump-station.yaml"
FEW: Final = 4
FRAMES: Final = 12


def main() -> None:
    """Measure the pump station: check, stage, still pictures, a frame of a film."""
    scene = read_scene(SCENE)
    checked = _seconds("check", lambda: check(scene))
    report = check(scene)
    _seconds("stage / check", lambda: build_stage(scene, report), checked)
    stage = build_stage(scene, report)
    _seconds("stage as plain data / check", lambda: document(stage), checked)
    with TemporaryDirectory() as folder:
        file, film = Path(folder) / "room.png", Path(folder) / "turn.gif"

        def still(size: tuple[int, int] = SIZE) -> None:
            picture(scene, report, file, size=size)

        def turn(frames: int) -> None:
            turn_film(scene, report, film, frames=frames)

        first = _seconds(f"first picture, {SIZE[0]} x {SIZE[1]}", still)
        later = _seconds("next picture / first", still, first)
        small = (900, 600)
        _seconds("picture of 900 x 600 / next", lambda: still(small), later)
        few = _seconds(f"film of {FEW} frames / next picture", lambda: turn(FEW), later)
        many = _seconds(
            f"film of {FRAMES} frames / next picture", lambda: turn(FRAMES), later
        )
        # What is done once a film, the stage and the palette, falls out.
        _tell("a frame of it / next picture", (many - few) / (FRAMES - FEW), later)


def _seconds(what: str, work: Callable[[], object], against: float = 0.0) -> float:
    start = time.perf_counter()
    work()
    taken = time.perf_counter() - start
    _tell(what, taken, against)
    return taken


def _tell(what: str, taken: float, against: float) -> None:
    ratio = f"  {taken / against:6.2f} times" if against else ""
    sys.stdout.write(f"{what:36} {taken:8.3f} s{ratio}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
