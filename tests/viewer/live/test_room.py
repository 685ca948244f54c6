"""A room that is worked on: moving, saving, and following its file.

What must be so is the product's own contract: nothing that was written elsewhere is
lost, and mistakes in a file leave the last good room. The room is invented.
"""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING

import pytest

from model3d import MeshError, check
from model3d.units import to_metres
from model3d.wording import INCH_POUND
from tests.viewer.written_rooms import TOLD, WRITTEN
from viewer.live.change import MoveError
from viewer.live.session import LiveRoom
from viewer.stage import build_stage

if TYPE_CHECKING:
    from pathlib import Path

UNITS = ("mm", "m", "in", "ft")


def test_a_place_that_is_shown_is_no_move(file: Path) -> None:
    room = LiveRoom(file)
    room.move("WW1", room.state()["places"]["WW1"], by=False)
    assert room.state()["version"] == 1


def test_what_stands_on_an_item_goes_with_it(file: Path) -> None:
    room = LiveRoom(file)
    before = room.state()["places"]
    room.move("LP1", (100, 0, 0), by=True)
    after = room.state()["places"]
    for item in ("LP1", "WW1"):
        assert after[item][0] == pytest.approx(before[item][0] + 100)


def test_a_move_to_nowhere_is_refused(file: Path) -> None:
    room = LiveRoom(file)
    with pytest.raises(MoveError, match="length"):
        room.move("BOX", (1e12, 0, 0), by=True)
    assert room.state()["version"] == 1


def test_walls_and_doors_of_the_room_do_not_move(file: Path) -> None:
    room = LiveRoom(file)
    for name in ("D1", "wall-north"):
        with pytest.raises(MoveError, match=f"no item {name}"):
            room.move(name, (10, 0, 0), by=True)
    assert room.state()["version"] == 1


@pytest.mark.parametrize("unit", UNITS)
def test_a_dragged_thing_snaps_to_10_mm_or_half_an_inch(file: Path, unit: str) -> None:
    head = f"title: A\nunits: {unit}\nrules: nec-2023\n"
    file.write_text(f"{head}room: {{size: [20, 20], height: 20}}\n", encoding="utf-8")
    step = to_metres(LiveRoom(file).state()["step"], unit)
    assert step == pytest.approx(0.0127 if unit in INCH_POUND else 0.01)


@pytest.mark.long
def test_moving_again_after_a_rest_goes_on_from_there(file: Path) -> None:
    room = LiveRoom(file)
    east, north, up = room.state()["places"]["BOX"]
    _rest(room, (0, -1500, 0))
    _rest(room, (-200, 0, 0))
    assert room.state()["places"]["BOX"] == (east - 200, north - 1500, up)
    anew = build_stage(room.scene, check(room.scene)).judgements
    assert [
        (one.subject, one.verdict, one.reason) for one in room.stage.judgements
    ] == [(one.subject, one.verdict, one.reason) for one in anew]


def test_a_check_that_fails_is_told(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = LiveRoom(file)

    def gone(_: object) -> None:
        msg = "pump.glb: is gone"
        raise MeshError(msg)

    monkeypatch.setattr("viewer.live.session.LiveCheck", gone)
    _rest(room, (0, -1500, 0))
    state = room.state()
    assert (state["mistake"], state["checking"]) == (True, False)
    assert "pump.glb: is gone" in state["message"]
    assert state["waiting"]


def _rest(room: LiveRoom, by: tuple[float, float, float]) -> None:
    """Move the box, and work until all is known that can be known."""
    room.move("BOX", by, by=True)
    threading.Thread(target=room.work, daemon=True).start()
    end = time.monotonic() + 120
    while room.state()["checking"] and time.monotonic() < end:
        version, notice = room.state()["version"], room.state()["notice"]
        room.wait(version, notice, 0.1)


def test_saving_never_overwrites_what_others_wrote(file: Path) -> None:
    room = LiveRoom(file)
    room.move("BOX", (10, 0, 0), by=True)
    others = WRITTEN.replace("Mill annex", "Mill annex 2")
    file.write_text(others, encoding="utf-8", newline="")
    with pytest.raises(MoveError, match="changed elsewhere"):
        room.save()
    assert file.read_text("utf-8") == others
    file.unlink()
    with pytest.raises(MoveError, match="No such file"):
        room.save()


@pytest.mark.long
def test_a_room_with_a_lesson_is_saved_again_and_again(file: Path) -> None:
    file.write_text(WRITTEN + TOLD, encoding="utf-8", newline="")
    room = LiveRoom(file)
    lesson = room.lesson()
    for by in (10, 20):
        room.move("BOX", (by, 0, 0), by=True)
        room.save()
        assert room.state()["unsaved"] is False
    text = file.read_text("utf-8")
    assert "[2730, 2200]" in text
    assert text.endswith(TOLD)
    assert len(room.lesson()["stage"]["steps"]) == len(lesson["stage"]["steps"]) == 2


def test_the_room_follows_its_file(file: Path) -> None:
    room = LiveRoom(file)
    room.move("BOX", (10, 0, 0), by=True)
    file.write_text(WRITTEN.replace("[2700, 2200]", "[900, 900]"), encoding="utf-8")
    room.follow()
    state = room.state()
    assert state["places"]["BOX"] == (900, 900, 0)
    assert "not saved is gone" in state["message"]
    assert (state["undo"], state["unsaved"], state["mistake"]) == (0, False, False)


def test_mistakes_are_told_and_the_last_good_room_is_kept(file: Path) -> None:
    room = LiveRoom(file)
    stage = room.stage
    for wrong in (WRITTEN.replace("machine", "machina"), "\x00", ""):
        file.write_text(wrong, encoding="utf-8")
        room.follow()
        state = room.state()
        assert state["mistake"]
        assert "right is" in state["message"]
        notice = state["notice"]
        room.follow()
        assert room.state()["notice"] == notice
    file.unlink()
    room.follow()
    assert "No such file" in room.state()["message"]
    assert room.stage is stage
    file.write_text(WRITTEN, encoding="utf-8", newline="")
    room.follow()
    assert (room.state()["message"], room.state()["mistake"]) == ("", False)
