"""What of a body is in somebody's way.

Source: areas by plain geometry; a body's shadow between two heights is what a person of
that height meets.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from model3d.geometry.bodies.shapes import prism, rod, round_section
from model3d.geometry.bodies.solid import Box, Mesh
from model3d.geometry.frame import Frame
from model3d.geometry.plan.footprint import footprint

STEP, HEAD = 0.178, 2.0
ELL = np.array([(0, 0), (3, 0), (3, 1), (1, 1), (1, 2), (0, 2)], dtype=np.float64)
ELL_TRIANGLES = np.array([(0, 1, 2), (0, 2, 3), (0, 3, 4), (0, 4, 5)])


def upright(bottom: float, top: float) -> Box:
    return Box(Frame.facing(1.0, 2.0, 30.0), 0.5, 0.4, bottom, top)


@pytest.mark.parametrize(
    ("bottom", "top", "area"),
    [
        (0.0, 1.0, 0.2),
        (0.0, STEP, 0.0),
        (0.0, STEP + 0.00005, 0.0),
        (0.0, STEP + 0.001, 0.2),
        (HEAD, 3.0, 0.0),
        (HEAD - 0.00005, 3.0, 0.0),
        (HEAD - 0.001, 3.0, 0.2),
        (-1.0, 5.0, 0.2),
    ],
)
def test_a_box_counts_between_the_heights(
    bottom: float, top: float, area: float
) -> None:
    assert footprint(upright(bottom, top), STEP, HEAD).area == pytest.approx(area)


def test_a_sloping_run_counts_as_far_as_it_is_between_the_heights() -> None:
    # 45 degrees: it is between the heights over as much length as they are apart.
    run = rod((0.0, 0.0, 0.0), (4.0, 0.0, 4.0), round_section(0.1))
    found = footprint(run, STEP, HEAD, convex=True)
    west, south, east, north = found.bounds
    past = 0.05 * math.sqrt(2)
    assert (west, east) == pytest.approx((STEP - past, HEAD + past), abs=3e-4)
    assert north - south == pytest.approx(0.1, abs=1e-4)


@pytest.mark.parametrize(("bottom", "top"), [(0.0, 1.0), (0.5, 0.7), (-1.0, 9.0)])
def test_a_closed_mesh_keeps_its_hollow(bottom: float, top: float) -> None:
    body = prism(ELL, bottom, top, ELL_TRIANGLES)
    assert footprint(body, STEP, HEAD).area == pytest.approx(4.0, abs=1e-3)


def test_a_closed_mesh_out_of_reach_counts_for_nothing() -> None:
    body = prism(ELL, 2.5, 3.0, ELL_TRIANGLES)
    assert footprint(body, STEP, HEAD).is_empty


def test_a_ring_leaves_its_middle_free() -> None:
    # A square tube that stands: 2 m outside, 1 m inside.
    outer = [(0, 0), (2, 0), (2, 2), (0, 2)]
    inner = [(0.5, 0.5), (1.5, 0.5), (1.5, 1.5), (0.5, 1.5)]
    plan = np.array(outer + inner, dtype=np.float64)
    low = np.column_stack([plan, np.full(8, -1.0)])
    high = np.column_stack([plan, np.full(8, 5.0)])
    faces = []
    for n in range(4):
        m = (n + 1) % 4
        faces += [(n, m, m + 8), (n, m + 8, n + 8)]
        faces += [(n + 4, m + 12, m + 4), (n + 4, n + 12, m + 12)]
        faces += [(n, n + 4, m + 4), (n, m + 4, m)]
        faces += [(n + 8, m + 12, n + 12), (n + 8, m + 8, m + 12)]
    tube = Mesh(np.concatenate([low, high]), np.array(faces))
    assert tube.closed
    assert footprint(tube, STEP, HEAD).area == pytest.approx(3.0, abs=1e-3)


def test_an_open_sheet_is_as_wide_as_contact() -> None:
    corners = np.array([(0, 0, 0), (2, 0, 0), (2, 0, 3), (0, 0, 3)], dtype=np.float64)
    sheet = Mesh(corners, np.array([(0, 1, 2), (0, 2, 3)]))
    found = footprint(sheet, STEP, HEAD)
    west, south, east, north = found.bounds
    assert (west, east) == pytest.approx((0.0, 2.0), abs=2e-4)
    assert north - south == pytest.approx(2e-4, abs=1e-5)


def test_an_open_sheet_that_lies_flat_in_the_way_counts_whole() -> None:
    corners = np.array([(0, 0, 1), (2, 0, 1), (2, 1, 1), (0, 1, 1)], dtype=np.float64)
    sheet = Mesh(corners, np.array([(0, 1, 2), (0, 2, 3)]))
    assert footprint(sheet, STEP, HEAD).area == pytest.approx(2.0, abs=1e-3)
