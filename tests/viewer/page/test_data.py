"""What the page is told: short, and still all of it.

The outside source is ``viewer.stage.document`` of the same stage. The room is invented.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.viewer.written_rooms import LESSON, room_scene
from viewer.live.rechecked import LiveCheck
from viewer.live.session import LiveRoom
from viewer.page.data import lean, lean_difference
from viewer.stage import document
from viewer.stage.taught.lesson import lesson_stage

if TYPE_CHECKING:
    from pathlib import Path

    from viewer.stage import Stage

Plain = dict[str, Any]

LISTS = ("badges", "labels", "dimensions", "judgements")


def patched(before: Plain, change: Plain) -> Plain:
    """Return a document after a change, as the page makes it."""
    shapes = {shape["id"]: shape for shape in before["shapes"]}
    for name in change["drop"]:
        del shapes[name]
    shapes |= {shape["id"]: shape for shape in change["put"]}
    other = {key: change[key] for key in change if key not in {"drop", "put"}}
    for name in LISTS:
        if name in other:
            other[name] = [
                before[name][one] if isinstance(one, int) else one
                for one in other[name]
            ]
    return {**before, **other, "shapes": list(shapes.values())}


def told(stage: Stage) -> Plain:
    return _by_id(lean(document(stage)))


def _by_id(plain: Plain) -> Plain:
    return {**plain, "shapes": {shape["id"]: shape for shape in plain["shapes"]}}


def test_a_change_gives_the_stage_it_leads_to(file: Path) -> None:
    room = LiveRoom(file)
    before = room.stage
    for by in ((0, -600, 0), (0, -900, 0), (0, 1500, 300)):
        room.move("BOX", by, by=True)
        change = lean_difference(before, room.stage)
        after = patched(lean(document(before)), change)
        assert _by_id(after) == told(room.stage)
        assert len(change["put"]) < len(before.shapes)
        before = room.stage


def test_what_stays_is_not_told_again() -> None:
    check = LiveCheck(room_scene())
    stage = check.seen().stage
    assert lean_difference(stage, stage) == {"drop": [], "put": []}


@pytest.mark.long
def test_the_steps_of_a_lesson_lead_on_from_one_another() -> None:
    stage = lesson_stage(room_scene(lesson=LESSON))
    plain = lean(document(stage))
    now = plain
    for step, written in zip(stage.steps, plain["steps"], strict=True):
        now = patched(now, written["change"])
        after = told(step.stage)
        for name in (*LISTS, "low", "high", "title"):
            assert now[name] == after[name]
        assert _by_id(now)["shapes"] == after["shapes"]
    numbers = [
        one for step in plain["steps"] for one in step["change"].get("labels", ())
    ]
    assert any(isinstance(one, int) for one in numbers)
