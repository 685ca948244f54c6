"""Models in a zip file (IFCZIP, ISO 16739), read within bounds as if unpacked."""

from __future__ import annotations

import zipfile
from typing import TYPE_CHECKING

import pytest

from model3d.exchange.ifc.file.opening import opened
from tests.exchange.ifc.test_import import board, brought
from tests.exchange.ifc.written_models import Model
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    Printed = pytest.CaptureFixture[str]

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def text(tmp_path_factory: pytest.TempPathFactory) -> str:
    model = Model("IFC4X3_ADD2", "m")
    model.room()
    board(model)
    file = model.write(tmp_path_factory.mktemp("model") / "model.ifc")
    return file.read_text()


def pack(folder: Path, **models: str) -> Path:
    """Pack models by their names."""
    file = folder / "model.ifczip"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in models.items():
            archive.writestr(f"folder/{name}.IFC", data)
    return file


def bring(file: Path, target: Path) -> int:
    return main(["import", str(file), "--rules", "nec-2023", "-o", str(target)])


def test_a_packed_model_gives_the_same_scene(tmp_path: Path, text: str) -> None:
    file, room = pack(tmp_path, one=text), tmp_path / "room.yaml"
    (tmp_path / "model.ifc").write_text(text)
    assert brought(tmp_path) == 0
    plain, mesh = room.read_text(), (tmp_path / "room.glb").read_bytes()
    room.unlink()
    (tmp_path / "room.glb").unlink()
    assert bring(file, room) == 0
    assert room.read_text().replace("model.ifczip", "model.ifc") == plain
    assert (tmp_path / "room.glb").read_bytes() == mesh


@pytest.mark.parametrize("name", ["IFC4X3", "IFC4X3_ADD1"])
def test_so_is_an_earlier_name_of_ifc_4_3(tmp_path: Path, text: str, name: str) -> None:
    """It was an unknown schema, though the same file was read unpacked."""
    file = pack(tmp_path, one=text.replace("('IFC4X3_ADD2')", f"('{name}')"))
    assert opened(file).schema_identifier == "IFC4X3_ADD2"


def test_what_is_no_model_any_more_is_one_line(
    tmp_path: Path, text: str, capsys: Printed
) -> None:
    bomb = text.replace("DATA;", "DATA;" + " " * (80 * 2**20), 1)
    not_one = "found not one .ifc in it, right is one"
    held: list[tuple[dict[str, str], str]] = [
        ({"one": bomb}, "found 80 MiB packed in "),
        ({"one": text, "two": text}, not_one),
        ({}, not_one),
    ]
    for models, said in held:
        file = pack(tmp_path, **models)
        assert bring(file, tmp_path / "room.yaml") == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert line.startswith(f"{file}: {said}")
        assert [*tmp_path.iterdir()] == [file]


def test_one_that_is_damaged_inside_is_one_line(
    tmp_path: Path, text: str, capsys: Printed
) -> None:
    file = pack(tmp_path, one=text)
    data = bytearray(file.read_bytes())
    data[200] ^= 0xFF
    file.write_bytes(data)
    assert bring(file, tmp_path / "room.yaml") == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(f"{file}: found ")
    assert [*tmp_path.iterdir()] == [file]
