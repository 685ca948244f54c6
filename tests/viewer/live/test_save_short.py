"""Writing back what a scene says shortly: types and repeats stay, by the scene format.

The expected text is written by hand after "Less typing" of the format. The room is
invented.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, read_text
from model3d.scene.parts.lesson import MoveItem, SetItem
from model3d.standing.changes import apply_change
from viewer.live.change import MoveError
from viewer.live.saving.save import edited
from viewer.live.session import LiveRoom

if TYPE_CHECKING:
    from model3d.scene.parts.lesson import Change

FILE = Path("room.yaml")
ROOM = """\
title: Short
units: mm
rules: nec-2023
types:
  lighting: {kind: panelboard, size: [500, 150, 900], door: left}   # of the house
  section: {kind: switchboard, size: [800, 900, 2000]}
room:
  size: [9000, 5000]
  height: 3000
  doors: [{id: D1, wall: south, along: 400, width: 900, height: 2100, opens: out}]
items:
  - id: LP1   # the first
    type: lighting
    place: {wall: north, along: 400, bottom: 900}
  # a row of them
  - id: P1
    kind: furniture
    size: [600, 400, 700]
    repeat: {count: 6, step: 700}   # six
    place: {wall: south, along: 2000}   # from the door on

  - {id: "S{n}", type: section, place: {at: [2000, 2500]},
     repeat: {count: 4, touching: true}}   # sections
  - {id: B, kind: pad, size: [100, 100, 100], place: {at: [300, 2500]}}
"""


def changed(text: str, *changes: Change, file: Path = FILE) -> str:
    old = new = read_text(text, file)
    for change in changes:
        new = apply_change(new, change)
    found = edited(text, old, new, file)
    assert read_text(found, file).items == new.items
    return found


def move(name: str, *by: float) -> MoveItem:
    east, north, up = by
    return MoveItem(move=name, by=(east, north, up))


def test_a_moved_item_keeps_its_type() -> None:
    found = changed(ROOM, move("LP1", 100, 0, 0))
    assert found == ROOM.replace("along: 400, bottom", "along: 500, bottom")


def test_what_changes_of_a_type_is_written_at_the_item() -> None:
    change = SetItem(set="LP1", fields={"size": [500, 150, 1000]})
    found = changed(ROOM, change)
    here = "  - id: LP1   # the first\n"
    assert found == ROOM.replace(here, f"{here}    size: [500, 150, 1000]\n")


def test_what_a_type_says_and_an_item_shall_not_is_written_as_nothing() -> None:
    found = changed(ROOM, SetItem(set="LP1", fields={"door": None}))
    here = "  - id: LP1   # the first\n"
    assert found == ROOM.replace(here, f"{here}    door: null\n")


@pytest.mark.parametrize(
    ("moved", "runs"),
    [
        ("P1", ["P1:0 1 along 2100", "P2:2 5 along 2700"]),
        ("P3", ["P1:0 2 along 2000", "P3:2 1 along 3500", "P4:2 3 along 4100"]),
        ("P6", ["P1:0 5 along 2000", "P6:2 1 along 5600"]),
    ],
)
def test_a_repeat_is_split_around_a_changed_copy(moved: str, runs: list[str]) -> None:
    written = []
    for run in runs:
        name, rest = run.split(":")
        _, count, _, along = rest.split()
        repeat = f"    repeat: {{count: {count}, step: 700}}   # six\n"
        written.append(
            f"  - id: {name}\n    kind: furniture\n    size: [600, 400, 700]\n"
            + (repeat if count != "1" else "")
            + f"    place: {{wall: south, along: {along}}}   # from the door on\n"
        )
    start, end = ROOM.index("  - id: P1"), ROOM.index('\n  - {id: "S{n}"')
    wanted = ROOM[:start] + "".join(written) + ROOM[end:]
    assert changed(ROOM, move(moved, -100, 0, 0)) == wanted


def test_touching_sections_stay_one_piece_of_gear() -> None:
    found = changed(ROOM, move("S2", 0, -100, 0))
    start, end = ROOM.index('  - {id: "S{n}"'), ROOM.index("  - {id: B,")
    row = "type: section, place: {at:"
    wanted = (
        f'  - {{id: "S1", {row} [2000, 2500]}}, line_up: "S1"}}\n'
        f'  - {{id: "S2", {row} [2800, 2400]}}, line_up: "S1"}}\n'
        f'  - {{id: "S3", {row} [3600, 2500]}},\n'
        '     repeat: {count: 2, touching: true}, line_up: "S1"}   # sections\n'
    )
    assert found == ROOM[:start] + wanted + ROOM[end:]


def test_json_is_split_too() -> None:
    item = {"id": "P1", "kind": "pad", "size": [1, 1, 1], "place": {"at": [100, 100]}}
    data = {
        "title": "J",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [9000, 5000], "height": 3000},
        "items": [{**item, "repeat": {"step": 10, "count": 3}}, {**item, "id": "B"}],
    }
    for indent in (None, 1):
        found = json.loads(
            changed(json.dumps(data, indent=indent), move("P2", 5, 0, 0))
        )
        assert [one["id"] for one in found["items"]] == ["P1", "P2", "P3", "B"]
        assert not any("repeat" in one for one in found["items"])


def test_lines_that_end_otherwise_stay_so() -> None:
    text = ROOM.replace("\n", "\r\n")
    plain = changed(ROOM, move("P3", -100, 0, 0), move("LP1", 5, 0, 0))
    found = changed(text, move("P3", -100, 0, 0), move("LP1", 5, 0, 0))
    assert found == plain.replace("\n", "\r\n")


@pytest.mark.long
@settings(deadline=None, max_examples=25)
@given(
    st.sampled_from(["700", "0.1 m", "7 1/3", "[333.3, 0, 0]", "2 ft 1/8 in"]),
    st.dictionaries(
        st.integers(0, 5), st.tuples(*[st.integers(-50, 50)] * 2), min_size=1
    ),
)
def test_whatever_is_moved_is_read_back(
    step: str, moves: dict[int, tuple[int, int]]
) -> None:
    text = ROOM.replace("step: 700", f"step: {step if '[' in step else repr(step)}")
    found = changed(text, *(move(f"P{n + 1}", x, y, 0) for n, (x, y) in moves.items()))
    assert isinstance(read_text(found, "room.yaml"), Scene)


def test_a_room_follows_its_files_of_gear(tmp_path: Path) -> None:
    gear, file = tmp_path / "gear.yaml", tmp_path / "room.yaml"
    said = "units: mm\ntypes: {box: {kind: machine, size: [400, 400, 700]}}\n"
    gear.write_text(said, encoding="utf-8")
    head, _, _ = ROOM.partition("types:")
    room = "room: {size: [9000, 5000], height: 3000}\n"
    box = "items: [{id: B, type: box, place: {at: [900, 900]}}]\n"
    file.write_text(f"{head}types_from: gear.yaml\n{room}{box}", encoding="utf-8")
    live = LiveRoom(file)
    live.move("B", (100, 0, 0), by=True)
    gear.write_text(said.replace("400, 700", "600, 700"), encoding="utf-8")
    with pytest.raises(MoveError, match="changed elsewhere"):
        live.save()
    live.follow()
    assert live.scene.items[0].size == (400, 600, 700)
    assert "read again" in live.state()["message"]
    live.move("B", (100, 0, 0), by=True)
    live.save()
    assert "[1000, 900]" in file.read_text(encoding="utf-8")
    gear.unlink()
    live.follow()
    assert "a file that is there" in live.state()["message"]
    assert live.scene.items[0].size == (400, 600, 700)


@pytest.mark.parametrize(
    "supply",
    [
        "{to_ground: 480, amps: 400}  # measured",
        "{amps: 400, to_ground: 480}",
        "{to_ground: 480}",
        "\n      amps: 400\n      to_ground: 480",
        "\n      to_ground: 480  # measured\n      amps: 400",
    ],
)
@pytest.mark.parametrize("door", ["door: left", "name: X"])
def test_what_an_item_no_longer_says_is_taken_out(supply: str, door: str) -> None:
    text = f"""\
title: Short
units: mm
rules: nec-2023
room: {{size: [9000, 5000], height: 3000}}
items:
  - {door}  # of the maker
    id: B
    kind: panelboard
    size: [500, 150, 900]
    supply: {supply}
    place: {{wall: north, along: 400, bottom: 900}}  # from the corner
"""
    old = read_text(text, FILE)
    new = old.with_item("B", door=None, supply={"system": "480Y/277", "amps": 225})
    found = edited(text, old, new, FILE)
    assert read_text(found, FILE).items == new.items
    assert "to_ground" not in found
    assert "# from the corner" in found
