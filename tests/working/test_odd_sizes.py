"""A size that only a wrong unit gives is told, however a thing lies; no other is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
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
room: {size: [6, 6], height: 4}
items:
  - {id: P1, kind: pipe, mesh: pipe.obj, units: m}
"""


def askew(turn: float, rise: float, factor: float) -> str:
    """Return a square pipe of 3.6 m and 0.1 m, turned and raised about its middle."""
    points = factor * corners((-1.8, 1.8), (-0.05, 0.05), (-0.05, 0.05))
    (s, c), (u, d) = ((np.sin(a), np.cos(a)) for a in np.radians((turn, rise)))
    raised = points @ np.array([[d, 0, -u], [0, 1, 0], [u, 0, d]]).T
    placed = raised @ np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]).T + (3, 3, 2)
    return written(placed)


@pytest.mark.parametrize(
    ("turn", "rise", "factor", "times"),
    [
        (0, 0, 1, 0),
        (45, 0, 1, 0),  # it was 2.6 m thick: the box around it is
        (45, 30, 1, 0),
        (0, 0, 30, 1),
        (45, 30, 30, 1),
    ],
)
def test_a_pipe_that_lies_askew_is_as_thick_as_it_is(
    tmp_path: Path, turn: float, rise: float, factor: float, times: int
) -> None:
    (tmp_path / "pipe.obj").write_text(askew(turn, rise, factor))
    report = check(read_text(ROOM, tmp_path / "room.yaml"))
    reasons = [str(one.reason) for one in report.of("P1", "as-drawn")]
    odd = [one for one in reasons if "as a wrong unit would make it" in one]
    assert len(odd) == times
