"""The meshes of the example rooms are what their generator makes of them."""

from __future__ import annotations

import pytest

from model3d.standing.arrangement import arrange
from tests.scenes.examples import report, scene
from tests.scenes.make_meshes import MESHES, meshes

LARGEST = 60_000
"""Bytes."""


@pytest.mark.parametrize(("name", "content"), meshes().items(), ids=meshes())
def test_mesh_is_made_again_byte_for_byte(name: str, content: bytes) -> None:
    assert (MESHES / name).read_bytes() == content
    assert len(content) < LARGEST


def test_no_mesh_without_a_generator() -> None:
    assert {path.name for path in MESHES.iterdir()} == meshes().keys()


def test_one_mesh_is_closed_and_one_is_open() -> None:
    items = arrange(scene("scanned-pump")).items
    assert items["P3"].solid.closed
    assert not items["V1"].solid.closed


def test_only_a_closed_mesh_has_a_volume_in_the_space() -> None:
    found = report("scanned-pump")
    (pump,) = found.of("CP1", "working-space")[0].intrusions
    (valve,) = found.of("DS1", "working-space")[0].intrusions
    assert pump.volume is not None
    # Its flange alone, 280 across and 80 thick, is 0.0049; all of the pump is 0.15.
    assert 0.0049 < pump.volume < 0.15
    assert valve.volume is None
