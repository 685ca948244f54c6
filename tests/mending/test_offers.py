"""What is offered against a search by steps, straight on, of all that may be moved.

The rooms are invented. The outside source is the whole check of the scene after each
move, which knows nothing of maps; how gear may hang is common practice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pytest

from model3d import check
from model3d.mending.movable import in_the_way, item_of, may_move, stands_on_floor
from model3d.mending.moving import move, own_ways
from model3d.mending.proof.sketch import changed
from model3d.mending.remedies import bench_of, mend
from tests.independent.random_rooms import random_room
from tests.mending.few_things import few

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Judgement
    from model3d.mending.proof.remedy import Bench, Remedy
    from model3d.scene.parts.item import Item

LOOKED: Final = 2
"""So many breaches of a room are looked at."""
FAR: Final = 1.0
"""Metres. As far is looked where nothing is offered."""


def _moved(judged: Judgement, bench: Bench) -> Iterator[Item]:
    """Yield what may be moved, of what is in the room now."""
    outline = bench.situation.arrangement.shell.outline
    xs, ys = zip(*outline, strict=True)
    own = item_of(bench, judged.subject)
    items = [own] if own is not None and may_move(own) else []
    for item in [*items, *in_the_way(judged, bench)]:
        low, high = bench.situation.arrangement.items[item.id].solid.bounds
        inside = min(xs) <= low[0] and min(ys) <= low[1]
        if inside and high[0] <= max(xs) and high[1] <= max(ys):
            yield item


def _beating(judged: Judgement, offers: tuple[Remedy, ...], bench: Bench) -> list[str]:
    """Return the moves that do it too and are shorter by more than the step."""
    step, found = bench.step, []
    least = min((one.size for one in offers), default=FAR + step)
    most = int((least - step) / step - 1e-6)
    for item in _moved(judged, bench):
        stands = stands_on_floor(bench, item.id)
        for words, (x, y, _) in own_ways(bench, item).items():
            if not stands and words == "forward":
                continue  # what hangs is not moved into the air
            for count in range(1, most + 1):
                by = x * count * step, y * count * step, 0.0
                do = [move(bench.scene, item.id, by)]
                if bench.seems_cured(judged, do) and bench.proves(judged, do):
                    found.append(f"{item.id} {count * step:g} m {words}")
                    break
    return found


def _beaten(seed: int) -> list[tuple[str, str, list[str]]]:
    bench = bench_of(few(random_room(seed), seed))
    broken = [one for one in bench.report.judgements if one.verdict == "not-met"]
    found = []
    for judged in broken[:LOOKED]:
        offers = mend(judged, bench).remedies
        shorter = _beating(judged, offers, bench)
        if shorter:
            found.append((judged.requirement, judged.subject, shorter))
    return found


@pytest.mark.many
@pytest.mark.parametrize("seed", range(3000, 3026))
def test_no_straight_move_by_steps_is_shorter_than_all_offers(seed: int) -> None:
    assert not _beaten(seed)


def _offers(seed: int, requirement: str, subject: str) -> list[list[str]]:
    """Return what is offered for each such breach; each is checked once more."""
    scene = few(random_room(seed), seed)
    bench, found = bench_of(scene), []
    for judged in bench.report.of(subject, requirement):
        if judged.verdict == "not-met":
            offers = mend(judged, bench).remedies
            for one in offers:
                after = changed(scene, one.do)
                assert after is not None
                said = check(after).of(subject, requirement)
                same = [row for row in said if row.leaf == judged.leaf]
                assert [row.verdict for row in same] == ["met"]
            found.append([one.text for one in offers])
    return found


@pytest.mark.long
def test_gear_goes_further_where_the_nearest_place_shuts_somebody_in() -> None:
    # At the nearest place that a map tells, 470 mm back, another rule is worse.
    ((text,),) = _offers(3004, "working-space", "G0")
    assert text.startswith("Move G0 570 mm")


@pytest.mark.long
def test_what_stops_two_leaves_goes_as_far_as_the_one_needs_that_is_asked_about() -> (
    None
):
    first, second = _offers(3016, "door-swing", "G0")
    assert first[0].startswith("Move G2 150 mm")
    assert not any("G2 150 mm" in text for text in second)


@pytest.mark.long
def test_what_was_raised_by_several_steps_goes_back_as_far_as_it_may() -> None:
    # 150 mm do not, 240 mm are nine steps more.
    for texts in _offers(3022, "door-swing", "G0"):
        assert texts[0].startswith("Move G0 160 mm")
