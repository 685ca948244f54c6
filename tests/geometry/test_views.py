"""Extents, shadows and shared bodies against points drawn at random.

Whether a point is inside a solid is told by the solid's own formula: distances from a
turned rectangle's axes, or from a run's middle line.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d.geometry.bodies.extents import BoxView, reaching
from model3d.geometry.bodies.shapes import prism, rod, round_section
from model3d.geometry.bodies.solid import Box, Mesh, Solid
from model3d.geometry.bodies.triangle_view import TriangleView
from model3d.geometry.frame import Frame
from model3d.geometry.overlap.shared import intersection

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Holds = Callable[[Points], NDArray[np.bool_]]

LOW, HIGH = (-0.6, 0.0, 0.0), (0.7, 0.9, 2.0)
SEEN = Frame.facing(0.3, -0.2, 200.0)
DRAWN = 4000


def turned_box(draw: np.random.Generator) -> tuple[Solid, Holds]:
    at = SEEN.to_plan(*draw.uniform((-1.0, -0.3), (1.0, 1.3)))
    width, depth, height = draw.uniform(0.1, 1.2, 3)
    bottom = float(draw.uniform(-0.5, 1.8))
    frame = Frame.facing(*at, float(draw.uniform(0, 360)))

    def holds(points: Points) -> NDArray[np.bool_]:
        away = points[:, :2] - (frame.x, frame.y)
        u, v = away @ np.array(frame.right), away @ np.array(frame.out)
        level = (points[:, 2] > bottom) & (points[:, 2] < bottom + height)
        inside: NDArray[np.bool_] = (
            (u > 0) & (u < width) & (v > 0) & (v < depth) & level
        )
        return inside

    return Box(frame, width, depth, bottom, bottom + height), holds


def run(draw: np.random.Generator) -> tuple[Solid, Holds]:
    plan = SEEN.to_plan(*draw.uniform((-1.0, -0.3), (1.0, 1.3)))
    start = np.array([*plan, draw.uniform(0, 2)])
    end = start + draw.normal(size=3)
    diameter = float(draw.uniform(0.05, 0.5))
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length

    def holds(points: Points) -> NDArray[np.bool_]:
        away = points - start
        far = away @ along
        off = np.linalg.norm(away - far[:, None] * along, axis=1)
        inside: NDArray[np.bool_] = (off < diameter / 2) & (far > 0) & (far < length)
        return inside

    a, b = (tuple(float(x) for x in p) for p in (start, end))
    return rod((a[0], a[1], a[2]), (b[0], b[1], b[2]), round_section(diameter)), holds


def solid_and_share(number: int) -> tuple[Solid, Points]:
    """Return a solid, and those of many points in the box that are inside it."""
    draw = np.random.default_rng(50 + number)
    solid, holds = (turned_box if number % 2 else run)(draw)
    points = draw.uniform(LOW, HIGH, (DRAWN, 3))
    return solid, points[holds(SEEN.world(points))]


NUMBERS = range(30)


@pytest.mark.parametrize("number", NUMBERS)
def test_extents_hold_every_point_of_the_share(number: int) -> None:
    solid, shared = solid_and_share(number)
    extents = solid.seen_from(SEEN).extents(LOW, HIGH)
    if extents is None:
        assert not len(shared)
        return
    low, high = np.array(extents)
    assert (low >= np.array(LOW) - 1e-12).all()
    assert (high <= np.array(HIGH) + 1e-12).all()
    if len(shared):
        assert (shared >= low - 1e-4).all()
        assert (shared <= high + 1e-4).all()
    if len(shared) > 200:
        # So many points come near every end of what they lie in.
        assert shared.min(axis=0) == pytest.approx(low, abs=0.25)
        assert shared.max(axis=0) == pytest.approx(high, abs=0.25)


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("axis", [0, 1, 2])
def test_a_shadow_covers_every_point_of_the_share(number: int, axis: int) -> None:
    solid, shared = solid_and_share(number)
    view = solid.seen_from(SEEN)
    shadow = view.shadow(LOW, HIGH, axis)
    for place in shared[:, axis]:
        assert any(low - 1e-4 <= place <= high + 1e-4 for low, high in shadow)
    extents = view.extents(LOW, HIGH)
    assert (extents is None) == (not shadow)
    if extents is not None:
        assert shadow[0][0] == pytest.approx(extents[0][axis])
        assert shadow[-1][1] == pytest.approx(extents[1][axis])


@pytest.mark.parametrize("number", NUMBERS)
def test_shared_bodies_are_as_large_as_the_points_say(number: int) -> None:
    solid, shared = solid_and_share(number)
    if reaching(solid.seen_from(SEEN), LOW, HIGH) is None:
        return
    whole = float(np.prod(np.array(HIGH) - np.array(LOW)))
    share = len(shared) / DRAWN
    body = intersection(SEEN, LOW, HIGH, solid)
    # Five times the standard deviation of a drawn share, and a point more.
    error = 5 * (share * (1 - share) / DRAWN) ** 0.5 + 2 / DRAWN
    assert body.volume == pytest.approx(share * whole, abs=error * whole)
    assert body.volume is not None
    assert body.volume > 0


@pytest.mark.parametrize("number", NUMBERS)
def test_points_a_body_holds(number: int) -> None:
    draw = np.random.default_rng(50 + number)
    solid, holds = (turned_box if number % 2 else run)(draw)
    points = draw.uniform(LOW, HIGH, (150, 3))
    view = solid.seen_from(SEEN)
    assert isinstance(view, TriangleView)
    assert (view.holds(points) == holds(SEEN.world(points))).mean() > 0.99


def test_the_shadow_of_a_bent_body_has_a_gap() -> None:
    # An open square bracket in plan: two arms towards the front, a back behind.
    outline = np.array(
        [(0, 0), (3, 0), (3, 2), (2, 2), (2, 1), (1, 1), (1, 2), (0, 2)], float
    )
    triangles = np.array(
        [(0, 1, 4), (0, 4, 5), (1, 2, 3), (1, 3, 4), (0, 5, 6), (0, 6, 7)]
    )
    body = prism(outline, 0.0, 1.0, triangles)
    assert Mesh(*body.mesh).closed
    view = body.seen_from(Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0)))
    arms = view.shadow((-1.0, 1.2, 0.2), (4.0, 1.8, 0.8))
    assert np.array(arms) == pytest.approx(np.array([(0.0, 1.0), (2.0, 3.0)]))
    back = view.shadow((-1.0, 0.2, 0.2), (4.0, 1.8, 0.8))
    assert np.array(back) == pytest.approx(np.array([(0.0, 3.0)]))


def test_a_body_that_holds_a_whole_box_fills_it() -> None:
    # No face of the body comes near the box: only its corners, held, tell.
    big = Box(Frame.facing(-20.0, -20.0, 33.0).moved(-50.0, -50.0), 100, 100, -9, 9)
    view = big.seen_from(SEEN)
    assert view.extents(LOW, HIGH) == (LOW, HIGH)
    assert view.shadow(LOW, HIGH) == [(LOW[0], HIGH[0])]
    assert reaching(view, LOW, HIGH) == (LOW, HIGH)


@pytest.mark.parametrize("quarter", [0.0, 90.0, 180.0, 270.0])
def test_a_box_and_its_mesh_look_alike(quarter: float) -> None:
    at = SEEN.to_plan(0.1, 0.4)
    box = Box(Frame.facing(*at, 200.0 + quarter), 0.4, 0.3, 0.5, 1.1)
    one, other = box.seen_from(SEEN), Mesh(*box.mesh).seen_from(SEEN)
    assert isinstance(one, BoxView)
    assert isinstance(other, TriangleView)
    found, expected = one.extents(LOW, HIGH), other.extents(LOW, HIGH)
    assert found is not None
    assert expected is not None
    assert np.array(found) == pytest.approx(np.array(expected), abs=1e-12)
    for axis in range(3):
        assert np.array(one.shadow(LOW, HIGH, axis)) == pytest.approx(
            np.array(other.shadow(LOW, HIGH, axis)), abs=1e-12
        )
    for low, high in ((LOW, HIGH), ((-9.0,) * 3, (9.0,) * 3)):
        bounds = [
            (view.points(low, high).min(axis=0), view.points(low, high).max(axis=0))
            for view in (one, other)
        ]
        assert np.array(bounds[0]) == pytest.approx(np.array(bounds[1]), abs=1e-12)
