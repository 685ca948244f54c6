"""A stage that is built from what was made before is the same as one made anew.

The outside source is ``build_stage`` without anything kept.
"""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from model3d.following.claims import Following
from model3d.standing.moves import moved
from tests.viewer import panel_room
from tests.viewer.window.window_rooms import scene
from viewer.stage import build_stage
from viewer.stage.kept import Kept

if TYPE_CHECKING:
    from viewer.stage import Stage


def _same(one: Any, other: Any) -> bool:  # noqa: ANN401 - whatever a record holds
    if isinstance(one, np.ndarray):
        return bool(np.array_equal(one, other))
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(_same, one, other))
    if hasattr(one, "__dataclass_fields__"):
        # A view of a row may be one that was found while something stood elsewhere.
        names = (key.name for key in fields(one) if key.name != "look")
        return all(_same(getattr(one, n), getattr(other, n)) for n in names)
    return bool(one == other)


def _stages(by: tuple[float, float, float], kept: Kept) -> tuple[Stage, Stage]:
    room = scene()
    following = Following(room)
    build_stage(room, following.followed.report, kept=kept)
    items = tuple(moved(room, i, by) if i.id == "S1" else i for i in room.items)
    room = room.model_copy(update={"items": items})
    following.move(room)
    report = following.judge(1e9).report
    return build_stage(room, report, kept=kept), build_stage(room, report)


@pytest.mark.long
def test_a_stage_in_which_something_moved_is_as_one_made_anew() -> None:
    for by in ((-1850.0, -1050.0, 0.0), (0.0, 0.0, 1400.0), (10.0, 0.0, 0.0)):
        kept, anew = _stages(by, Kept())
        assert [one.id for one in kept.shapes] == [one.id for one in anew.shapes]
        assert _same(kept, anew)


def test_what_did_not_move_is_the_very_same() -> None:
    kept = Kept()
    room = scene()
    following = Following(room)
    before = build_stage(room, following.followed.report, kept=kept)
    items = tuple(moved(room, i, (5, 0, 0)) if i.id == "S1" else i for i in room.items)
    room = room.model_copy(update={"items": items})
    following.move(room)
    after = build_stage(room, following.judge(1e9).report, kept=kept)
    for name in ("LP1", "LP1/leaf-0", "wall-west", "floor", "WW1", "P1"):
        assert after.shape(name) is before.shape(name)
    assert after.shape("S1") is not before.shape("S1")


def test_what_is_asked_for_no_more_is_dropped() -> None:
    kept = Kept()
    made: list[int] = []

    def make() -> int:
        made.append(1)
        return len(made)

    assert kept.again("a", (1, "x", (2.0,)), make) == 1
    assert kept.again("a", (1, "x", (2.0,)), make) == 1
    assert kept.again("a", (1, "x", (2.5,)), make) == 2
    kept.forget()
    assert kept.again("a", (1, "x", (2.5,)), make) == 2
    kept.forget()
    kept.forget()
    assert kept.again("a", (1, "x", (2.5,)), make) == 3


def test_of_many_things_one_is_made_anew_whose_part_is_no_more_the_very_same() -> None:
    kept = Kept()
    made: list[tuple[int, object]] = []

    def make(number: int, last: object) -> list[int]:
        made.append((number, last))
        return [number]

    one, other = [1], [1]
    # Numbers of thousands are equal, never the very same.
    x, y = ("x", one, int("5000")), ("y", other, 1)
    first = _kept(kept, [x, y], make)
    kept.forget()
    again = _kept(kept, [("x", one, int("5000")), y], make)
    assert [one is other for one, other in zip(first, again, strict=True)] == [True] * 2
    kept.forget()
    made.clear()
    # In another order, one of another part, and one that was not there.
    _kept(kept, [("z", one, 5000), y, ("x", other, 5000)], make)
    assert made == [(0, None), (2, first[0])]
    kept.forget()
    made.clear()
    _kept(kept, [("z", one, 5000), ("y", other, 2), ("x", other, 5000)], make)
    assert [number for number, _ in made] == [1]


def _kept(kept: Kept, some: list[tuple[str, object, int]], make: Any) -> list[Any]:  # noqa: ANN401 - makes anything
    names, same, alike = zip(*some, strict=True)
    return kept.each("a", names, (same,), (alike,), make)


def test_what_stands_in_a_space_still_is_not_cut_out_again() -> None:
    box = {"kind": "storage", "size": [200, 200, 1400]}
    items = [
        panel_room.ITEMS[0],
        {**box, "id": "A", "place": {"at": [500, 1600]}},
        {**box, "id": "B", "place": {"at": [500, 1900]}},
    ]
    room = panel_room.scene(items=items)
    kept, following = Kept(), Following(room)
    before = build_stage(room, following.followed.report, kept=kept)
    after_move = tuple(
        moved(room, i, (5, 0, 0)) if i.id == "B" else i for i in room.items
    )
    room = room.model_copy(update={"items": after_move})
    following.move(room)
    report = following.judge(1e9).report
    after = build_stage(room, report, kept=kept)
    assert _same(after, build_stage(room, report))
    then, now = (
        {i.item: i for i in s.shapes if i.role == "intrusion"} for s in (before, after)
    )
    assert set(then) == set(now) == {"A", "B"}
    assert now["A"].vertices is then["A"].vertices
    assert not np.array_equal(now["B"].vertices, then["B"].vertices)
