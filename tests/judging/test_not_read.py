"""What could not be read is not quietly taken for nothing where its place is known.

Source: common practice: a reviewer does not call a space clear in which something is
placed that nobody has seen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from model3d import Item, Room, Scene, check
from model3d.mending.map.places import free_places
from model3d.mending.placing.answer import answer
from model3d.scene.parts.site import NotRead
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

DOOR = {"id": "D1", "wall": "south", "along": 500, "width": 900, "height": 2100,
        "opens": "out", "hinge": "left"}  # fmt: skip


def board(name: str, **place: object) -> Item:
    supply = {"system": "208Y/120", "amps": 225}
    size = (500, 150, 1000)
    where = {**place, "bottom": 900}
    return Item(id=name, kind="panelboard", size=size, place=where, supply=supply)


def room(*unread: dict[str, Any]) -> Scene:
    """Return 6 by 3 m with a board at the north wall and one at the east wall."""
    walls = Room(size=(6000, 3000), height=2700, walls="block", doors=[DOOR])
    return Scene(
        title="Annex",
        units="mm",
        rules="nec-2023",
        not_read=tuple(NotRead(**one) for one in unread),
        room=walls,
        items=[
            board("LP1", wall="north", along=1200),
            board("LP2", wall="east", along=1200),
        ],
    )


def verdict(scene: Scene, name: str, requirement: str = "working-space") -> str:
    (one,) = check(scene).of(name, requirement)
    return one.verdict


@pytest.mark.long
@pytest.mark.parametrize(
    ("at", "open_at"),
    [
        ((1450, 2300, 0), {"LP1"}),
        # 999 mm beside the board's own corner at x = 1200, and 1001 mm.
        ((201, 2500, 0), {"LP1"}),
        ((199, 2500, 0), set()),
        ((5000, 1500, 0), {"LP2"}),
        # On the floor above a board's room: 1 m below it is over the ceiling.
        ((1450, 2300, 3800), set()),
        (None, set()),
    ],
)
def test_what_is_placed_near_leaves_a_space_open(
    at: tuple[float, float, float] | None, open_at: set[str]
) -> None:
    scene = room({"name": "Cupboard", "at": at})
    names = {"LP1", "LP2"}
    assert {name for name in names if verdict(scene, name) == "open"} == open_at
    assert {name for name in names if verdict(scene, name) == "met"} == names - open_at
    (drawn,) = check(scene).of("room", "as-drawn")
    assert drawn.verdict == "open"
    for name in open_at:
        (one,) = check(scene).of(name, "working-space")
        assert one.reason.startswith("Cupboard could not be read and may reach in")
        assert "strike it from not_read" in one.missing


def test_two_of_one_name_are_told_apart() -> None:
    two = {"name": "LP2", "at": (1450, 2300, 0)}
    (one,) = check(room(two, two)).of("LP1", "working-space")
    assert one.reason.startswith("LP2 (2) and LP2 (3) could not be read and may reach")
    assert "strike them from not_read" in one.missing


def test_what_is_in_the_way_for_certain_stays_so() -> None:
    scene = room({"name": "Cupboard", "at": (1450, 2300, 0)})
    heater = Item(
        id="WH1", kind="machine", size=(500, 500, 1500), place={"at": (1450, 2100)}
    )
    scene = scene.model_copy(update={"items": (*scene.items, heater)})
    (one,) = check(scene).of("LP1", "working-space")
    assert one.verdict == "not-met"
    assert [each.item for each in one.intrusions] == ["WH1"]


@pytest.mark.long
def test_no_place_is_free_where_it_may_stand() -> None:
    free = _along(answer(free_places(room(), "LP1")).document(), "north")
    assert free[0][0] == 0.0
    cupboard = {"name": "Cupboard", "at": (600, 2500, 0)}
    there = answer(free_places(room(cupboard), "LP1")).document()
    # It may reach to x = 1600, and so far no body may be: nor a space before it.
    assert _along(there, "north")[0][0] == pytest.approx(1600.0)
    assert "Cupboard" in {one["by"] for one in there["barred"]}


def _along(told: dict[str, Any], wall: str) -> list[list[float]]:
    found = {one["wall"]: one["along"] for one in told["walls"]}
    return [*found[wall]]


@pytest.mark.long
@pytest.mark.parametrize(
    "words", [["place", "LP1"], ["mend"], ["mend", "--all"], ["mend", "--slack"]]
)
@pytest.mark.parametrize("unread", [(), ({"name": "Somewhere", "count": 3},)])
def test_what_is_offered_says_what_it_does_not_look_at(
    words: list[str],
    unread: tuple[dict[str, Any], ...],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    file = tmp_path / "room.yaml"
    room(*unread).save(file)
    command, *more = words
    assert main([command, str(file), *more]) == 0
    said = "3 things of what the room was made from could not be read"
    assert (said in capsys.readouterr().out) == bool(unread)
    assert main([command, str(file), *more, "--format", "json"]) == 0
    assert (said in capsys.readouterr().out) == bool(unread)
