"""Beside a scan nothing that needs room is met, whoever asks.

The outside source is the same box given by its size, of which all is known.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Final

import jsonschema
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import check
from model3d.check import situate
from model3d.following.claims import Following
from model3d.judging.systems import answers
from model3d.judging.unseen import WITHOUT_SPACE
from model3d.mending.altogether import mend_all
from model3d.mending.map.places import PlaceError, free_places
from model3d.mending.remedies import bench_of, mends
from model3d.mending.slack import slacks
from model3d.rules import (
    clear_floor,
    dedicated_space,
    door_swing,
    question,
    requirements,
    storage,
    working_space,
)
from model3d.scene.parts.lesson import MoveItem
from model3d.scene.text.schema import json_schema
from model3d.standing.changes import apply_change
from model3d.standing.remarks.surveyed import clouds_told
from tests.geometry.clouds.test_sifting import SCAN as REAL
from tests.scene.clouds.scans import HEAD, SCAN, STEP, crate, room, surface
from viewer.cli.main import main
from viewer.page.whatif import whatif
from viewer.stage import build_stage

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d import Judgement, Report

LOW: Final = (0.4, 1.55, 0.01)
HIGH: Final = (0.8, 1.95, 1.4)
FREE: Final = "not known to be free"


def key(one: Judgement) -> tuple[object, ...]:
    return one.requirement, one.subject, one.leaf, one.tier, one.side


def verdicts(report: Report) -> dict[tuple[object, ...], str]:
    return {key(one): one.verdict for one in report.judgements}


def assert_nothing_is_met(found: Iterable[Judgement]) -> None:
    for one in found:
        assert one.verdict != "met" or one.requirement in WITHOUT_SPACE, one


def test_the_table_names_rules_that_are_there() -> None:
    assert {*requirements()} > WITHOUT_SPACE


@pytest.mark.long
def test_a_dense_scan_of_a_box_is_in_the_way_as_the_box_is(tmp_path: Path) -> None:
    report = check(room(tmp_path, SCAN, surface(LOW, HIGH)))
    solid = check(room(tmp_path, crate(LOW, HIGH)))
    for requirement, size in (("working-space", "depth"), ("door-swing", "angle")):
        (one,) = report.of("LP1", requirement)
        (right,) = solid.of("LP1", requirement)
        assert one.verdict == right.verdict == "not-met"
        assert one.required == right.required
        off = one.provided[size] - right.provided[size]
        # The nearest point is on the face itself; a leaf may pass between two.
        assert -1e-9 <= off <= (STEP if size == "depth" else 5.0)
        (hit,), (body,) = one.intrusions, right.intrusions
        assert hit.volume is None
        assert np.allclose(hit.low, body.low, atol=STEP)
        assert np.allclose(hit.high, body.high, atol=STEP)
    (way,) = report.of("LP1", "entrance")
    (wide,) = solid.of("LP1", "entrance")
    # Beside the points 610 mm are just not left. Beside the box they are, and so it is
    # asked what the open door leaves of them: what is between the front and the box.
    assert way.verdict == wide.verdict == "open"
    assert 0.61 - STEP <= way.provided["width"] < 0.61
    assert wide.provided["width"] == pytest.approx(0.25)


@pytest.mark.long
def test_what_is_in_the_way_within_the_tolerance_is_open(tmp_path: Path) -> None:
    # The space reaches from 0.15 to 1.05, so that 8 mm of this are in it.
    points = surface((1.042, 1.0, 0.01), (1.4, 2.6, 1.9))
    for more, verdict in (("", "not-met"), ("survey_tolerance: 0.02", "open")):
        report = check(room(tmp_path, SCAN, points, more))
        (one,) = report.of("LP1", "working-space")
        assert one.verdict == verdict
        assert one.provided["depth"] == pytest.approx(0.892, abs=1e-6)


@pytest.mark.long
def test_it_is_told_what_counts_and_the_same_bytes_come_twice(tmp_path: Path) -> None:
    points = surface((3.0, 3.0, 0.01), (3.4, 3.4, 1.4))
    stray = np.array([[4.5, 0.5, 2.0]])
    scanner = np.array([[2.0, 2.0, 1.5]]) + np.arange(10)[:, None] * 0.01
    every = np.concatenate([points, points[:7], stray, scanner])
    item = SCAN.replace("scan.xyz", "scan.xyz, scanner: [2, 2]")
    first, again = (check(room(tmp_path, item, every)) for _ in range(2))
    assert first.json() == again.json()
    (told,) = [one.what for one in first.assumed if one.item == "S1"]
    assert f"{len(points)} of {len(every)} points count" in told
    assert "7 doubles, 1 strays and 10 at the scanner" in told
    assert first.arrangement is not None
    shapes = build_stage(room(tmp_path, item, every), first).shapes
    (drawn,) = [one for one in shapes if one.id == "S1"]
    assert 0 < len(drawn.faces) <= 4 * 3000


@pytest.mark.long
def test_nothing_is_offered_as_met(tmp_path: Path) -> None:
    scene = room(tmp_path, SCAN, surface(LOW, HIGH))
    assert all(not one.remedies and FREE in one.why for one in mends(bench_of(scene)))
    assert mend_all(scene).do == ()
    assert slacks(scene) == ()
    with pytest.raises(PlaceError, match=FREE):
        free_places(scene, "LP1")
    report = check(scene)
    assert whatif(scene, report) is None
    assert FREE in build_stage(scene, report).caution


@pytest.mark.long
@given(
    st.floats(-0.5, 5.2),
    st.floats(-0.5, 4.2),
    st.floats(-0.2, 2.9),
    st.floats(0.02, 0.6),
    st.sampled_from(["", "survey_tolerance: 0.03", "measures: si"]),
)
@settings(max_examples=40, deadline=None)
def test_wherever_it_is_nothing_is_met_nor_better(
    x: float, y: float, z: float, side: float, more: str
) -> None:
    points = surface((x, y, z), (x + side, y + side, z + side))
    with tempfile.TemporaryDirectory() as name:
        scene = room(Path(name), SCAN, points, more)
        report = check(scene)
        assert_nothing_is_met(report.judgements)
        without = verdicts(check(room(Path(name), "", None, more)))
        for one, verdict in verdicts(report).items():
            if without.get(one) == "not-met":
                assert verdict == "not-met"
            if without.get(one) == "open":
                assert verdict != "met"
        missing = without.keys() - verdicts(report).keys()
        assert not missing
        following = Following(scene)
        assert following.followed.report.judgements == report.judgements
        to = apply_change(scene, MoveItem(move="S1", by=(0.3, 0.1, 0.0)))
        assert_nothing_is_met(following.suppose(to).report.judgements)
        following.move(to)
        assert_nothing_is_met(following.judge(1e9).report.judgements)


def test_what_is_met_without_it_is_open_with_its_figures(tmp_path: Path) -> None:
    points = surface((3.5, 3.0, 0.01), (3.9, 3.4, 1.4))
    report = check(room(tmp_path, SCAN, points))
    plain = check(room(tmp_path, "", None))
    assert plain.counts["met"] > len(WITHOUT_SPACE)
    for one in plain.judgements:
        (now,) = [two for two in report.judgements if key(two) == key(one)]
        if one.verdict == "met" and one.requirement not in WITHOUT_SPACE:
            assert now.verdict == "open"
            assert (
                now.missing == "What the scan S1 did not see is not known to be free."
            )
            assert now.reason == f"{now.missing} {one.reason}"
            assert now.required == one.required
            if one.requirement != "entrance":
                assert now.provided == one.provided
        elif one.requirement in WITHOUT_SPACE:
            assert now == one


def test_units_scale_turn_and_shift_are_those_of_a_mesh(tmp_path: Path) -> None:
    points = surface((0.0, 0.0, 0.0), (0.4, 0.2, 1.0))
    one = situate(room(tmp_path, SCAN, points)).arrangement.items["S1"]
    np.savetxt(tmp_path / "scan.xyz", points * 500, fmt="%.17g")
    keys = "scan.xyz, units: mm, scale: 2, turn: 90, shift: [1, 1, 0.5]"
    moved = room(tmp_path, SCAN.replace("scan.xyz", keys))
    other = situate(moved).arrangement.items["S1"]
    assert np.allclose(one.solid.bounds, [(0, 0, 0), (0.4, 0.2, 1.0)])
    assert np.allclose(other.solid.bounds, [(1, 0.6, 0.5), (1.2, 1, 1.5)])
    assert not other.solid.closed
    assert not other.solid.measurable


@pytest.mark.long
def test_the_schema_takes_a_scan_without_a_size_of_an_obstacle_alone() -> None:
    item = {"id": "S1", "kind": "obstacle", "points": "a.E57", "scanner": [0, 0]}
    scene = {
        "title": "A",
        "units": "m",
        "rules": "nec-2023",
        "room": {"size": [4, 3], "height": 3},
    }
    jsonschema.validate({**scene, "items": [{**item, "turn": 3}]}, json_schema())
    wrong = ({"kind": "storage"}, {"points": "a.glb"})
    for said in (*wrong, {"place": {"at": [0, 0]}}, {"mesh": "a.glb"}, {"part": "x"}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate({**scene, "items": [{**item, **said}]}, json_schema())


def test_commands_refuse_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "room.yaml"
    file.write_text(HEAD.format(more="") + SCAN)
    assert main(["check", str(file)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.endswith('S1: points: found "scan.xyz", right is a file that is there')
    (tmp_path / "scan.xyz").write_text("1 2 three\n4 5 6\n")
    assert main(["check", str(file)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    room(tmp_path, SCAN, surface(LOW, HIGH))
    for words in (["mend", str(file), "--slack"], ["place", str(file), "LP1"]):
        assert main(words) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert FREE in line


@pytest.mark.long
@pytest.mark.skipif(REAL is None, reason="the real scans are not here")
def test_in_a_real_scan_nothing_is_met(tmp_path: Path) -> None:
    """The ways out are not asked: in a scan of a whole hall they take minutes."""
    assert REAL is not None
    (tmp_path / "scan.pcd").write_bytes(REAL.read_bytes())
    keys = "scan.pcd, scanner: [0, 0], shift: [2, 2, 1.36]"
    situation = situate(room(tmp_path, SCAN.replace("scan.xyz", keys)))
    found = [
        judged
        for rule in (working_space, dedicated_space, door_swing, clear_floor, storage)
        for judged in answers(
            question(rule, situation.arrangement.items["LP1"]), situation
        )
    ]
    assert_nothing_is_met(found)
    assert any(one.verdict == "not-met" for one in found)
    ((_, told),) = clouds_told(situation.arrangement)
    assert "of 112586 points count" in told
