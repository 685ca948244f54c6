"""Reading has an end: in time, in memory, and where the reader dies."""

from __future__ import annotations

import importlib.util
from typing import TYPE_CHECKING

import pytest

from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.worker import building_of
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
