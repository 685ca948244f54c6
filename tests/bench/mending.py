"""The map of one item's places against checks, remedies, and the page's own judge.

Run ``python -m tests.bench.mending``. Times are processor time of this process; of the
page's judge elapsed time in node.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d import Scene, check, read_scene
from model3d.mending.effort import Effort
from model3d.mending.map.places import free_places
from model3d.mending.remedies import Mend, bench_of, mend, mends
from tests.bench.halls import hall
from tests.bench.judge import judging_time
from tests.bench.least import by_turns
from tests.paths import SCENES

if TYPE_CHECKING:
    from model3d.mending.proof.remedy import Bench

PLACES: Final = 1000
"""So many places one by one are what a map is compared with."""


@dataclass(frozen=True, slots=True)
class MapTime:
    """How long a map took, and a check of as many places.

    Attributes:
        solids: In the scene.
        mapped: Seconds for the map: the least of some.
        checked: Seconds for a check of each of the places, from the quickest.
    """

    solids: int
    mapped: float
    checked: float

    @property
    def ratio(self) -> float:
        """How many times longer the checks take."""
        return self.checked / self.mapped


def map_against_checks(solids: int, rounds: int = 3) -> MapTime:
    """Map the places of the first gear of a hall and check the hall, by turns.

    The least of both is taken: what else ran on the machine has more than doubled the
    time of a single map.
    """
    scene: Scene = hall(solids)
    name = next(one.id for one in scene.items if one.size and one.supply)

    def mapping() -> None:
        for one in free_places(scene, name).maps:
            assert one.intervals if one.stance.on_wall else one.area is not None

    mapped, checked = by_turns(rounds, mapping, lambda: check(scene))
    return MapTime(solids, mapped, checked * PLACES)


@dataclass(frozen=True, slots=True)
class RemedyTime:
    """How long the remedies of a room took.

    Attributes:
        mended: Seconds for all of them: the least of some.
        checked: Seconds for a check of the room, likewise.
        remedies: So many were offered, each after a check of the whole room.
    """

    mended: float
    checked: float
    remedies: int

    @property
    def ratio(self) -> float:
        """How many checks take as long as all remedies."""
        return self.mended / self.checked


def remedies_of_the_pump_station() -> RemedyTime:
    """Look for all remedies of the pump station, and check it."""
    scene = read_scene(SCENES / "pump-station.yaml")
    check(scene)  # the first one loads the libraries
    benches: list[Bench] = []
    found: list[tuple[Mend, ...]] = []
    checked, mended = by_turns(
        3,
        lambda: benches.append(bench_of(scene)),
        lambda: found.append(mends(benches[-1])),
    )
    assert all(one.remedies for one in found[-1])
    return RemedyTime(mended, checked, sum(len(one.remedies) for one in found[-1]))


def asked_of_the_pump_station(most: int) -> tuple[int, int]:
    """Return how many questions remedies take, as ``Effort`` counts, and how many come.

    Args:
        most: So many of each breach are enough.
    """
    plenty = Effort(1_000_000)
    bench = replace(bench_of(read_scene(SCENES / "pump-station.yaml")), effort=plenty)
    broken = [one for one in bench.report.judgements if one.verdict == "not-met"]
    found = [mend(one, bench, most).remedies for one in broken]
    assert all(found)
    return plenty.spent, sum(map(len, found))


def main() -> None:
    """Measure and print."""
    for solids in (25, 1000):
        one = map_against_checks(solids)
        _print(
            f"{PLACES} checks / a map among {solids} solids: {one.checked:.1f} s / "
            f"{one.mapped:.2f} s = {one.ratio:.0f} (aim: 100)"
        )
    told = remedies_of_the_pump_station()
    _print(
        f"{told.remedies} remedies of the pump station, each proved / one check: "
        f"{told.mended:.2f} s / {told.checked:.2f} s = {told.ratio:.1f} (aim: 1 s)"
    )
    each = judging_time(1000)
    _print(
        f"a check of 1000 solids / the page's judgement of a moved item among them: "
        f"{one.checked:.1f} ms / {each:.2f} ms = {one.checked / each:.0f} (aim: 4 ms)"
    )


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
