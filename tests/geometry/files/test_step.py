"""STEP files: in their own unit, whole or refused, and read with an end."""

from __future__ import annotations

import importlib.util
import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d.geometry.bodies.solid import Mesh, volume
from model3d.geometry.files import step_file
from model3d.geometry.files.announced import MeshFileError
from model3d.geometry.files.mesh import read_mesh
from model3d.geometry.files.step_file import glb_of
from tests.geometry.files.written_step import A_UNIT, box, cylinder, without

if TYPE_CHECKING:
    from pathlib import Path

BOX = box(600, 500, 800)
NO_NUMBER = BOX.replace("(0.0,0.0,0.0)", "(nan,0.0,0.0)")
"""The library works on it for ever."""
ENDS_EARLY = "the file ends too early"
NOT_THERE = "it has numbers that are none, or names what is not there"


@pytest.mark.long
@pytest.mark.parametrize("unit", A_UNIT)
@pytest.mark.parametrize("ending", ["step", "STP"])
def test_a_box_is_as_large_as_it_says(tmp_path: Path, unit: str, ending: str) -> None:
    file = tmp_path / f"box.{ending}"
    file.write_text(box(600, 500, 800, unit))
    points, faces = read_mesh(file)
    # Metres, and z stays up.
    assert np.allclose(points.min(axis=0), 0.0)
    assert np.allclose(points.max(axis=0), (0.6, 0.5, 0.8))
    body = Mesh(points, faces)
    assert body.closed
    assert volume(body) == pytest.approx(0.24)


@pytest.mark.long
@pytest.mark.parametrize("unit", A_UNIT)
def test_a_round_body_is_nowhere_much_thinner(tmp_path: Path, unit: str) -> None:
    file = tmp_path / "round.step"
    file.write_text(cylinder(100, 300, unit))
    body = Mesh(*read_mesh(file))
    assert body.closed
    assert 0.99 < volume(body) / (math.pi * 0.1**2 * 0.3) <= 1.0


@pytest.mark.long
def test_the_same_file_gives_the_same_bytes() -> None:
    data = cylinder(100, 300).encode()
    assert glb_of(data) == glb_of(data)


@pytest.mark.long
@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "it is no STEP file"),
        ("hello", "it is no STEP file"),
        (BOX[: len(BOX) // 2], ENDS_EARLY),
        (BOX[:-30], ENDS_EARLY),
        (BOX.replace("ENDSEC;\nDATA;", "DATA;"), "it is damaged, or no STEP file"),
        (without(BOX, "ADVANCED_FACE"), NOT_THERE),
        (BOX.replace("PLANE(", "PLAIN(", 1), "1 of its 6 faces cannot be read"),
        (without(BOX, "DIRECTION"), "1 of its 6 faces cannot be read"),
        (without(BOX, "EDGE_CURVE"), NOT_THERE),
        (
            without(BOX, "SHAPE_DEFINITION_REPRESENTATION"),
            "it is damaged, or no STEP file",
        ),
        (BOX.replace("(#2,#3,#4)", "(#3,#4)"), "it does not say its unit of length"),
        (BOX.replace("800.0", "1e300"), "4 of its 6 faces cannot be read"),
    ],
)
def test_what_is_damaged_is_never_half_a_body(
    tmp_path: Path, text: str, why: str
) -> None:
    file = tmp_path / "box.step"
    file.write_text(text)
    with pytest.raises(MeshFileError) as caught:
        read_mesh(file)
    assert str(caught.value) == why


@pytest.mark.long
def test_reading_has_an_end() -> None:
    with pytest.raises(MeshFileError, match="took more than 2 s and was ended"):
        glb_of(NO_NUMBER.encode(), seconds=2.0)


@pytest.mark.skipif(
    importlib.util.find_spec("resource") is None, reason="no such limit on Windows"
)
def test_more_memory_than_it_may_have_is_one_line() -> None:
    with pytest.raises(MeshFileError, match="ended without an answer"):
        glb_of(BOX.encode(), memory=64 * 2**20)


def test_without_the_extra_it_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(step_file, "_READER", "no_such_reader")
    with pytest.raises(MeshFileError, match=r'pip install "standclear\[step\]"'):
        glb_of(BOX.encode())
