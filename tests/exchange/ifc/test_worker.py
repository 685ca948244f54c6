"""Reading has an end: in time, in memory, and where the reader dies."""

from __future__ import annotations

import importlib.util
from typing import TYPE_CHECKING

import pytest

from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.file.worker import building_of, read_apart
from tests.exchange.ifc.written_models import Model

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.long


@pytest.fixture
def model(tmp_path: Path) -> Path:
    one = Model()
    one.room()
    return one.write(tmp_path / "model.ifc")


def test_it_is_told_what_is_read(model: Path) -> None:
    told: list[str] = []
    building = building_of([model], told.append)
    assert [one.called for one in building.spaces] == ["ELEC RM"]
    assert told[0] == "opening model.ifc"


def test_after_its_time_it_is_ended(model: Path) -> None:
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None, seconds=0.0)
    (said,) = caught.value.mistakes
    assert "took more than 0 s and was ended" in said


@pytest.mark.skipif(
    importlib.util.find_spec("resource") is None, reason="no such limit on Windows"
)
def test_more_memory_than_it_may_have_is_one_line(model: Path) -> None:
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None, memory=64 * 2**20)
    (said,) = caught.value.mistakes
    assert str(model) in said


def test_a_model_that_is_cut_short_is_one_line(model: Path) -> None:
    # Whoever saved what was left of it wrote its last lines anew: it parses.
    lines = model.read_text().splitlines()
    data, end = lines.index("DATA;"), lines.index("ENDSEC;", lines.index("DATA;"))
    kept = lines[: data + 2 * (end - data) // 3]
    model.write_text("\n".join([*kept, *lines[end:]]))
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None)
    (said,) = caught.value.mistakes
    assert f"{model}: found nothing at #" in said
    assert said.endswith("right is a whole model")


def test_what_lies_nowhere_is_one_line(model: Path) -> None:
    text = model.read_text()
    room = text.index("IFCEXTRUDEDAREASOLID(")
    end = text.index(")", room)
    model.write_text(text[: text.rindex(",", room, end) + 1] + "1.E30" + text[end:])
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None)
    (said,) = caught.value.mistakes
    assert "model.ifc: found no place for Ifc" in said


def test_what_no_reader_expects_is_one_line() -> None:
    with pytest.raises(ModelError) as caught:
        read_apart(float.fromhex, "model.ifc", print, seconds=60.0, memory=8 * 2**30)  # type: ignore[arg-type]
    (said,) = caught.value.mistakes
    assert said == "model.ifc: found what cannot be read, right is a sound model"
