"""Volumes by trimesh against closed forms of solid geometry.

Source of the forms: elementary geometry (prism, cylinder, circular sector and segment,
regular polygon; two equal squares turned by 45 degrees share a regular octagon).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from model3d.geometry.bodies.shapes import prism, rod, round_section
from model3d.geometry.bodies.solid import Box, Mesh, volume
from model3d.geometry.frame import Frame
from model3d.geometry.overlap.shared import intersection
from model3d.geometry.plan.outline import wall_body
from model3d.geometry.sweep import Sweep

EXACT = 1e-9
"""Relative, for flat-faced bodies: the rounding of double precision."""
SINGLE = 1e-7
"""Relative to a metre: the engine of trimesh's intersections has single precision."""
ROUND = 2e-4
"""Relative, for a part of a many-sided round; the whole has the area of the circle."""
BEARINGS = (0.0, 30.0, 45.0, 90.0, 137.5, 180.0, 270.0, 359.0)


def fan(count: int) -> np.ndarray:
    here = np.arange(1, count - 1)
    return np.column_stack([np.zeros_like(here), here, here + 1])


@pytest.mark.parametrize("bearing", BEARINGS)
def test_a_turned_box(bearing: float) -> None:
    box = Box(Frame.facing(3.0, -2.0, bearing), 0.6, 0.25, 0.4, 2.1)
    assert volume(box) == pytest.approx(0.6 * 0.25 * 1.7, rel=EXACT)
    assert volume(Mesh(*box.mesh)) > 0
    assert Mesh(*box.mesh).closed


@pytest.mark.parametrize("count", [3, 4, 5, 8, 60])
def test_a_prism_over_a_regular_polygon(count: int) -> None:
    angles = 2 * math.pi * np.arange(count) / count
    outline = 0.7 * np.column_stack([np.cos(angles), np.sin(angles)])
    body = prism(outline, 0.2, 1.7, fan(count))
    area = count / 2 * 0.7**2 * math.sin(2 * math.pi / count)
    assert volume(body) == pytest.approx(area * 1.5, rel=EXACT)
    assert Mesh(*body.mesh).closed


def walls_volume(outline: list[tuple[float, float]], thickness: float) -> float:
    bodies = [
        wall_body(outline, side, thickness, 0.0, 3.0) for side in range(len(outline))
    ]
    assert all(Mesh(*body.mesh).closed for body in bodies)
    return sum(volume(body) for body in bodies)


def perimeter(outline: list[tuple[float, float]]) -> float:
    return sum(
        math.dist(a, b)
        for a, b in zip(outline, [*outline[1:], outline[0]], strict=True)
    )


def turned(
    outline: list[tuple[float, float]], degrees: float
) -> list[tuple[float, float]]:
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return [(x * cosine - y * sine, x * sine + y * cosine) for x, y in outline]


L_ROOM = [(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (2.5, 3.0), (2.5, 7.0), (0.0, 7.0)]
U_ROOM = [
    *((0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (6.0, 6.0)),
    *((6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)),
]


@pytest.mark.parametrize("degrees", [0.0, 37.0])
@pytest.mark.parametrize("outline", [L_ROOM, U_ROOM])
def test_mitred_walls_around_rooms_with_right_angles(
    outline: list[tuple[float, float]], degrees: float
) -> None:
    # A strip along every side, a square more at every corner that points outwards and
    # one less at every one that points inwards: always four more than less.
    thickness = 0.3
    area = perimeter(outline) * thickness + 4 * thickness**2
    found = walls_volume(turned(outline, degrees), thickness)
    assert found == pytest.approx(area * 3.0, rel=EXACT)


def test_mitred_walls_around_a_hexagon() -> None:
    # The walls fill the ring between two regular hexagons, whose inner radii are r and
    # r + t: 2 sqrt(3) ((r + t)^2 - r^2).
    angles = math.pi / 3 * np.arange(6)
    outline = [(2 * math.cos(a), 2 * math.sin(a)) for a in angles]
    inner = math.sqrt(3)
    ring = 2 * math.sqrt(3) * ((inner + 0.5) ** 2 - inner**2)
    assert walls_volume(outline, 0.5) == pytest.approx(ring * 3.0, rel=EXACT)


@pytest.mark.parametrize(
    "end", [(4.0, 0.0, 1.0), (0.0, 0.0, 4.0), (0.0, 3.0, -2.0), (1.0, -2.0, 2.5)]
)
def test_runs_in_any_direction(end: tuple[float, float, float]) -> None:
    start = (0.5, 0.25, 1.0)
    length = math.dist(start, end)
    pipe = rod(start, end, round_section(0.114))
    assert volume(pipe) == pytest.approx(math.pi * 0.057**2 * length, rel=EXACT)
    signs = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])
    duct = rod(start, end, signs * (0.2, 0.15))
    assert volume(duct) == pytest.approx(0.4 * 0.3 * length, rel=EXACT)
    assert Mesh(*pipe.mesh).closed
    assert Mesh(*duct.mesh).closed


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("radius", [0.05, 0.5, 1.2])
@pytest.mark.parametrize("mirrored", [False, True])
def test_what_a_door_sweeps(bearing: float, radius: float, *, mirrored: bool) -> None:
    frame = Frame.facing(1.0, 2.0, bearing)
    leaf = Sweep(frame.mirrored() if mirrored else frame, radius, 0.3, 2.2)
    sector = math.pi / 4 * radius**2 * 1.9
    assert volume(leaf.mesh()) == pytest.approx(sector, rel=EXACT)
    assert Mesh(*leaf.mesh().mesh).closed


@pytest.mark.parametrize("bearing", BEARINGS)
def test_a_pipe_runs_through_a_box(bearing: float) -> None:
    frame = Frame.facing(5.0, 3.0, bearing)
    pipe = along(frame, out=0.5, up=1.0, diameter=0.2)
    body = intersection(frame, (0.0, 0.0, 0.0), (0.8, 1.0, 2.0), pipe)
    assert body.volume == pytest.approx(math.pi * 0.1**2 * 0.8, rel=1e-6)


@pytest.mark.parametrize("bearing", BEARINGS)
def test_a_pipe_runs_half_inside_a_box(bearing: float) -> None:
    frame = Frame.facing(5.0, 3.0, bearing)
    pipe = along(frame, out=0.5, up=2.0, diameter=0.2)
    body = intersection(frame, (0.0, 0.0, 0.0), (0.8, 1.0, 2.0), pipe)
    assert body.volume == pytest.approx(math.pi * 0.1**2 * 0.8 / 2, rel=1e-6)


@pytest.mark.parametrize("inside", [0.01, 0.03, 0.07])
def test_a_pipe_dips_into_a_box(inside: float) -> None:
    # A circular segment: r^2 acos(d / r) - d sqrt(r^2 - d^2), d from middle to chord.
    frame = Frame.facing(0.0, 0.0, 30.0)
    pipe = along(frame, out=0.5, up=2.1 - inside, diameter=0.2)
    body = intersection(frame, (0.0, 0.0, 0.0), (0.8, 1.0, 2.0), pipe)
    away = 0.1 - inside
    segment = 0.1**2 * math.acos(away / 0.1) - away * math.sqrt(0.1**2 - away**2)
    assert body.volume == pytest.approx(segment * 0.8, rel=10 * ROUND)
    assert body.low[2] == pytest.approx(2.0 - inside, abs=1e-5)
    assert body.high[2] == 2.0


def along(frame: Frame, *, out: float, up: float, diameter: float) -> Mesh:
    """Return a pipe that runs across in front of a frame."""
    (ax, ay), (bx, by) = frame.to_plan(-3.0, out), frame.to_plan(3.0, out)
    return rod((ax, ay, up), (bx, by, up), round_section(diameter))


@pytest.mark.parametrize("corner", [0.001, 0.05, 0.4])
def test_a_corner_of_a_box_turned_by_45_degrees(corner: float) -> None:
    # The corner is a right angle: inside by e it shares e^2.
    frame = Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0))
    half = 1.0 / math.sqrt(2)
    middle = 2.0 + half - corner
    turned_frame = Frame.facing(1.5, middle, 45.0)
    box = Box(turned_frame.moved(-0.5, -0.5), 1.0, 1.0, 0.5, 5.0)
    body = intersection(frame, (0.0, 0.0, 0.0), (3.0, 2.0, 1.5), box)
    assert body.volume == pytest.approx(corner**2 * 1.0, abs=4 * corner * SINGLE)
    assert body.low == pytest.approx((1.5 - corner, 2.0 - corner, 0.5), abs=1e-9)
    assert body.high == pytest.approx((1.5 + corner, 2.0, 1.5), abs=1e-9)


@pytest.mark.parametrize("bearing", [0.0, 10.0, 60.0])
def test_two_equal_boxes_turned_by_45_degrees_share_an_octagon(bearing: float) -> None:
    frame = Frame.facing(10.0, 20.0, bearing)
    turned_frame = Frame.facing(10.0, 20.0, bearing + 45.0)
    box = Box(turned_frame.moved(-0.5, -0.5), 1.0, 1.0, 0.0, 2.0)
    body = intersection(frame, (-0.5, -0.5, 0.0), (0.5, 0.5, 3.0), box)
    assert body.volume == pytest.approx(2 * (math.sqrt(2) - 1) * 2.0, rel=SINGLE)


def test_a_door_sector_and_a_box() -> None:
    # From 200 to 350 across and from 300 ahead up to the arc of 500:
    # the area below the arc by its integral, less the rectangle before it.
    leaf = Sweep(Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0)), 0.5, 0.0, 2.0)
    box = Box(Frame(0.2, 0.3, (1.0, 0.0), (0.0, 1.0)), 0.15, 0.4, 0.5, 1.5)

    def under_arc(x: float) -> float:
        return (x * math.sqrt(0.25 - x * x) + 0.25 * math.asin(x / 0.5)) / 2

    area = under_arc(0.35) - under_arc(0.2) - 0.15 * 0.3
    body = leaf.body(box)
    assert body.volume == pytest.approx(area * 1.0, rel=ROUND)
    assert body.low == pytest.approx((0.2, 0.3, 0.5), abs=SINGLE)
    assert body.high == pytest.approx((0.35, math.sqrt(0.21), 1.5), abs=5e-5)
