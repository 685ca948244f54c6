"""Building models as scenes: models made here, in every schema and unit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from model3d import RoomDoor, check, read_scene
from tests.exchange.ifc.written_models import METRES, Model
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.long

BOARD = {
    "IFC2X3": "IfcElectricDistributionPoint",
    "IFC4": "IfcElectricDistributionBoard",
    "IFC4X3_ADD2": "IfcElectricDistributionBoard",
}


def board(model: Model, tag: str = "LP1", x: float = 12.5) -> None:
    """Hang a board on the north wall, facing south: 0.5 wide, 0.2 deep, 0.9 high."""
    # Seen from the room its right is west: x runs along (-1, 0).
    said = {"DistributionPointFunction": "DISTRIBUTIONBOARD"}
    panel = model.put(
        BOARD[model.schema],
        tag,
        (x, 23.0, 1.0),
        (0.5, 0.2, 0.9),
        x=(-1, 0),
        Tag=tag,
        **(said if model.schema == "IFC2X3" else {}),
    )
    model.say(
        panel,
        "Works",
        Voltage=("IfcReal", 2238.89),
        RatedVoltage=("IfcText", "240"),
        Distribution_System=("IfcLabel", "x"),
        **{"Distribution System": ("IfcLabel", "480Y/277V 3ph 4w")},
        NominalCurrent=("IfcReal", 225.0),
    )


def door(model: Model, operation: str = "SINGLE_SWING_LEFT") -> None:
    """Put a door into the south wall that opens out of the room."""
    # Its X runs west, so that its +Y points south, out of the room.
    put: dict[str, float | str] = {
        "OverallWidth": 0.9 * model.scale,
        "OverallHeight": 2.1 * model.scale,
    }
    if model.schema != "IFC2X3":
        put["OperationType"] = operation
    model.put("IfcDoor", "D1", (11.9, 19.95, 0.05), (0.9, 0.1, 2.1), x=(-1, 0), **put)


def written(folder: Path, schema: str = "IFC4", unit: str = "mm") -> Model:
    model = Model(schema, unit)
    model.room()
    board(model)
    door(model)
    model.put("IfcFurnishingElement" if schema == "IFC2X3" else "IfcFurniture",
              "Cupboard", (12.0, 21.5, 0.05), (0.4, 0.5, 1.5))  # fmt: skip
    model.write(folder / "model.ifc")
    return model


def brought(folder: Path, *more: str) -> int:
    return main(
        [
            *("import", str(folder / "model.ifc"), "--rules", "nec-2023"),
            *("-o", str(folder / "room.yaml"), *more),
        ]
    )


def doors_brought(model: Model, folder: Path) -> tuple[RoomDoor, ...]:
    """Return the doors of the room that comes of a model."""
    model.write(folder / "model.ifc")
    assert brought(folder) == 0
    room = read_scene(folder / "room.yaml").room
    assert room is not None
    return room.doors


@pytest.mark.parametrize("unit", [*METRES])
@pytest.mark.parametrize("schema", [*BOARD])
def test_a_room_comes_whole(tmp_path: Path, schema: str, unit: str) -> None:
    model = written(tmp_path, schema, unit)
    assert brought(tmp_path, "--units", "m") == 0
    scene = read_scene(tmp_path / "room.yaml")
    assert scene.title == "E1 ELEC RM"
    assert scene.room is not None
    assert scene.room.height == pytest.approx(2.95)  # floor 0.05, slab at 3.0
    (only,) = scene.room.doors
    assert only.width == pytest.approx(0.9)
    assert only.height == pytest.approx(2.1)
    assert only.overall
    # The south wall's left end, seen from inside, is its east end.
    assert only.along == pytest.approx(14 - 11.9)
    items = {item.id: item for item in scene.items}
    assert items.keys() == {"LP1", "Cupboard"}
    panel = items["LP1"]
    assert panel.kind == "panelboard"
    assert panel.size == pytest.approx((0.5, 0.2, 0.9))
    assert panel.guid == model.guids["LP1"]
    assert panel.tag == "LP1"
    assert panel.mesh == "room.glb"
    assert panel.part == panel.guid
    assert panel.supply is not None
    assert (panel.supply.system, panel.supply.amps) == ("480Y/277", 225)
    found = check(scene)
    (space,) = found.of("LP1", "working-space")
    # The cupboard's north side is at 22.0, the board's front at 22.8.
    assert space.verdict == "not-met"
    assert space.provided["depth"] == pytest.approx(0.8)
    assert [one.item for one in space.intrusions] == ["Cupboard"]
    assert not [one for one in found.assumed if "mesh" in one.what]
    # The way out goes by a door that is known over its frame only: never met.
    (entrance,) = found.of("LP1", "entrance")
    assert entrance.verdict == "open"
    assert "measure the clear opening" in entrance.reason


def test_the_front_is_towards_the_room(tmp_path: Path) -> None:
    written(tmp_path)
    assert brought(tmp_path) == 0
    (panel,) = [
        one for one in read_scene(tmp_path / "room.yaml").items if one.id == "LP1"
    ]
    assert getattr(panel.place, "facing", None) == "south"


def test_a_front_that_is_known_counts(tmp_path: Path) -> None:
    written(tmp_path)
    assert brought(tmp_path, "--front", "LP1=east", "--around", "LP1") == 0
    items = {one.id: one for one in read_scene(tmp_path / "room.yaml").items}
    assert getattr(items["LP1"].place, "facing", None) == "east"
    assert items["LP1"].size == pytest.approx((200, 500, 900))


@pytest.mark.parametrize(
    ("operation", "hinge"),
    [
        # From inside its +X is to the left: X runs west, the wall's left is east.
        ("SINGLE_SWING_LEFT", "left"),
        ("SINGLE_SWING_RIGHT", "right"),
        ("DOUBLE_DOOR_SINGLE_SWING", "pair"),
        ("NOTDEFINED", None),
    ],
)
def test_a_door_swings_as_its_placement_says(
    tmp_path: Path, operation: str, hinge: str | None
) -> None:
    model = Model()
    model.room()
    door(model, operation)
    (only,) = doors_brought(model, tmp_path)
    assert only.hinge == hinge
    assert only.opens == ("out" if hinge else None)


def test_a_pad_is_no_floor_and_a_shelf_no_ceiling(tmp_path: Path) -> None:
    model = Model()
    model.room()
    model.put("IfcSlab", "pad", (10.5, 20.5, 0.05), (1.0, 1.0, 0.1))
    model.put("IfcSlab", "gallery", (10.0, 20.0, 2.5), (1.0, 3.0, 0.1))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--units", "m") == 0
    scene = read_scene(tmp_path / "room.yaml")
    assert scene.origin is not None
    assert scene.origin[2] == "0.05 m"
    assert scene.room is not None
    assert scene.room.height == pytest.approx(2.95)
    assert {item.id for item in scene.items} == {"pad", "gallery"}


def test_a_door_behind_another_wall_is_none_of_the_room(tmp_path: Path) -> None:
    model = Model()
    model.room()
    put = {"OverallWidth": 900.0, "OverallHeight": 2100.0}
    model.put("IfcDoor", "D9", (11, 19.4, 0.05), (0.9, 0.1, 2.1), **put)
    assert doors_brought(model, tmp_path) == ()


def test_without_spaces_the_surroundings_are_taken_and_ways_out_stay_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = Model()
    board(model)
    model.put("IfcSlab", "floor", (9, 19, -0.15), (6, 6, 0.2))
    model.put("IfcWall", "north", (9, 23, 0), (6, 0.2, 3))
    model.put("IfcColumn", "C1", (12.1, 22.2, 0.05), (0.3, 0.3, 2.5))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 2
    assert "right is --around ID" in capsys.readouterr().err
    assert brought(tmp_path, "--around", "LP1") == 0
    assert "no space of the model is here" in capsys.readouterr().err
    found = check(read_scene(tmp_path / "room.yaml"))
    (space,) = found.of("LP1", "working-space")
    assert space.verdict == "not-met"
    assert space.provided["depth"] == pytest.approx(22.8 - 22.5)
    assert {one.verdict for one in found.of("LP1", "entrance")} == {"open"}


def test_nothing_in_a_required_space_is_left_out(tmp_path: Path) -> None:
    """What is left out is in nobody's way: also at other gear that is taken."""
    model = Model()
    model.room()
    board(model)
    board(model, "LP2", 13.4)
    model.put("IfcColumn", "crate", (12.1, 21.9, 0.05), (0.3, 0.3, 1.0))
    model.put("IfcColumn", "other", (13.0, 21.9, 0.05), (0.3, 0.3, 1.0))
    model.put("IfcBuildingElementProxy", "pipe", (12.1, 22.8, 2.3), (0.3, 0.2, 0.1))
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--around", "LP1", "--within", "0.01 m") == 0
    found = check(read_scene(tmp_path / "room.yaml"))
    for gear in ("LP1", "LP2"):
        (space,) = found.of(gear, "working-space")
        assert space.verdict == "not-met"
    (zone,) = found.of("LP1", "dedicated-space")
    assert zone.verdict != "met"


def test_what_is_farther_is_left_out_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = Model()
    model.room()
    board(model)
    door(model)
    model.put("IfcColumn", "near", (12.1, 21.9, 0.05), (0.3, 0.3, 2.5))
    model.put("IfcColumn", "far", (13.6, 20.2, 0.05), (0.3, 0.3, 2.5))
    model.write(tmp_path / "model.ifc")
    # The deepest space of the book is 1.5 m (5 ft, 1000 V): by hand, 1.8 m are taken.
    assert brought(tmp_path, "--around", "LP1", "--within", "0.276 m") == 0
    scene = read_scene(tmp_path / "room.yaml")
    assert {item.id for item in scene.items} == {"LP1", "near"}
    assert scene.room is not None
    assert scene.room.doors == ()
    assert "left out beyond --within: 1;" in capsys.readouterr().err
    verdicts = {one.verdict for one in check(scene).of("LP1", "entrance")}
    assert verdicts == {"open"}


@pytest.mark.parametrize("turn", [0, 30, 200])
def test_a_turned_room_says_the_same(tmp_path: Path, turn: float) -> None:
    # A board on a wall whose front looks along a bearing that is no right angle.
    angle = math.radians(turn)
    right = (math.cos(angle), math.sin(angle))
    model = Model()
    model.put(BOARD["IFC4"], "LP1", (0, 0, 1), (0.5, 0.2, 0.9), x=right, Tag="LP1")
    back = (-2 * right[0] + 0.2 * right[1], -2 * right[1] - 0.2 * right[0])
    model.put("IfcWall", "behind", (*back, 0), (4, 0.2, 3), x=right)
    ahead = -right[1] * 0.9, right[0] * 0.9
    model.put("IfcColumn", "C1", (*ahead, 0), (0.5, 0.3, 3), x=right)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path, "--around", "LP1", "--units", "m") == 0
    found = check(read_scene(tmp_path / "room.yaml"))
    (space,) = found.of("LP1", "working-space")
    assert space.provided["depth"] == pytest.approx(0.7, abs=1e-4)
    assert found.arrangement is not None
    front = found.arrangement.items["LP1"].front
    assert front is not None
    assert front.frame.out == pytest.approx((-right[1], right[0]), abs=1e-6)


def test_the_same_model_gives_the_same_bytes(tmp_path: Path) -> None:
    written(tmp_path)
    said = []
    for _ in range(2):
        assert brought(tmp_path) == 0
        files = tmp_path / "room.yaml", tmp_path / "room.glb"
        said.append([file.read_bytes() for file in files])
        for file in files:
            file.unlink()
    assert said[0] == said[1]


def test_a_line_that_stands_twice_in_a_model_is_one_thing(tmp_path: Path) -> None:
    model = Model()
    model.room()
    board(model)
    file = tmp_path / "model.ifc"
    model.write(file)
    lines = file.read_text().splitlines()
    twice = [line for line in lines if "=IFCSPACE(" in line]
    assert len(twice) == 1
    lines.insert(lines.index(twice[0]), twice[0])
    file.write_text("\n".join(lines) + "\n")
    assert brought(tmp_path) == 0
    assert (tmp_path / "room.yaml").exists()


def test_several_spaces_are_listed_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = Model()
    model.room()
    model.room("E2", "STORE")
    board(model)
    model.write(tmp_path / "model.ifc")
    assert brought(tmp_path) == 2
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 3
    assert "found 2 spaces" in told[0]
    assert told[0].endswith("--space NAME or --around ID, such as LP1")
    assert "E2 STORE" in told[2]
    assert not (tmp_path / "room.yaml").exists()
    assert brought(tmp_path, "--around", "whatever") == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.endswith("a tag or a name of the model, such as LP1")
    assert brought(tmp_path, "--space", "store") == 0


def test_the_table_may_say_otherwise(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written(tmp_path)
    table = tmp_path / "kinds.toml"
    model = str(tmp_path / "model.ifc")
    assert main(["import", model, "-o", str(table)]) == 0
    table.write_text('[[ifc]]\nwords = ["cupboard"]\nkind = "control-panel"\n\n'
                     + table.read_text())  # fmt: skip
    assert brought(tmp_path, "--mapping", str(table)) == 0
    items = {one.id: one for one in read_scene(tmp_path / "room.yaml").items}
    assert items["Cupboard"].kind == "control-panel"
    # It stands free: nothing tells its front for sure.
    assert "Cupboard: front not sure" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "found no IFC"),
        (b"ISO-10303-21;\nHEADER;", "found no end"),
        (
            b"ISO-10303-21;HEADER;FILE_SCHEMA(('IFC9'));ENDSEC;END-ISO-10303-21;",
            "found",
        ),
    ],
)
def test_a_bad_file_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: bytes, said: str
) -> None:
    (tmp_path / "model.ifc").write_bytes(text)
    assert brought(tmp_path) == 2
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 1
    assert said in told[0]
    assert [*tmp_path.iterdir()] == [tmp_path / "model.ifc"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--around", "LP1"), "--around: found beside a list"),
        (("--front", "LP1=east"), "--front: found beside a list"),
        (("other.csv",), "found another list, right is one"),
    ],
)
def test_a_list_is_no_building(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: tuple[str, ...], said: str
) -> None:
    file = tmp_path / "list.csv"
    file.write_text("Tag,Kind,Width (in),Depth (in),Height (in)\nL,ups,20,6,40\n")
    room = ("--size", "6000x4000x3000", "--units", "mm", "--rules", "nec-2023")
    target = tmp_path / "room.yaml"
    assert main(["import", str(file), *more, *room, "-o", str(target)]) == 2
    (told,) = capsys.readouterr().err.splitlines()
    assert said in told
    assert not target.exists()


def test_what_makes_no_scene_leaves_nothing_behind(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written(tmp_path)
    assert brought(tmp_path, "--rules", "nec-9999") == 2
    (told,) = capsys.readouterr().err.splitlines()
    assert "nec-9999" in told
    assert [*tmp_path.iterdir()] == [tmp_path / "model.ifc"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--within", "3 m"), "--within: found without --around"),
        (("--around", "LP9"), "a GlobalId, a tag or a name"),
        (("--around", "LP1", "--within", "3"), "a length with its unit"),
        (("--front", "LP1=up"), "--front: found LP1=up"),
        (("--front", "LP7=east"), "--front: found LP7, right is"),
        (("--around", "LP1", "--storey", "x"), "--around: found beside --storey"),
        (("--space", "nowhere"), "--space: found"),
        (("--storey", "Attic"), "--storey: found"),
        (("--size", "3000x3000"), "--size: found beside a building model"),
    ],
)
def test_a_wrong_wish_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: tuple[str, ...], said: str
) -> None:
    written(tmp_path)
    assert brought(tmp_path, *more) == 2
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 1
    assert said in told[0]
