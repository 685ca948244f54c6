"""What has no place yet is listed, not judged, and in nobody's way.

That is the product's own contract ("Less typing" of the scene format).
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from model3d import Item, LessonError, Report, Room, Scene, check, read_text, run_lesson
from model3d.following import Following
from model3d.mending.slack import slacks
from viewer.cli.main import main
from viewer.live.change import MoveError
from viewer.live.session import LiveRoom
from viewer.stage import build_stage

if TYPE_CHECKING:
    from pathlib import Path

PANEL = Item(
    id="LP1",
    kind="panelboard",
    size=(500, 150, 900),
    place={"wall": "north", "along": 500, "bottom": 900},
    supply={"system": "208Y/120"},
    door="left",
)
WAITING = Item(id="T1", kind="transformer", size=(3000, 3000, 2000))
SCENE = Scene(
    title="Annex",
    units="mm",
    rules="nec-2023",
    room=Room(size=(4000, 3000), height=2700),
    items=(PANEL, WAITING),
)


def told(report: Report) -> list[object]:
    return [one for one in report.document()["judgements"] if one["subject"] != "room"]


def test_it_is_listed_and_changes_nothing_else() -> None:
    without = SCENE.model_copy(update={"items": (PANEL,)})
    report = check(SCENE)
    assert report.no_place == ("T1",)
    assert report.document()["no_place"] == ["T1"]
    assert told(report) == told(check(without))
    assert "no_place" not in check(without).document()
    assert "T1 has no place yet" in report._repr_html_()
    assert SCENE._repr_html_().count("no place yet") == 1


def test_with_a_place_it_is_judged() -> None:
    placed = SCENE.with_item("T1", size=(600, 500, 800), place={"at": (2000, 1500)})
    report = check(placed)
    assert not report.no_place
    assert report.of("T1")


def test_every_face_tells_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "room.yaml"
    SCENE.save(file)
    assert main(["check", str(file)]) == 0
    printed = capsys.readouterr().out
    assert "NO PLACE YET (1)\n- T1: has no place yet" in printed
    SCENE.model_copy(update={"items": (WAITING,)}).save(tmp_path / "list.yaml")
    assert main(["check", str(tmp_path / "list.yaml")]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "nothing was judged, some items have no place yet" in printed
    assert main(["check", str(file), "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["no_place"] == ["T1"]
    assert main(["report", str(file), "-o", str(tmp_path / "a.html")]) == 0
    assert "T1: has no place yet" in (tmp_path / "a.html").read_text("utf-8")
    assert "T1: has no place yet" in build_stage(SCENE, check(SCENE)).caution


def test_what_follows_and_what_mends_pass_over_it() -> None:
    following = Following(SCENE)
    following.move(SCENE.with_item("LP1", place={"wall": "north", "along": 700}))
    assert following.judge(10).report.no_place == ("T1",)
    assert all(one.thing != "T1" for one in slacks(SCENE))


def test_a_place_can_be_found_for_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "room.yaml"
    SCENE.with_item("T1", size=(600, 500, 800)).save(file)
    assert main(["place", str(file), "T1", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["walls"]
    assert main(["figure", str(file), "T1", "-o", str(tmp_path / "a.svg")]) == 2
    assert "T1 has no place yet" in capsys.readouterr().err


def test_the_workbench_does_not_move_it(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    SCENE.save(file)
    room = LiveRoom(file)
    with pytest.raises(MoveError, match="T1 has no place yet"):
        room.move("T1", (1, 0, 0), by=True)
    room.move("LP1", (100, 0, 0), by=True)
    room.save()
    assert "along: 600" in file.read_text("utf-8")


LESSON = """
lesson:
  title: A place
  steps:
    - {say: It is put there., do: [{set: T1, place: {at: [2000, 1000]}}]}
    - {say: It moves., do: [{move: T1, by: [10, 0, 0]}]}
"""


def test_a_lesson_may_give_it_a_place(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    SCENE.with_item("T1", size=(600, 500, 800)).save(file)
    text = file.read_text("utf-8") + LESSON
    first, second = run_lesson(read_text(text, file))
    assert not first.report.no_place
    assert second.report.of("T1")
    wrong = text.replace(
        "set: T1, place: {at: [2000, 1000]}", "move: T1, by: [1, 0, 0]"
    )
    with pytest.raises(LessonError, match="T1, which has no place yet"):
        run_lesson(read_text(wrong, file))
