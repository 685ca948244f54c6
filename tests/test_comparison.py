"""What differs between two versions of a room, and under two rule books."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from model3d import check, read_scene
from model3d.comparison import compare, comparison_document
from tests.paths import SCENES
from tests.viewer.written_rooms import ROOM, room_scene

if TYPE_CHECKING:
    from model3d import Scene


def _without(item: str) -> Scene:
    left = [one for one in ROOM["items"] if one["id"] != item]
    return room_scene(items=left)


def test_the_same_scene_differs_in_nothing() -> None:
    assert compare(check(room_scene()), check(room_scene())) == ()


def test_what_was_taken_away_is_named() -> None:
    changes = compare(check(room_scene()), check(_without("BOX")))
    (change,) = [
        one
        for one in changes
        if (one.subject, one.requirement) == ("CP1", "working-space")
    ]
    assert (change.old, change.new) == ("not-met", "met")
    assert "BOX was taken away." in change.why


@pytest.mark.long
def test_what_is_new_or_gone_has_no_verdict() -> None:
    changes = compare(check(room_scene()), check(_without("CP1")))
    gone = [one for one in changes if one.subject == "CP1"]
    assert gone
    assert {one.new for one in gone} == {None}
    back = compare(check(_without("CP1")), check(room_scene()))
    assert {one.old for one in back if one.subject == "CP1"} == {None}


@pytest.mark.long
def test_only_figures_that_changed_are_left_out() -> None:
    items = [dict(one) for one in ROOM["items"]]
    for one in items:
        if one["id"] == "WW1":
            one["size"] = [1000, 390, 150]
    old, new = check(room_scene()), check(room_scene(items=items))
    pairs = [(one.subject, one.requirement) for one in compare(old, new)]
    assert ("LP1", "working-space") not in pairs
    assert old.of("LP1", "working-space") != new.of("LP1", "working-space")


@pytest.mark.long
@pytest.mark.parametrize("name", ["one-way-out", "battery-room", "osha-workshop"])
def test_two_rule_books_against_the_reports_themselves(name: str) -> None:
    scene = read_scene(SCENES / f"{name}.yaml")
    books = ("nec-2014", "nec-2023")
    old, new = (check(scene.model_copy(update={"rules": book})) for book in books)
    changes = compare(old, new)
    told = comparison_document(books, changes)
    assert (told["old"], told["new"]) == books
    for row in told["changed"]:
        for report, verdict in ((old, row["old"]), (new, row["new"])):
            found = {
                one.verdict
                for one in report.of(row["subject"], row["requirement"])
                if (one.leaf, one.tier, one.side)
                == (row.get("leaf"), row.get("tier"), row.get("side"))
            }
            assert found == ({verdict} if verdict else set())
        assert row["why"].startswith("Rule book nec-2014, then nec-2023.")
    assert len(changes) == len({str(row) for row in told["changed"]})


@pytest.mark.long
def test_one_and_the_other_way_round_are_the_same_rows() -> None:
    scene = read_scene(SCENES / "one-way-out.yaml")
    old, new = (
        check(scene.model_copy(update={"rules": book}))
        for book in ("nec-2014", "nec-2023")
    )
    ahead, back = compare(old, new), compare(new, old)
    assert ahead
    assert [(one.subject, one.requirement, one.old, one.new) for one in ahead] == [
        (one.subject, one.requirement, one.new, one.old) for one in back
    ]
