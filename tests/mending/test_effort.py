"""How much is tried: a count that is stated, and never a remedy that is not proved."""

from __future__ import annotations

import pytest

from model3d import Report, Scene, check, read_scene
from model3d.mending.effort import Effort, effort_for
from model3d.mending.remedies import Mend, bench_of, bench_of_report, mends
from tests.mending.test_places import box, room, switch
from tests.paths import SCENES
from viewer.report.document.content import Paragraph
from viewer.report.document.cures import Cures
from viewer.report.document.item_part import item_blocks
from viewer.report.rows import cure_words


@pytest.fixture(scope="module")
def short() -> Scene:
    """Return a room where a switch lacks depth."""
    things = box("S1", [400, 300, 600], {"at": [2100, 2200]}, kind="furniture")
    return room(switch({"wall": "north", "along": 1700, "bottom": 900}), things)


@pytest.fixture(scope="module")
def report(short: Scene) -> Report:
    """Return its report."""
    return check(short)


def _found(report: Report, total: int) -> tuple[Mend, ...]:
    return mends(bench_of_report(report, Effort(total)))


@pytest.mark.parametrize("total", [0, 1, 4, 9])
def test_what_is_offered_after_few_tries_is_proved_and_the_rest_is_told(
    short: Scene, report: Report, total: int
) -> None:
    bench = bench_of(short)
    for one in _found(report, total):
        assert f"{total} changes are tried at most" in one.cut_short
        assert one.remedies or one.why == one.cut_short
        for remedy in one.remedies:
            assert bench.proves(one.judged, remedy.do)


def test_the_same_count_finds_the_same(report: Report) -> None:
    one, other = (_found(report, 7) for _ in range(2))
    assert [m.remedies for m in one] == [m.remedies for m in other]


def test_with_enough_nothing_is_left_out(short: Scene, report: Report) -> None:
    whole = mends(bench_of(short))
    counted = _found(report, 10_000)
    assert [one.remedies for one in counted] == [one.remedies for one in whole]
    assert not any(one.cut_short for one in counted)


def test_each_breach_has_its_share() -> None:
    effort = Effort(10)
    effort.begin(2)
    assert [effort.take() for _ in range(6)] == [True] * 5 + [False]
    assert effort.spent
    effort.begin(1)
    assert [effort.take() for _ in range(6)] == [True] * 5 + [False]


def test_in_a_crowded_room_less_is_tried_than_in_a_small_one(report: Report) -> None:
    crowded = check(read_scene(SCENES / "scanned-pump.yaml")).arrangement
    assert crowded is not None
    assert report.arrangement is not None
    assert 0 < effort_for(crowded).total < effort_for(report.arrangement).total


def test_a_report_says_in_words_what_was_not_searched(report: Report) -> None:
    (one,) = _found(report, 0)
    assert "Not everything was searched" in cure_words(one)[0]
    (some,) = _found(report, 10)
    cures = Cures({_key(some): some})
    blocks = item_blocks(report, some.judged.subject, "x", 170.0, cures)
    told = [part.text for part in blocks if isinstance(part, Paragraph)]
    assert any("10 changes are tried at most" in text for text in told)


def _key(one: Mend) -> tuple[str, str, int | None, int | None, str | None]:
    it = one.judged
    return it.requirement, it.subject, it.leaf, it.tier, it.side
