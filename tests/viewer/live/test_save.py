"""Writing moved items back: only the changed values are touched.

The expected text is written by hand; YAML 1.2 and JSON (RFC 8259) say what is the same
value. The room is invented.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from model3d import Scene, read_text
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.changes import apply_change
from tests.viewer.written_rooms import WRITTEN
from viewer.live.saving.save import SaveError, edited

FILE = Path("room.yaml")


def moved(text: str, item: str, *by: float) -> str:
    old = read_text(text, FILE)
    east, north, up = by
    new = apply_change(old, MoveItem(move=item, by=(east, north, up)))
    return edited(text, old, new, FILE)


@pytest.mark.parametrize(
    ("item", "by", "before", "after"),
    [
        ("LP1", (-200, 0, 0), "along: 600", "along: 400"),
        ("LP1", (0, 0, 0.25), "bottom: 900}   #", "bottom: 900.25}   #"),
        ("LP1", (0, -30, 0), "bottom: 900}", "bottom: 900, gap: 30}"),
        (
            "WW1",
            (10, 0, 20),
            "      over: LP1",
            "      shift: [10, 0, 20]\n      over: LP1",
        ),
        ("CP1", (0, 0, 100), "bottom: 1 ft", "bottom: 404.8"),
        ("BOX", (5, 0, 0), "[2700, 2200]", "[2705, 2200]"),
        ("BOX", (0, 0, 5), "facing: south}", "facing: south, bottom: 5}"),
    ],
)
def test_a_place_changes_and_nothing_else(
    item: str, by: tuple[float, ...], before: str, after: str
) -> None:
    assert WRITTEN.count(before) == 1
    assert moved(WRITTEN, item, *by) == WRITTEN.replace(before, after)


def test_a_run_changes_at_both_ends() -> None:
    wanted = WRITTEN.replace("[ 0 ,2900, 2500 ]", "[ 0 ,2800, 2500 ]")
    wanted = wanted.replace("- 2900   # to", "- 2800   # to")
    assert moved(WRITTEN, "P1", 0, -100, 0) == wanted


def test_line_ends_and_marks_of_a_file_stay() -> None:
    text = "\ufeff" + WRITTEN.replace("\n", "\r\n")
    found = moved(text, "WW1", 10, 0, 0)
    plain = moved(WRITTEN, "WW1", 10, 0, 0)
    assert found == "\ufeff" + plain.replace("\n", "\r\n")


def test_characters_beyond_the_first_plane_do_not_shift_places() -> None:
    text = WRITTEN.replace("as surveyed", "as surveyed \U0001f4d0 \u00e9\u6e2f")
    assert moved(text, "BOX", 5, 0, 0) == text.replace("[2700, 2200]", "[2705, 2200]")


def test_json_stays_json() -> None:
    scene = json.dumps(read_text(WRITTEN, FILE).written(), indent=1)
    for item in ("LP1", "WW1", "BOX", "P1"):
        found = json.loads(moved(scene, item, 10, -20, 30))
        assert Scene.model_validate(found).title == "Mill annex"
        others = [one for one in found["items"] if one["id"] != item]
        before = json.loads(scene)["items"]
        assert others == [one for one in before if one["id"] != item]


def test_a_place_that_is_shared_is_refused() -> None:
    text = WRITTEN.replace(
        "place: {at: [2700, 2200]", "place: {at: &spot [2700, 2200]"
    ) + (
        "  - {id: B2, kind: machine, size: [100, 100, 100], "
        "place: {at: *spot, facing: south}}\n"
    )
    with pytest.raises(SaveError, match="something else"):
        moved(text, "B2", 10, 0, 0)
    # The other items can be saved all the same.
    assert moved(text, "LP1", -200, 0, 0) == text.replace("along: 600", "along: 400")


def test_a_changed_text_that_is_no_scene_is_refused() -> None:
    old = read_text(WRITTEN, FILE)
    new = apply_change(old, MoveItem(move="BOX", by=(5, 0, 0)))
    with pytest.raises(SaveError, match="is not written in the file"):
        edited(WRITTEN.replace("items:", "things:"), old, new, FILE)
