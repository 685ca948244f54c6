"""How much is tried: a count that is stated, and never a remedy that is not proved."""

from __future__ import annotations

import json
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its writers make the meshes

from model3d import Report, Scene, check, read_scene
from model3d.geometry.bodies.solid import Mesh
from model3d.mending.effort import (
    WHOLE,
    Effort,
    effort_beside_scan,
    effort_for,
    is_beyond_search,
)
from model3d.mending.remedies import Mend, bench_of, bench_of_report, mends
from tests.mending.test_places import box, room, switch
from tests.paths import SCENES
from viewer.page.remedies import remedies
from viewer.report.document.content import Paragraph
from viewer.report.document.cures import Cures, cures_of
from viewer.report.document.dossier import dossier
from viewer.report.rows import cure_words
from viewer.stage import build_stage

if TYPE_CHECKING:
    from pathlib import Path

    from model3d.standing.arrangement import Arrangement
    from viewer.stage import Stage


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


@pytest.mark.long
@pytest.mark.parametrize("total", [0, 3, 2 * WHOLE, 5 * WHOLE])
def test_what_is_offered_after_few_tries_is_proved_and_the_rest_is_told(
    short: Scene, report: Report, total: int
) -> None:
    bench = bench_of(short)
    for one in _found(report, total):
        assert "Not every change was tried" in one.cut_short
        assert one.remedies or one.why == one.cut_short
        assert bool(one.remedies) == (total >= WHOLE)
        for remedy in one.remedies:
            assert bench.proves(one.judged, remedy.do)


@pytest.mark.long
def test_the_same_count_finds_the_same(report: Report) -> None:
    one, other = (_found(report, 3 * WHOLE) for _ in range(2))
    assert [m.remedies for m in one] == [m.remedies for m in other]


@pytest.mark.long
def test_with_enough_nothing_is_left_out(short: Scene, report: Report) -> None:
    whole = mends(bench_of(short))
    counted = _found(report, 10_000)
    assert [one.remedies for one in counted] == [one.remedies for one in whole]
    assert not any(one.cut_short for one in counted)


def test_each_breach_has_its_share() -> None:
    effort = Effort(6 * WHOLE)
    for left in (2, 1):
        # A third of three checks of the whole room is one; two are left for these.
        effort.begin(left)
        assert all(effort.take() for _ in range(WHOLE))
        assert effort.may_ask is effort.is_short is False
        assert effort.take(WHOLE)
        assert not effort.take()
        assert effort.take(WHOLE)
        assert not effort.take(WHOLE)
        assert effort.is_short


def test_what_one_breach_leaves_the_next_may_have() -> None:
    effort = Effort(6 * WHOLE)
    effort.begin(2)
    effort.begin(1)
    assert [effort.take(WHOLE) for _ in range(7)] == [True] * 6 + [False]


@pytest.mark.long
def test_something_is_proved_in_a_room_of_large_meshes(tmp_path: Path) -> None:
    # Rounds of some thousand triangles in a turned room: to judge it takes seconds.
    for name, height in (("one", 0.3), ("two", 0.4)):
        body = trimesh.creation.icosphere(subdivisions=4, radius=300)
        body.apply_translation([0, 0, height * 1000])
        body.export(tmp_path / f"{name}.stl")
    corners = [[0, 0], [5000, 2000], [3600, 5500], [-1400, 3500]]
    gear = {"size": [500, 200, 1200], "supply": {"system": "480Y/277", "amps": 200}}
    place = {"wall": "wall-1", "along": 600, "bottom": 600}
    # Along the wall is from its left end, seen from the room: from the east here.
    at = {"one": [3905, 2445], "two": [2300, 2600]}
    file = tmp_path / "room.yaml"
    plain = {
        "title": "Turned",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"outline": corners, "height": 3000},
        "items": [
            {"id": "LP1", "kind": "panelboard", "place": place, **gear},
            *(
                {"id": n, "kind": "machine", "mesh": f"{n}.stl", "place": {"at": p}}
                for n, p in at.items()
            ),
        ],
    }
    file.write_text(json.dumps(plain))
    report = check(read_scene(file))
    assert report.arrangement is not None
    effort = effort_for(report.arrangement, report.counts["not-met"])
    assert effort.total <= 5 * WHOLE
    (one,) = mends(bench_of_report(report, effort))
    assert one.remedies
    assert "Not every change was tried" in one.cut_short


@pytest.mark.long
def test_in_a_crowded_room_less_is_tried_than_in_a_small_one(report: Report) -> None:
    crowded = check(read_scene(SCENES / "scanned-pump.yaml")).arrangement
    assert crowded is not None
    assert report.arrangement is not None
    assert 0 < effort_for(crowded, 1).total < effort_for(report.arrangement, 1).total


@pytest.mark.long
def test_a_report_says_in_words_what_was_not_searched(report: Report) -> None:
    (one,) = _found(report, 0)
    assert "Not every change was tried" in cure_words(one)[0]
    (some,) = _found(report, 3 * WHOLE)
    cures = Cures({_key(some): some})
    blocks = dossier([report], paper="a4", cured=[cures]).blocks
    told = " ".join(part.text for part in blocks if isinstance(part, Paragraph))
    assert told.count(some.cut_short) == 1


def _key(one: Mend) -> tuple[str, str, int | None, int | None, str | None]:
    it = one.judged
    return it.requirement, it.subject, it.leaf, it.tier, it.side


def test_a_scan_of_a_million_triangles_is_asked_few_questions() -> None:
    # Each asks all of the scan anew, a second or so: hundreds would take minutes.
    def spent(triangles: int, breaches: int) -> int:
        return effort_for(_room_of(triangles), breaches).total

    assert spent(50_000, 4) == spent(100_000, 4) == 16 * WHOLE
    assert WHOLE < spent(1_000_000, 4) <= 2 * WHOLE
    assert spent(9_000_000, 4) == WHOLE


def test_shares_too_small_for_a_proof_are_given_to_the_first() -> None:
    effort = Effort(2 * WHOLE)
    effort.begin(8)
    assert effort.take()
    assert effort.take(WHOLE)
    effort.begin(7)
    assert not effort.take(WHOLE)
    assert effort.is_short


def test_a_search_for_all_has_an_end_beside_a_large_scan_alone() -> None:
    """It took hours, and the user waits; else nothing is left untried."""
    few, many = _room_of(400_000), _room_of(1_200_000)
    assert effort_beside_scan(few, 8) is None
    found = effort_beside_scan(many, 8)
    assert found is not None
    assert found.total == 2 * effort_for(many, 8).total


def test_who_waits_for_a_report_does_not_wait_for_a_search_beside_a_large_scan(
    report: Report, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It took many times what the check takes: the scan is asked anew each time."""
    assert not is_beyond_search(_room_of(400_000))
    assert is_beyond_search(_room_of(1_200_000))
    monkeypatch.setattr("model3d.mending.effort._MANY", -1)
    broken = [one for one in report.judgements if one.verdict == "not-met"]
    assert broken
    found = cures_of(report)
    assert len(found.mends) == len(broken)
    assert not found.tightest
    for one in broken:
        mend = found.of(one)
        assert mend is not None
        assert not mend.remedies
        assert "No change was tried beside so large a scan" in mend.cut_short
    blocks = dossier([report], paper="a4", cured=[found]).blocks
    told = " ".join(part.text for part in blocks if isinstance(part, Paragraph))
    assert "No change was tried beside so large a scan" in told
    assert report.arrangement is not None
    stage = build_stage(report.arrangement.scene, report)
    rows = remedies(report, stage, _never)
    assert rows
    assert all(not one["remedies"] and "scan" in one["why"] for one in rows.values())


def _never(*_: object) -> Stage:
    msg = "nothing is drawn of a remedy that was not searched"
    raise AssertionError(msg)


def _room_of(triangles: int) -> Arrangement:
    faces = np.zeros((triangles, 3), dtype=np.int64)
    scan = SimpleNamespace(solid=Mesh(np.zeros((1, 3)), faces))
    return cast("Arrangement", SimpleNamespace(items={"S": scan}))
