"""Plans of rooms against shapely's areas and against simple rooms."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely

from model3d.geometry.bodies.solid import Mesh, volume
from model3d.geometry.frame import Frame
from model3d.geometry.plan.outline import covers, is_convex, reach_inside, wall_body

SQUARE = [(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0)]
TRIANGLE = [(0.0, 0.0), (6.0, 0.0), (2.0, 5.0)]
L_ROOM = [(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (2.5, 3.0), (2.5, 7.0), (0.0, 7.0)]
U_ROOM = [
    *((0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (6.0, 6.0)),
    *((6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)),
]
NARROW_U = [
    *((0.0, 0.0), (5.0, 0.0), (5.0, 6.0), (3.0, 6.0)),
    *((3.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)),
]
BENT = [(0.0, 0.0), (4.0, -1.0), (7.0, 1.0), (6.0, 4.0), (3.0, 2.0), (1.0, 5.0)]
ROOMS = [SQUARE, TRIANGLE, L_ROOM, U_ROOM, NARROW_U, BENT]

Outline = list[tuple[float, float]]


def turned(outline: Outline, degrees: float) -> Outline:
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return [(x * cosine - y * sine, x * sine + y * cosine) for x, y in outline]


def plan_of(body: Mesh) -> shapely.Geometry:
    """Return the plan of an upright body: the union of its faces seen from above."""
    corners = body.vertices[body.faces][:, :, :2]
    flat = [shapely.Polygon(c) for c in corners]
    return shapely.union_all([one for one in flat if one.area > 0], grid_size=1e-9)


@pytest.mark.parametrize("degrees", [0.0, 12.5, 90.0, 211.0])
@pytest.mark.parametrize("thickness", [0.2, 1.0, 4.0])
@pytest.mark.parametrize("outline", ROOMS)
def test_walls_stand_outside_along_their_whole_face(
    outline: Outline, thickness: float, degrees: float
) -> None:
    outline = turned(outline, degrees)
    room = shapely.Polygon(outline)
    ends = [*outline[1:], outline[0]]
    for side, (a, b) in enumerate(zip(outline, ends, strict=True)):
        body = wall_body(outline, side, thickness, -0.5, 3.0)
        assert Mesh(*body.mesh).closed
        plan = plan_of(body)
        assert volume(body) == pytest.approx(plan.area * 3.5, rel=1e-6)
        assert plan.intersection(room).area == pytest.approx(0.0, abs=1e-6)
        face = shapely.LineString([a, b])
        assert (
            plan.boundary.intersection(face.buffer(1e-6)).length >= face.length - 1e-3
        )
        assert plan.distance(face) == pytest.approx(0.0, abs=1e-9)
        # Right behind the middle of the face there is wall.
        out = ((b[1] - a[1]) / face.length, (a[0] - b[0]) / face.length)
        middle = face.interpolate(0.5, normalized=True)
        behind = shapely.Point(middle.x + 0.05 * out[0], middle.y + 0.05 * out[1])
        assert plan.covers(behind)


@pytest.mark.parametrize("outline", ROOMS)
def test_there_is_wall_all_around(outline: Outline) -> None:
    room = shapely.Polygon(outline)
    bodies = [wall_body(outline, side, 0.3, 0.0, 3.0) for side in range(len(outline))]
    walls = shapely.union_all([plan_of(body) for body in bodies], grid_size=1e-9)
    ring = room.buffer(0.1, join_style="mitre").difference(room)
    assert ring.difference(walls).area == pytest.approx(0.0, abs=1e-6)


def test_short_walls_between_two_inner_corners_meet_behind() -> None:
    # The notch of NARROW_U is 1 wide: its end wall is a triangle of half that depth.
    end = wall_body(NARROW_U, 4, 4.0, 0.0, 1.0)
    assert volume(end) == pytest.approx(0.5 * 1.0 * 0.5)


def test_convex_and_other_outlines() -> None:
    assert [is_convex(room) for room in ROOMS] == [True, True, *[False] * 4]
    # A corner in the middle of a straight side turns nowhere.
    assert is_convex([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)])


@pytest.mark.parametrize("degrees", [0.0, 30.0, 180.0])
def test_how_far_a_room_goes_on(degrees: float) -> None:
    # From the west wall of the U eastwards: the arm is 2 wide, the base 8.
    outline = turned(U_ROOM, degrees)
    bearing = 90.0 - degrees

    def reach(y: float, left: float, right: float) -> float:
        (at,) = turned([(0.0, y)], degrees)
        return reach_inside(outline, Frame.facing(*at, bearing), left, right)

    assert reach(4.0, -0.5, 0.5) == pytest.approx(2.0)
    assert reach(1.0, -0.5, 0.5) == pytest.approx(8.0)
    # Across the inner corner the part that goes on counts.
    assert reach(2.0, -0.5, 0.5) == pytest.approx(8.0)
    assert reach(20.0, -0.5, 0.5) == 0.0


def test_what_platforms_cover() -> None:
    area = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)]
    left = [(-1.0, -1.0), (1.0, -1.0), (1.0, 2.0), (-1.0, 2.0)]
    right = [(1.0, -1.0), (3.0, -1.0), (3.0, 2.0), (1.0, 2.0)]
    short = [(1.0, -1.0), (1.99, -1.0), (1.99, 2.0), (1.0, 2.0)]
    assert covers([left, right], area)
    assert not covers([left], area)
    assert not covers([left, short], area)
    for one, other in itertools.permutations([left, right]):
        assert covers([one, other], area)
