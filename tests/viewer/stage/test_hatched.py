"""Hatching lies on the faces of a body, whatever body it is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.scenes import examples
from viewer.stage.bodies.hatched import hatched, hatching
from viewer.stage.bodies.surfaces import _CORNERS, _FACES

if TYPE_CHECKING:
    from viewer.stage.drawn import Points

SIDES = st.tuples(*[st.floats(0.02, 4.0)] * 3)


@pytest.mark.long
@given(SIDES)
def test_lines_lie_on_the_faces_of_a_box(sides: tuple[float, float, float]) -> None:
    lines = hatching(_CORNERS * sides, _FACES)
    assert 5 <= len(lines) <= 1200
    for ends in lines:
        on = np.isclose(ends, 0.0, atol=1e-9) | np.isclose(ends, sides, atol=1e-9)
        assert on.all(axis=0).any(), ends
        assert (ends > -1e-9).all()
        assert (ends < np.array(sides) + 1e-9).all()


def test_every_face_of_a_box_is_hatched() -> None:
    lines = hatching(_CORNERS * (0.5, 0.4, 0.3), _FACES)
    for axis, side in enumerate((0.5, 0.4, 0.3)):
        for level in (0.0, side):
            on = np.isclose(lines[:, :, axis], level).all(axis=1)
            assert on.sum() >= 3, (axis, level)


def test_nothing_has_no_hatching() -> None:
    nothing: Points = np.empty((0, 3))
    assert len(hatching(nothing, np.empty((0, 3), dtype=np.int64))) == 0


@pytest.mark.parametrize("name", ["pump-station", "stored-goods"])
def test_only_what_is_in_the_way_is_hatched(name: str) -> None:
    shapes = examples.stage(name).shapes
    found = [*hatched(shapes)]
    added = [shape for shape in found if shape not in shapes]
    bodies = [shape for shape in shapes if shape.role == "intrusion"]
    assert bodies
    plain = [one for one in added if "/top/" not in one.id]
    assert [one.id for one in plain] == [f"{one.id}/hatch" for one in bodies]
    assert all(len(one.edges) and not len(one.faces) for one in added)


def test_a_slender_body_is_hatched_closer_than_it_is_thick() -> None:
    """A riser of 100 mm must be told from a pipe that is not in the way, in grey.

    Common practice: hatching is seen where several lines stand side by side.
    """
    lines = hatching(_CORNERS * (0.1, 0.1, 2.0), _FACES)
    points = lines.reshape(-1, 3)
    corner = points[np.isclose(points[:, :2], 0.0).all(axis=1)]
    assert np.diff(np.unique(corner[:, 2].round(6))).max() < 0.1


def test_a_slab_hidden_at_the_back_of_a_thing_is_seen_by_its_hatching() -> None:
    """The lathe reaches 50 mm into a working space behind it, its back hidden by it."""
    shapes = examples.stage("osha-workshop").shapes
    (slab,) = (one for one in shapes if one.role == "intrusion")
    low, high = slab.vertices.min(axis=0), slab.vertices.max(axis=0)
    assert np.min(high - low) == pytest.approx(0.05, abs=1e-4)
    _, lines = hatched([slab])
    assert lines.through
    # Of a body that is thick the far side would shine through the near one.
    thick = replace(slab, vertices=slab.vertices * np.array([1.0, 4.0, 1.0]))
    _, lines, top = hatched([thick])
    assert not lines.through
    # So its upper side alone does.
    assert top.through
    assert np.isclose(top.edges[:, :, 2], thick.vertices[:, 2].max()).all()
    assert 3 <= len(top.edges) < len(lines.edges)
