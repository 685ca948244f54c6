"""The way out on random rooms: exact polygons against a fine grid.

Source: a second method, written apart: a grid of points 10 mm apart, a distance
transform and flood filling (scipy.ndimage). Both must agree except within the grid's
own error.
"""

from __future__ import annotations

import itertools
import math
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import Scene, check
from tests.independent.plans import (
    CELL,
    HIGHER,
    LOWER,
    WIDE,
    Grid,
    Plan,
    Rectangle,
    facing,
    random_plan,
    scene_of,
)

if TYPE_CHECKING:
    from model3d.judging.results import Judgement

pytestmark = pytest.mark.many

ROOMS = (*range(31), 39)
WIDTH = 610.0
TOUCHING = 0.13
"""Millimetres. Contact of 0.1 is clear, and rounds are many-sided by 0.02."""


@cache
def judged(seed: int) -> Judgement:
    scene = Scene.model_validate(scene_of(random_plan(seed)))
    (found,) = check(scene).of("MSB", "entrance")
    return found


@cache
def grid(seed: int) -> Grid:
    return Grid(random_plan(seed))


@cache
def widest_on_grid(seed: int) -> float:
    return grid(seed).widest()


@pytest.mark.parametrize("seed", ROOMS)
def test_verdict_is_that_of_the_grid(seed: int) -> None:
    widest, verdict = widest_on_grid(seed), judged(seed).verdict
    if widest > WIDTH + LOWER:
        assert verdict == "met"
    elif widest < WIDTH - HIGHER:
        assert verdict != "met"
    if widest > 200 + LOWER:
        assert verdict != "not-met"
    elif widest < 200 - HIGHER:
        assert verdict == "not-met"


@pytest.mark.parametrize("seed", ROOMS)
def test_width_is_that_of_the_grid(seed: int) -> None:
    found = judged(seed)
    if found.way is None:
        return
    widest, narrowest = widest_on_grid(seed), found.way.narrowest * 1000
    assert narrowest <= widest + HIGHER
    if found.verdict == "open":
        assert narrowest >= widest - LOWER
        assert found.provided["width"] * 1000 == pytest.approx(narrowest)


@pytest.mark.parametrize("seed", ROOMS)
def test_somebody_can_go_the_way_that_is_drawn(seed: int) -> None:
    found, plan = judged(seed), random_plan(seed)
    if found.way is None:
        return
    points = np.array(found.way.points) * 1000
    width = drawn_width(found.way.narrowest * 1000)
    along = np.concatenate(
        [np.linspace(a, b, 400) for a, b in itertools.pairwise(points)]
    )
    for box in (plan.body, *plan.boxes):
        assert box.away(along).min() >= width / 2 - TOUCHING
    assert wall_clearance(plan, along).min() >= width / 2 - TOUCHING
    assert plan.space.away(points[0]) <= 0.01
    door = plan.doors[int(found.way.door[1:])]
    beyond = plan.passage(door, 2 * door[2])
    assert beyond.away(points[-1]) <= 0.01


def drawn_width(narrowest: float) -> float:
    """Return how wide somebody is whose way is drawn: of narrow ways a slender one."""
    if narrowest >= WIDTH - 0.2:
        return WIDTH
    return max(w for w in (450, 300, 200, 100, 50, 20, 9) if w < narrowest)


def wall_clearance(plan: Plan, points: np.ndarray) -> np.ndarray:
    """Return how far points are from the walls beside the doors."""
    least = np.full(len(points), math.inf)
    for side, start in enumerate(plan.outline):
        end = plan.outline[(side + 1) % len(plan.outline)]
        a, b = np.array(end), np.array(start)
        length = math.dist(a, b)
        holes = sorted((s, w) for n, s, w in plan.doors if n == side)
        here = 0.0
        for left, width in [*holes, (length, 0.0)]:
            if left > here:
                one = a + (b - a) * here / length
                other = a + (b - a) * left / length
                least = np.minimum(least, segment_distance(points, one, other))
            here = max(here, left + width)
    return least


def segment_distance(points: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    step = b - a
    t = np.clip(((points - a) @ step) / (step @ step), 0, 1)
    distance: np.ndarray = np.linalg.norm(points - a - t[:, None] * step, axis=1)
    return distance


def test_the_rooms_are_of_every_kind() -> None:
    verdicts = [judged(seed).verdict for seed in ROOMS]
    assert verdicts.count("met") >= 10
    assert verdicts.count("open") >= 5
    assert verdicts.count("not-met") >= 2


@pytest.mark.parametrize("seed", ROOMS)
def test_open_doors_shut_in_whom_the_grid_shuts_in(seed: int) -> None:
    plan = random_plan(seed)
    before = grid(seed)
    x, y, bearing = plan.gear
    dx, dy = facing(bearing)
    # Hinged on the left, seen from the front: the leaf stands out from that end.
    left = (x + dy * WIDE / 2, y - dx * WIDE / 2)
    # A little thicker than the grid is fine, so that it shows on the grid.
    leaf = Rectangle(
        left[0] + dx * WIDE / 2, left[1] + dy * WIDE / 2, 1.2 * CELL, WIDE, bearing
    )
    after = Grid(plan, (leaf,))
    answers = set()
    for width in np.linspace(WIDTH - HIGHER - 8, WIDTH + LOWER + 12, 12).tolist():
        had = before.leads_out(width) & before.standing
        left_over = (after.clear >= width / 2) & had
        lost = left_over & ~after.leads_out(width)
        answers.add((bool(had.any()), bool(lost.any() or not left_over.any())))
    if len(answers) > 1:
        return
    ((had_way, shut_in),) = answers
    leaves = [{"hinge": "left", "width": WIDE, "height": 2000}]
    scene = scene_of(plan, door=None, doors=leaves) | {"rules": "nec-2023"}
    (found,) = check(Scene.model_validate(scene)).of("MSB", "entrance")
    if had_way:
        assert found.verdict == ("not-met" if shut_in else "met"), found.reason
