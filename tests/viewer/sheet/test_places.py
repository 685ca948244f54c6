"""Signs in a picture: near what they name, never over one another."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tests.viewer.panel_room import stage
from viewer.sheet.layout import layout
from viewer.sheet.letters import WrittenPicture
from viewer.sheet.projection import Projection
from viewer.sheet.sign_places import Rectangle, Sign, place
from viewer.sheet.signage import SignRoom, Signs
from viewer.sheet.signs import arrange_signs
from viewer.sheet.wished_badges import ranges
from viewer.stage import View
from viewer.stage.looking.about import short_sizes
from viewer.stage.looking.cameras import BEARINGS
from viewer.stage.looking.views import view_of_place

if TYPE_CHECKING:
    from collections.abc import Iterable

FRAME = Rectangle(0, 0, 800, 600)
STAGE = stage()

spots = st.tuples(st.floats(0, 800), st.floats(0, 600))


def apart(boxes: Iterable[Rectangle | None]) -> bool:
    found = [box for box in boxes if box is not None]
    return not any(a.overlaps(b) for a, b in itertools.combinations(found, 2))


@pytest.mark.long
@settings(max_examples=40, deadline=None)
@given(st.lists(spots, min_size=1, max_size=30))
def test_badges_are_all_placed_and_none_covers_another(
    anchors: list[tuple[float, float]],
) -> None:
    signs = [Sign(at, 26, 26, near=16, far=math.inf, must=True) for at in anchors]
    boxes = place(signs, FRAME)
    assert None not in boxes
    assert apart(boxes)


@pytest.mark.long
@settings(max_examples=40, deadline=None)
@given(st.lists(spots, min_size=1, max_size=30))
def test_names_stay_near_in_the_frame_and_apart(
    anchors: list[tuple[float, float]],
) -> None:
    signs = [Sign(at, 70, 20, near=5, far=60) for at in anchors]
    boxes = place(signs, FRAME)
    assert boxes[0] is not None
    assert apart(boxes)
    for sign, box in zip(signs, boxes, strict=True):
        if box is not None:
            assert 0 <= box.left < box.right <= 800
            assert 0 <= box.top < box.bottom <= 600
            x, y = box.middle
            assert math.dist((x, y), sign.anchor) <= math.hypot(35 + 60, 10 + 60) + 1


def test_a_full_frame_puts_what_must_be_said_below_it() -> None:
    small = Rectangle(0, 0, 60, 60)
    signs = [Sign((30, 30), 26, 26, near=4, far=math.inf, must=True)] * 9
    boxes = place(signs, small)
    assert None not in boxes
    assert apart(boxes)


def test_nothing_is_placed_where_something_else_is() -> None:
    taken = Rectangle(0, 0, 800, 300)
    (box,) = place([Sign((400, 280), 70, 20, near=5, far=60)], FRAME, taken=[taken])
    assert box is not None
    assert not box.overlaps(taken)


def test_what_must_be_seen_is_covered_only_where_there_is_no_other_place() -> None:
    clash = Rectangle(350, 200, 450, 280)
    sign = Sign((400, 282), 70, 20, near=5, far=140)
    (box,) = place([sign], FRAME, keep_clear=[clash])
    assert box is not None
    assert not box.overlaps(clash)
    (plain,) = place([sign], FRAME)
    assert plain is not None
    assert plain.overlaps(clash)


def test_numbers_in_a_row_are_written_short() -> None:
    assert ranges([9, 4, 5, 6]) == "4-6, 9"


# The signs of a whole picture


def signs_of(
    size: tuple[int, int], looking_from: str | None
) -> tuple[Signs, Rectangle]:
    plan = layout(STAGE, size)
    view = view_of_place(STAGE, plan.aspect, looking_from=looking_from)
    width, height = plan.room_size
    projection = Projection(view, width, height, 0, round(plan.room.top))
    sheet = WrittenPicture(Image.new("RGB", (8, 8)))
    setting = SignRoom(projection, plan.room, sheet.wide, plan.scale)
    return arrange_signs(STAGE, setting, sizes=short_sizes(STAGE)), plan.room


@pytest.mark.parametrize("size", [(1600, 1000), (900, 600), (800, 1000)])
@pytest.mark.parametrize("looking_from", [None, *BEARINGS, "above"])
def test_in_every_view_all_badges_are_there_and_no_sign_covers_another(
    size: tuple[int, int], looking_from: str | None
) -> None:
    signs, room = signs_of(size, looking_from)
    assert apart(mark.box for mark in signs.marks)
    badges = [m for m in signs.marks if m.look in {"not-met", "open"}]
    rows = sorted(row for mark in badges for row in mark.judgements)
    assert rows == sorted(badge.judgement for badge in STAGE.badges)
    for mark in signs.marks:
        assert room.left <= mark.box.left
        assert mark.box.right <= room.right
        assert room.top <= mark.box.top
        assert mark.box.bottom <= room.bottom


def test_what_is_in_a_judgement_is_named_even_in_a_small_picture() -> None:
    signs, _ = signs_of((900, 600), None)
    named = {m.items[0] for m in signs.marks if m.look == "strong-name"}
    assert named == {"LP1", "CRATE", "AD1"}


def test_a_size_in_a_picture_says_what_is_there() -> None:
    signs, _ = signs_of((1600, 1000), None)
    texts = {m.lines[0] for m in signs.marks if m.look == "short-size"}
    assert "250 mm of 900 mm" in texts
    assert len(signs.rules) == len(texts)


# Projection


def test_a_point_ahead_is_seen_by_the_rule_of_three() -> None:
    """At distance 10 and half an angle of 45 degrees the picture is 20 high."""
    view = View("", (0, -10, 0), (0, 0, 0), (0, 0, 1), 90.0, 40.0)
    seen = Projection(view, 400, 200)
    assert seen.pixel((0, 0, 0)) == pytest.approx((200, 100))
    assert seen.pixel((3, 0, 4)) == pytest.approx((200 + 30, 100 - 40))
    assert np.isnan(seen.pixels(np.array([(0.0, -20.0, 0.0)]))).all()


def test_a_plan_keeps_its_scale() -> None:
    view = View("above", (0, 0, 9), (0, 0, 0), (0, 1, 0), 30.0, 8.0, parallel=True)
    seen = Projection(view, 400, 200, left=5, top=7)
    assert seen.pixel((1, 1, 0)) == pytest.approx((5 + 250, 7 + 50))
    assert seen.pixel((1, 1, 5)) == pytest.approx((5 + 250, 7 + 50))


def test_a_list_below_takes_more_room_the_longer_it_is_and_never_half() -> None:
    (first, *_) = (one for one in STAGE.judgements if one.number is not None)

    def share(entries: int) -> float:
        listed = tuple(replace(first, number=n) for n in range(1, entries + 1))
        plan = layout(replace(STAGE, judgements=listed), (900, 600))
        assert plan.panel is not None
        height = plan.panel.bottom - plan.room.top
        return (plan.panel.bottom - plan.panel.top) / height

    shares = [share(entries) for entries in (1, 6, 40)]
    assert shares == sorted(shares)
    assert shares[0] < shares[-1]
    assert 0.1 < shares[0] < 0.25  # one row of five lines, and no more room than that
    assert shares[-1] < 0.5
