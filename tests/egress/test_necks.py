"""Necks found by what changes against necks found from the beginning."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene
from model3d.check import situate
from model3d.egress.doors.exits import WIDEST
from model3d.egress.ground.floor import Floor
from model3d.egress.ground.necks import bare as searched
from model3d.egress.ground.necks.necks import necks_among
from model3d.egress.ground.pockets import pockets
from model3d.egress.ways import ways_of
from model3d.geometry.plan import flat
from model3d.geometry.tolerance import TOUCH
from tests.fuzz.rooms import room

if TYPE_CHECKING:
    from random import Random

    from model3d.egress.doors.open_leaves import LeafAjar
    from model3d.egress.ground.necks.necks import Necks

ROOM = flat.box(0.0, 0.0, 9.0, 7.0)
WALLS = tuple(
    (f"wall-{number}", flat.LineString(ends))
    for number, ends in enumerate(
        (
            ((0, 0), (4, 0)),
            ((5, 0), (9, 0)),
            ((9, 0), (9, 7)),
            ((9, 7), (0, 7)),
            ((0, 7), (0, 0)),
        )
    )
)


def whole(low: int, high: int, step: float) -> st.SearchStrategy[float]:
    return st.integers(low, high).map(lambda number: number * step)


@st.composite
def boxes(draw: st.DrawFn) -> tuple[str, flat.Geometry]:
    # Coarse steps, so that very many necks are just as narrow, and much touches.
    x, y = draw(whole(0, 17, 0.5)), draw(whole(0, 13, 0.5))
    wide, deep = draw(whole(1, 4, 0.25)), draw(whole(1, 4, 0.25))
    round_one = draw(st.integers(0, 5)) == 0
    plan = flat.box(x, y, x + wide, y + deep)
    return "B", flat.Point(x, y).buffer(wide) if round_one else plan


def same(one: Necks, other: Necks) -> bool:
    return (
        one.bodies == other.bodies
        and np.array_equal(one.pairs, other.pairs)
        and np.array_equal(one.lines, other.lines)
        and np.array_equal(one.widths, other.widths)
    )


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(st.lists(boxes(), max_size=14), st.lists(st.lists(boxes(), max_size=3)))
def test_what_is_added_changes_necks_as_if_all_were_searched(
    first: list[tuple[str, flat.Geometry]], more: list[list[tuple[str, flat.Geometry]]]
) -> None:
    floor = Floor(ROOM, (), WALLS, tuple(first))
    for added in more[:4]:
        floor = floor.with_obstacles(added)
        _, shapes, tree = floor.features
        assert same(floor.necks, necks_among(shapes, tree, WIDEST))


def test_a_leaf_in_the_middle_of_a_neck_takes_it_away() -> None:
    floor = Floor(ROOM, (), WALLS, (("A", flat.box(2, 2.5, 3, 3.5)),))
    added = floor.with_obstacles([("leaf", flat.box(1.4, 2.5, 1.6, 3.5))])
    assert 2.0 in floor.necks.widths.round(6)
    assert 2.0 not in added.necks.widths[(added.necks.pairs == 0).any(axis=1)].round(6)
    assert 1.4 in added.necks.widths.round(6)


@pytest.mark.long
@settings(max_examples=30, deadline=None)
@given(st.lists(boxes(), min_size=2, max_size=25))
def test_looking_at_corners_first_leaves_out_nothing(
    standing: list[tuple[str, flat.Geometry]],
) -> None:
    _, shapes, tree = Floor(ROOM, (), WALLS, tuple(standing)).features
    quick = necks_among(shapes, tree, WIDEST)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            searched, "_beside_corners", lambda _, at, __: np.zeros(len(at), bool)
        )
        assert same(quick, necks_among(shapes, tree, WIDEST))


def test_corners_of_a_crowd_spare_most_of_the_search(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    crowd = [flat.box(x, y, x + 0.3, y + 0.3) for x in range(9) for y in range(7)]
    told: list[np.ndarray] = []
    look = searched._beside_corners  # noqa: SLF001

    def listen(*asked: Any) -> Any:  # noqa: ANN401 - passed on
        told.append(look(*asked))
        return told[-1]

    monkeypatch.setattr(searched, "_beside_corners", listen)
    shapes = np.array(crowd, dtype=object)
    necks_among(shapes, flat.STRtree(shapes), WIDEST)
    assert told[0].mean() > 0.5


@pytest.mark.long
@settings(max_examples=40, deadline=None)
@given(st.randoms(use_true_random=False))
def test_pockets_are_those_that_are_looked_up_one_by_one(draw: Random) -> None:
    scene = room(draw)
    for item in scene["items"]:
        if item["id"].startswith("G"):
            item.pop("door", None)
    ways = ways_of(situate(Scene.model_validate(scene)))
    opened = ways.opened(2.0, "all")
    found = pockets(opened.floor, opened.leaves, opened.hung)
    expected = one_by_one(opened.floor, opened.leaves)
    assert found.tolist() == expected


def one_by_one(floor: Floor, leaves: tuple[LeafAjar, ...]) -> list[bool]:
    """Tell which necks are pockets, the long way."""
    _, shapes, _ = floor.features
    necks = floor.necks
    loose = len(floor.bodies.standing)
    groups = [{number} for number in range(len(shapes))]
    hung = [next((x for x in leaves if x.plan.equals(s)), None) for s in shapes]
    for (a, b), width in zip(necks.pairs.tolist(), necks.widths, strict=True):
        if width <= TOUCH and a < loose and b < loose and not (hung[a] or hung[b]):
            groups[a] |= groups[b]
            for one in groups[a]:
                groups[one] = groups[a]
    found = []
    for (a, b), line, width in zip(
        necks.pairs.tolist(), necks.lines, necks.widths, strict=True
    ):
        one, other, end = hung[a], hung[b], line[2]
        if one is None:
            one, other, end = other, None, line[1]
        pocket = False
        if one is not None and other is not None:
            pocket = float(np.dot(one.frame.out, other.frame.out)) > 0.9
        elif one is not None:
            step = line[2] - line[1]
            if abs(float(step @ one.frame.out)) <= 0.1 * math.hypot(*step):
                at = flat.Point(end)
                near = [n for n, s in enumerate(shapes) if s.distance(at) <= TOUCH]
                pocket = any(
                    (flat.get_coordinates(shapes[body]) - (one.frame.x, one.frame.y))
                    .dot(one.frame.out)
                    .min()
                    <= TOUCH
                    for first in near
                    for body in groups[first]
                )
        found.append(pocket and width > TOUCH)
    return found


def test_pairs_looked_at_in_parts_give_the_same_necks(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # All pairs at once took memory with the square of the bodies.
    draw = np.random.default_rng(4)
    low = draw.uniform(0, 6, (60, 2))
    shapes = flat.box(*low.T, *(low + draw.uniform(0.05, 0.4, (60, 2))).T)
    tree = flat.STRtree(shapes)
    whole = necks_among(shapes, tree, WIDEST)
    monkeypatch.setattr(searched, "_AT_ONCE", 37)
    parts = necks_among(shapes, tree, WIDEST)
    assert len(whole.widths) > 60
    assert np.array_equal(whole.pairs, parts.pairs)
    assert np.array_equal(whole.lines, parts.lines)
    assert np.array_equal(whole.widths, parts.widths)
