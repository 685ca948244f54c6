"""Gear let into a wall, or right through it, has its front in the room asked for.

Source: common practice: whoever asks for a room means the gear that is worked at there;
where nothing tells which of two sides that is, the import asks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import ifcopenshell.guid
import pytest

from model3d import check, read_scene
from tests.exchange.ifc.test_import import BOARD, brought

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Item
    from tests.exchange.ifc.written_models import Model

    Printed = pytest.CaptureFixture[str]

pytestmark = pytest.mark.long

WALL = 23.0
"""The north wall's face in the room; it is 0.2 thick."""


@pytest.fixture
def model(empty_room: Model) -> Model:
    """Return a room without gear."""
    return empty_room


def let_in(model: Model, front: float, back: float) -> None:
    """Put a board into an opening of the north wall that is as wide as it is."""
    wide, high = 0.5, 0.9
    size = (wide, back - front, high)
    model.put(BOARD["IFC4"], "LP1", (12.0, front, 1.0), size, Tag="LP1")
    (wall,) = (one for one in model.file.by_type("IfcWall") if one.Name == "north")
    hole = model.put("IfcOpeningElement", "hole", (12.0, 22.9, 1.0), (wide, 0.5, high))
    model.inside.remove(hole)
    model.file.create_entity(
        "IfcRelVoidsElement",
        GlobalId=ifcopenshell.guid.new(),
        RelatingBuildingElement=wall,
        RelatedOpeningElement=hole,
    )


def room_beyond(model: Model) -> None:
    """Put up a second space behind the north wall."""
    space = model.put("IfcSpace", "E2", (10, 23.2, 0), (4, 3, 2.6), LongName="STORE")
    model.inside.remove(space)
    model.relate("IfcRelAggregates", model.storey, [space])


def item_of(model: Model, folder: Path, *more: str) -> Item:
    model.write(folder / "model.ifc")
    assert brought(folder, "--units", "m", *more) == 0
    (item,) = (one for one in read_scene(folder / "room.yaml").items if one.tag)
    return item


# Flush in the wall; its depth; out of both faces of the wall; and far out behind.
DEPTHS = [(WALL, 23.15), (WALL, 23.2), (22.98, 23.22), (WALL, 23.5)]


@pytest.mark.parametrize(("front", "back"), DEPTHS)
def test_its_front_is_in_the_room(
    model: Model, tmp_path: Path, capsys: Printed, front: float, back: float
) -> None:
    let_in(model, front, back)
    item = item_of(model, tmp_path)
    assert item.place is not None
    assert item.place.facing == "south"  # type: ignore[union-attr]
    assert "front not sure (margin 1.00" in capsys.readouterr().err
    (space,) = check(read_scene(tmp_path / "room.yaml")).of("LP1", "working-space")
    # From its front, or the wall's face, to the south wall at 20.0.
    assert space.provided["depth"] == pytest.approx(front - 20.0)


@pytest.mark.parametrize(("asked", "facing"), [("E1", "south"), ("E2", "north")])
def test_of_two_rooms_the_one_that_is_asked_for_has_the_front(
    model: Model, tmp_path: Path, capsys: Printed, asked: str, facing: str
) -> None:
    room_beyond(model)
    let_in(model, 22.98, 23.22)
    item = item_of(model, tmp_path, "--space", asked)
    assert item.place is not None
    assert item.place.facing == facing  # type: ignore[union-attr]
    said = f"front not sure (margin 0.00, sure from 1.3): taken as {facing}"
    assert said in capsys.readouterr().err


def test_a_front_that_is_sure_is_not_turned_to_the_room(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    """A board that hangs in the next room is worked at there."""
    room_beyond(model)
    model.put(BOARD["IFC4"], "LP1", (12.0, 23.2, 1.0), (0.5, 0.2, 0.9), Tag="LP1")
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--space", "E1") == 0
    assert not [one for one in read_scene(tmp_path / "room.yaml").items if one.tag]
    assert "no gear is here; elsewhere in the model: LP1" in capsys.readouterr().err


def test_what_stands_close_before_a_front_does_not_turn_it(
    model: Model, tmp_path: Path, capsys: Printed
) -> None:
    """A column 0.2 m before a board that hangs on the wall is what is looked for."""
    model.put(BOARD["IFC4"], "LP1", (12.0, 22.8, 1.0), (0.5, 0.2, 0.9), Tag="LP1")
    model.put("IfcColumn", "column", (12.1, 22.4, 0.05), (0.2, 0.2, 2.9))
    item = item_of(model, tmp_path)
    assert item.place is not None
    assert item.place.facing == "south"  # type: ignore[union-attr]
    found = check(read_scene(tmp_path / "room.yaml"))
    (space,) = found.of("LP1", "working-space")
    assert space.verdict == "not-met"
    assert space.provided["depth"] == pytest.approx(0.2)
    assert "column" in {one.item for one in space.intrusions}
    assert "front not sure" not in capsys.readouterr().err
