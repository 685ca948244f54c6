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
from viewer.film import turn_film
from viewer.stage import build_stage, document
from viewer.still import picture

if TYPE_CHECKING:
    from collections.abc import Callable

SCENE: Final = Path(__file__).parents[2] / "scenes" / "pump-station.yaml"
FRAMES: Final = 12


def main() -> None:
    """Measure the pump station: check, stage, still pictures, frames of a film."""
    scene = read_scene(SCENE)
    checked = _seconds("check", lambda: check(scene))
    report = check(scene)
    _seconds("stage", lambda: build_stage(scene, report), checked)
    stage = build_stage(scene, report)
    _seconds("stage as plain data", lambda: document(stage), checked)
    with TemporaryDirectory() as folder:
        file = Path(folder) / "room.png"
        first = _seconds(
            "first picture, 1600 x 1000", lambda: picture(scene, report, file)
        )
        _seconds("next picture", lambda: picture(scene, report, file), first)
        small = (900, 600)
        _seconds(
            "small picture", lambda: picture(scene, report, file, size=small), first
        )
        film = Path(folder) / "turn.gif"
        whole = _seconds(
            f"film of {FRAMES} frames, 960 x 640",
            lambda: turn_film(scene, report, film, frames=FRAMES),
            first,
        )
        sys.stdout.write(f"a frame of it {whole / FRAMES:.3f} s\n")


def _seconds(what: str, work: Callable[[], object], against: float = 0.0) -> float:
    start = time.perf_counter()
    work()
    taken = time.perf_counter() - start
    ratio = f"  {taken / against:6.2f} times" if against else ""
    sys.stdout.write(f"{what:32} {taken:8.3f} s{ratio}\n")
    return taken


if __name__ == "__main__":
    main()
