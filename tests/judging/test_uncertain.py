"""What may take up less than it is drawn with: open where that decides, never met.

The outside source is the same room with the thing as it is drawn, and without it; that
what is not known is asked for, and not guessed, is common practice of reviewers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pytest

from model3d import SceneError, check, read_text
from model3d.following.claims import Following
from model3d.mending.remedies import bench_of, mends
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.changes import apply_change
from tests.scene.clouds.scans import HEAD, crate, room
from viewer.cli.main import main
from viewer.page.whatif import whatif
from viewer.stage import build_stage

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Judgement, Report, Scene

SURE: Final = "    uncertain: true\n"
PIPE: Final = """\
  - {id: W1, kind: pipe, from: [0.6, 0, 1], to: [0.6, 4, 1], diameter: 0.5X}
"""
FAR: Final = crate((4.5, 0.0, 2.3), (5.0, 0.5, 2.8))
DRUM: Final = """\
  - {id: M1, kind: machine, size: [0.4, 0.4, 1.2], place: {at: [0.8, 2.1]}}
"""


def pipe(folder: Path, key: str = "") -> Scene:
    return room(folder, PIPE.replace("X", key))


def verdicts(report: Report) -> dict[tuple[object, ...], str]:
    return {one.key: one.verdict for one in report.judgements}


@pytest.mark.long
def test_what_differs_with_it_is_open_and_says_why(tmp_path: Path) -> None:
    bare = verdicts(check(room(tmp_path, "")))
    solid = verdicts(check(pipe(tmp_path)))
    report = check(pipe(tmp_path, ", uncertain: true"))
    found = verdicts(report)
    broken = {key for key, verdict in solid.items() if verdict == "not-met"}
    assert {key[0] for key in broken} == {"working-space", "door-swing"}
    assert found.keys() == bare.keys()
    for key, verdict in found.items():
        if bare[key] == solid[key]:
            assert verdict == bare[key]
        else:
            assert verdict == "open"
    changed = {one.key for one in report.judgements if one.verdict != bare[one.key]}
    assert {key[0] for key in changed} == {"working-space", "door-swing", "entrance"}
    for requirement in ("working-space", "door-swing", "entrance"):
        (one,) = report.of("LP1", requirement)
        assert "Say how large W1 is" in one.reason
        assert "Say how large W1 is" in one.missing
    assert main(["check", str(_saved(tmp_path, ", uncertain: true"))]) == 0


def _saved(folder: Path, key: str) -> Path:
    path = folder / "room.yaml"
    path.write_text(HEAD.format(more="") + PIPE.replace("X", key), "utf-8")
    return path


def test_what_is_open_besides_names_it_where_it_changes_what_is_told(
    tmp_path: Path,
) -> None:
    told: list[Judgement] = []
    for items in ("", PIPE.replace("X", ", uncertain: true")):
        text = HEAD.format(more="").replace("opens: out", "opens: out, overall: true")
        report = check(read_text(text + items, tmp_path / "room.yaml"))
        told += report.of("LP1", "entrance")
    assert [one.verdict for one in told] == ["open", "open"]
    assert ["Say how large W1 is" in one.reason for one in told] == [False, True]
    # What is asked of the door is asked still.
    assert "750 mm" in told[1].reason


def test_outside_of_all_that_is_required_it_changes_nothing(tmp_path: Path) -> None:
    bare = check(room(tmp_path, ""))
    for key in (SURE, SURE.replace("true", "false")):
        unsure = f"{FAR.rstrip()[:-1]}, {key.strip()}}}\n"
        report = check(room(tmp_path, unsure))
        assert report.judgements == bare.judgements


def test_what_is_broken_by_something_else_stays_broken(tmp_path: Path) -> None:
    both = DRUM + PIPE.replace("X", ", uncertain: true")
    report, alone = check(room(tmp_path, both)), check(room(tmp_path, DRUM))
    (one,) = report.of("LP1", "working-space")
    assert one.verdict == "not-met"
    assert [hit.item for hit in one.intrusions] == ["M1"]
    assert one == alone.of("LP1", "working-space")[0]


def test_what_would_close_the_view_may_not_be_there(tmp_path: Path) -> None:
    """Live gear opposite counts, where only an uncertain wall would hide it."""
    opposite = """\
  - id: LP2
    kind: panelboard
    size: [0.5, 0.15, 0.9]
    place: {at: [1.375, 1.75], facing: west, bottom: 0.9}
    supply: {system: 480Y/277, amps: 200}
    door: left
"""
    wall = """\
  - {id: X1, kind: wall, size: [4, 0.05, 2.8], place: {at: [1.225, 2], facing: westX}}
"""
    gear = HEAD.format(more="").replace("208Y/120", "480Y/277") + opposite
    told = {}
    for key in ("", ", uncertain: true"):
        line = wall.replace("westX}}", f"west}}{key}}}")
        scene = read_text(gear + line, tmp_path / "room.yaml")
        (told[key],) = check(scene).of("LP1", "working-space")
    assert (told[""].verdict, told[""].condition) == ("met", 2)
    assert told[", uncertain: true"].verdict != "met"


def test_it_is_no_contradiction_of_the_drawing(tmp_path: Path) -> None:
    inside = crate((0.05, 1.6, 1.0), (0.5, 1.9, 1.4))
    assert check(room(tmp_path, inside)).of("LP1", "as-drawn")
    unsure = f"{inside.rstrip()[:-1]}, uncertain: true}}\n"
    assert not check(room(tmp_path, unsure)).of("LP1", "as-drawn")


@pytest.mark.long
def test_a_scene_that_is_followed_says_the_same(tmp_path: Path) -> None:
    scene = room(tmp_path, DRUM + PIPE.replace("X", ", uncertain: true"))
    following = Following(scene)
    assert verdicts(following.followed.report) == verdicts(check(scene))
    for by in ((3.0, 0.0, 0.0), (-2.5, 1.0, 0.0), (0.0, -1.0, 0.0)):
        scene = apply_change(scene, MoveItem(move="M1", by=by))
        following.move(scene)
        while following.hurried:
            following.judge(10)
        found, whole = following.followed, check(scene)
        assert len(found.report.judgements) == len(whole.judgements)
        for number, one in enumerate(whole.judgements):
            if number not in found.waiting:
                assert found.report.judgements[number] == one


@pytest.mark.long
def test_a_remedy_is_proved_with_it_and_without_it(tmp_path: Path) -> None:
    scene = room(tmp_path, DRUM + FAR.rstrip()[:-1] + ", uncertain: true}\n")
    offered = [one for mend in mends(bench_of(scene)) for one in mend.remedies]
    assert offered
    assert all(one.changes != {"S1"} for one in offered)


def test_one_sees_through_it_and_the_page_knows(tmp_path: Path) -> None:
    scene = pipe(tmp_path, ", uncertain: true")
    report = check(scene)
    (drawn,) = [one for one in build_stage(scene, report).shapes if one.id == "W1"]
    assert drawn.opacity < 1
    assert "how large is not known" in drawn.about
    told = whatif(scene, report)
    assert told is not None
    flags = dict(zip(told["record"]["ids"], told["record"]["flags"], strict=True))
    assert flags["W1"] & 1024
    assert not flags["LP1"] & 1024


@pytest.mark.parametrize(
    ("items", "told"),
    [
        (
            crate((1, 1, 0), (2, 2, 1)).replace("kind: obstacle", "kind: panelboard")
            .rstrip()[:-1] + ", uncertain: true}\n",
            "found uncertain with kind panelboard",
        ),
        (
            crate((1, 1, 0), (2, 2, 1)).rstrip()[:-1] + ", uncertain: true}\n"
            "  - {id: B, kind: machine, size: [1, 1, 1], place: {stands_on: S1}}\n",
            'found "S1", which is uncertain',
        ),
    ],
)  # fmt: skip
def test_what_must_be_known_may_not_be_uncertain(
    items: str, told: str, tmp_path: Path
) -> None:
    with pytest.raises(SceneError) as caught:
        room(tmp_path, items)
    assert told in str(caught.value)
