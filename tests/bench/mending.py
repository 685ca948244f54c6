"""The map of one item's places against checking places one by one.

Run ``python -m tests.bench.mending``. Times are processor time of this process.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass
from typing import Final

from model3d import Scene, check, read_scene
from model3d.mending.places import free_places
from model3d.mending.remedies import bench_of, mends
from tests.bench.halls import hall
from tests.paths import SCENES

PLACES: Final = 1000
"""So many places one by one are what a map is compared with."""


@dataclass(frozen=True, slots=True)
class MapTime:
    """How long a map took, and a check of as many places.

    Attributes:
        solids: In the scene.
        mapped: Seconds for the map.
        checked: Seconds for a check of each of the places, worked out from a few.
    """

    solids: int
    mapped: float
    checked: float

    @property
    def ratio(self) -> float:
        """How many times longer the checks take."""
        return self.checked / self.mapped


def map_against_checks(solids: int, tried: int = 2) -> MapTime:
    """Map the places of the first gear of a hall, and check the hall a few times."""
    scene: Scene = hall(solids)
    name = next(one.id for one in scene.items if one.size and one.supply)
    start = time.process_time()
    for one in free_places(scene, name).maps:
        assert one.intervals if one.stance.on_wall else one.area is not None
    mapped = time.process_time() - start
    start = time.process_time()
    for _ in range(tried):
        check(scene)
    checked = (time.process_time() - start) / tried * PLACES
    return MapTime(solids, mapped, checked)


def remedies_of_the_pump_station() -> tuple[float, float]:
    """Return seconds for all remedies, and for one check of the same room."""
    scene = read_scene(SCENES / "pump-station.yaml")
    start = time.process_time()
    bench = bench_of(scene)
    checked = time.process_time() - start
    start = time.process_time()
    assert all(one.remedies for one in mends(bench))
    return time.process_time() - start, checked


def main() -> None:
    """Measure and print."""
    for solids in (25, 1000):
        one = map_against_checks(solids)
        _print(
            f"{PLACES} checks / a map among {solids} solids: {one.checked:.1f} s / "
            f"{one.mapped:.2f} s = {one.ratio:.0f} (aim: 100)"
        )
    mended, checked = remedies_of_the_pump_station()
    _print(
        f"all remedies of the pump station / one check: {mended:.2f} s / "
        f"{checked:.2f} s = {mended / checked:.0f}"
    )


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
