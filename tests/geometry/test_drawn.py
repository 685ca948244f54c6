"""What is drawn of what two bodies share: the same as what is judged of it.

The outside source is trimesh, by which it is judged; a picture asks its engine alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model3d.geometry.bodies.solid import Box, Mesh, boolean, drawn_boolean
from model3d.geometry.bodies.upright import Column
from model3d.geometry.frame import Frame
from model3d.geometry.overlap.shared import Body

if TYPE_CHECKING:
    from model3d.geometry.bodies.solid import Solid

AT_HOME = Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0))
places = st.floats(-1.5, 1.5).map(lambda value: round(value, 4))
sizes = st.floats(0.05, 2.0).map(lambda value: round(value, 4))
turns = st.floats(0.0, 6.28)


def turned(angle: float, x: float, y: float) -> Frame:
    right = (float(np.cos(angle)), float(np.sin(angle)))
    return Frame(x, y, right, (-right[1], right[0]))


def boxes_at(where: st.SearchStrategy[float]) -> st.SearchStrategy[Box]:
    """Return boxes of which the corner that is named lies at such places."""
    return st.builds(
        lambda angle, x, y, w, d, bottom, h: Box(
            turned(angle, x, y), w, d, bottom, bottom + h
        ),
        turns,
        *(where, where),
        *(sizes, sizes),
        *(where, sizes),
    )


boxes = boxes_at(places)
# With a corner within a metre of the origin, each way.
reaching = boxes_at(st.floats(-0.9, 0.9).map(lambda value: round(value, 4)))


@pytest.mark.long
@given(one=boxes, other=boxes)
def test_what_is_drawn_is_what_is_judged(one: Box, other: Box) -> None:
    (size, points, faces), (drawn, vertices, triangles) = (
        ask(one.mesh, other.mesh) for ask in (boolean, drawn_boolean)
    )
    assert drawn == size
    assert np.array_equal(vertices, points)
    assert np.array_equal(triangles, faces)


@pytest.mark.long
@given(box=reaching, curved=st.booleans(), meshed=st.booleans())
def test_a_body_tells_the_same_drawn_and_judged(
    box: Box, *, curved: bool, meshed: bool
) -> None:
    solid: Solid = Mesh(*box.mesh, sound=True) if meshed else box
    space = Column.box((-1.0, -1.0, -1.0), (1.0, 1.0, 1.0))
    drawn, judged = (Body(AT_HOME, space, solid, curved) for _ in range(2))
    volume, bounds = judged.volume, (judged.low, judged.high)
    assert drawn.drawn_volume == volume
    assert drawn.drawn_bounds == bounds
    assert "_made" not in drawn.__dict__
    assert judged.drawn_volume == volume
    assert np.array_equal(drawn.vertices, judged.vertices)
    assert np.array_equal(drawn.faces, judged.faces)


def test_what_is_open_is_drawn_as_it_is_cut() -> None:
    box = Box(AT_HOME, 1.0, 1.0, 0.0, 1.0)
    points, faces = box.mesh
    sheet = Mesh(points, faces[:-2])
    space = Column.box((-0.5, -0.5, -0.5), (0.5, 0.5, 0.5))
    body = Body(AT_HOME, space, sheet)
    assert body.drawn_volume is None
    assert body.drawn_bounds == (body.low, body.high)
    assert body.vertices.max(axis=0) == pytest.approx([0.5, 0.5, 0.5])
