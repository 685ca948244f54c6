"""Models of several origins: what comes of them goes back into each at its own place.

Outside source: IFC 4.3, IfcMapConversion, and the library's own reading of it
(ifcopenshell.util.geolocation), against which places on the map are compared.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ifcopenshell
import ifcopenshell.geom
import numpy as np
import pytest
from ifcopenshell.util import geolocation

from tests.exchange.ifc.test_import import BOARD, door
from tests.exchange.ifc.test_other_authors import georeference, turn
from tests.exchange.ifc.written_models import Model
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

pytestmark = pytest.mark.long
EAST, NORTH, HIGH = 691_000.0, 5_335_000.0, 512.0
SPACE = "LP1 working-space"


def brought(folder: Path, *names: str) -> int:
    files = [str(folder / name) for name in names]
    room = str(folder / "room.yaml")
    return main(["import", *files, "--rules", "nec-2023", "-o", room, "--units", "m"])


def put_into(folder: Path, name: str) -> Any:
    target = folder / f"with spaces {name}"
    words = ["export", str(folder / "room.yaml"), "-o", str(target)]
    assert main([*words, "--into", str(folder / name)]) == 0
    return ifcopenshell.open(str(target))


def points(model: Any, name: str) -> Any:
    """Return an element's points in its model's frame, metres, as the library says."""
    (element,) = [one for one in model.by_type("IfcElement") if one.Name == name]
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)  # noqa: FBT003 - its own way
    shape = ifcopenshell.geom.create_shape(settings, element)
    return np.array(shape.geometry.verts).reshape(-1, 3)


def middle(some: Any) -> Any:
    return (some.min(axis=0) + some.max(axis=0)) / 2


def on_map(model: Any, some: Any, scale: float) -> Any:
    """Return points on the map by the library, which asks how the units differ."""
    model.by_type("IfcMapConversion")[0].Scale = scale
    return np.array([geolocation.auto_xyz2enh(model, *(one / scale)) for one in some])


def write_house(file: Path, turned: float) -> None:
    """Write a room with a door in metres, which says where it lies on the map."""
    house = Model(unit="m")
    house.room()
    door(house)
    georeference(house, (EAST, NORTH, HIGH), turned, "METRE")
    house.write(file)


def house_and_gear(folder: Path, degrees: float) -> None:
    """Write a room, and a board on its north wall in a model of another origin."""
    write_house(folder / "house.ifc", 10.0)
    gear = Model(unit="mm")
    georeference(gear, (EAST - 100, NORTH - 50, HIGH + 5), 10.0 - degrees, "METRE")
    u, v = turn(12.0, 22.8, 10.0)
    x, y = turn(u + 100, v + 50, degrees - 10.0)
    gear.put(BOARD["IFC4"], "LP1", (x, y, -4.0), (0.5, 0.2, 0.9), x=turn(1, 0, degrees))
    gear.write(folder / "gear.ifc")


@pytest.mark.parametrize("degrees", [0.0, 30.0])
@pytest.mark.parametrize("first", ["house.ifc", "gear.ifc"])
def test_spaces_stand_at_the_board_in_each_model(
    tmp_path: Path, degrees: float, first: str
) -> None:
    house_and_gear(tmp_path, degrees)
    names = sorted(("house.ifc", "gear.ifc"), key=lambda one: one != first)
    assert brought(tmp_path, *names) == 0
    gear, house = (put_into(tmp_path, one) for one in ("gear.ifc", "house.ifc"))
    board, space = middle(points(gear, "LP1")), middle(points(gear, SPACE))
    floor = points(gear, SPACE)[:, 2].min()
    assert points(gear, "LP1")[:, 2].min() - floor == pytest.approx(0.95, abs=1e-4)
    # In its own axes the space is straight ahead: out of the board's front, -y.
    x, y, _ = space - board
    ahead = turn(float(x), float(y), -degrees)
    assert ahead[0] == pytest.approx(0.0, abs=1e-4)
    assert -0.9 < ahead[1] < -0.4
    # On the map both models put the same space at the same place, to a tenth of a mm.
    here = on_map(gear, points(gear, SPACE), 0.001)
    there = on_map(house, points(house, SPACE), 1.0)
    assert np.allclose(middle(here), middle(there), atol=1e-4, rtol=0)
    assert np.allclose(middle(points(house, SPACE))[:2], (12.25, 22.8 + ahead[1] + 0.1),
                       atol=1e-4)  # fmt: skip


def test_one_model_is_built_where_it_lies_on_the_map_and_one_is_local(
    tmp_path: Path, capsys: Printed
) -> None:
    """Common practice of surveyors: coordinates of the country's grid, and no word."""
    write_house(tmp_path / "local.ifc", 0.0)
    grid = Model(unit="mm")
    at = (EAST + 12.0, NORTH + 22.8, HIGH + 1)
    grid.put(BOARD["IFC4"], "LP1", at, (0.5, 0.2, 0.9))
    grid.write(tmp_path / "grid.ifc")
    assert brought(tmp_path, "local.ifc", "grid.ifc") == 0
    told = capsys.readouterr().err
    assert "grid.ifc has no georeference and lies far from its origin" in told
    own, baked = (put_into(tmp_path, one) for one in ("local.ifc", "grid.ifc"))
    away = (EAST, NORTH, HIGH)
    assert np.allclose(middle(points(baked, SPACE)), middle(points(own, SPACE)) + away,
                       atol=1e-4, rtol=0)  # fmt: skip
    board = middle(points(baked, "LP1"))
    assert middle(points(baked, SPACE))[0] == pytest.approx(board[0], abs=1e-4)


def test_a_file_of_its_own_lies_on_the_map(tmp_path: Path) -> None:
    house_and_gear(tmp_path, 30.0)
    assert brought(tmp_path, "gear.ifc", "house.ifc") == 0
    words = ["export", str(tmp_path / "room.yaml"), "-o", str(tmp_path / "own.ifc")]
    assert main(words) == 0
    own = ifcopenshell.open(str(tmp_path / "own.ifc"))
    assert own.by_type("IfcProjectedCRS")[0].Name == "EPSG:25832"
    here = on_map(own, points(own, SPACE), 1.0)
    model = put_into(tmp_path, "house.ifc")
    there = on_map(model, points(model, SPACE), 1.0)
    assert np.allclose(middle(here), middle(there), atol=1e-4, rtol=0)


def test_a_model_where_nobody_knows_is_refused(tmp_path: Path, capsys: Printed) -> None:
    house_and_gear(tmp_path, 0.0)
    other = Model()
    other.room()
    other.write(tmp_path / "other.ifc")
    assert brought(tmp_path, "house.ifc", "gear.ifc") == 0
    capsys.readouterr()
    words = ["export", str(tmp_path / "room.yaml"), "-o", str(tmp_path / "out.ifc")]
    assert main([*words, "--into", str(tmp_path / "other.ifc")]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    right = "right is one that the scene came from (house.ifc, gear.ifc)"
    assert line.endswith(right)
    assert not (tmp_path / "out.ifc").exists()
    # A third one that lies on the same map is no question, and told.
    georeference(other, (EAST - 7.0, NORTH, HIGH), 0.0, "METRE")
    other.file.write(str(tmp_path / "other.ifc"))
    model = put_into(tmp_path, "other.ifc")
    assert "other.ifc: no model that the scene came from" in capsys.readouterr().err
    assert middle(on_map(model, points(model, SPACE), 0.001))[0] > EAST


def test_a_model_whose_georeference_was_changed_is_told(
    tmp_path: Path, capsys: Printed
) -> None:
    house_and_gear(tmp_path, 0.0)
    assert brought(tmp_path, "house.ifc", "gear.ifc") == 0
    house = ifcopenshell.open(str(tmp_path / "house.ifc"))
    house.by_type("IfcMapConversion")[0].Eastings -= 40.0
    house.write(str(tmp_path / "house.ifc"))
    model = put_into(tmp_path, "house.ifc")
    assert "its georeference is not what it was" in capsys.readouterr().err
    assert middle(points(model, SPACE))[0] == pytest.approx(
        12.25 + 40 * np.cos(np.radians(10)), abs=1e-3
    )
