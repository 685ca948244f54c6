"""Of a mesh that is no closed body the report says so, where it is in the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from model3d import check
from model3d.scene.text.reader import read_text
from tests.standing.written_box import corners, written

if TYPE_CHECKING:
    from pathlib import Path

ROOM = """\
title: Room
units: m
rules: nec-2023
room: {size: [4, 3], height: 3}
items:
  - id: LP1
    kind: panelboard
    size: [0.5, 0.2, 0.9]
    place: {wall: north, along: 1.75, bottom: 0.9}
    supply: {system: 208Y/120, amps: 225}
  - {id: X, kind: machine, mesh: thing.obj, units: m}
"""


@pytest.mark.parametrize(
    ("y", "sides", "times"),
    [(1.9, 5, 1), (1.9, 6, 0), (0.5, 5, 0)],
)
def test_an_open_mesh_in_the_way_is_told(
    tmp_path: Path, y: float, sides: int, times: int
) -> None:
    (tmp_path / "thing.obj").write_text(
        written(corners((1.8, 2.2), (y, y + 0.4), (0.0, 1.0)), sides)
    )
    report = check(read_text(ROOM, tmp_path / "room.yaml"))
    (space,) = report.of("LP1", "working-space")
    assert space.verdict == ("not-met" if y > 1.5 else "met")
    said = [one.what for one in report.assumed if one.item == "X"]
    assert [one.endswith("no volume is known.") for one in said] == [True] * times
