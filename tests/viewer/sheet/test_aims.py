"""What signs point at, and what they must not hide."""

from __future__ import annotations

from typing import Final

import pytest
from PIL import Image

from tests.scenes import examples
from viewer.picture.composition import projection_of, signs_in
from viewer.picture.lesson_step import step_words, view_of_step
from viewer.sheet.layout import layout
from viewer.sheet.letters import WrittenPicture
from viewer.sheet.sign_places import Rectangle, Sign, place
from viewer.stage import build_stage
from viewer.stage.looking.views import view_of_place

SHEET: Final = WrittenPicture(Image.new("RGB", (8, 8)))


@pytest.mark.long
def test_a_badge_of_the_room_points_at_nothing_in_it() -> None:
    """Its light is wrong, not the box that happens to stand in its middle."""
    name = "stored-goods"
    stage = build_stage(examples.scene(name), examples.report(name))
    for size in ((1600, 1000), (900, 600)):
        plan = layout(stage, size)
        view = view_of_place(stage, plan.aspect)
        signs = signs_in(stage, plan, view, SHEET.wide)
        (badge,) = (one for one in signs.marks if one.items == ("room",))
        (row,) = badge.judgements
        assert stage.judgements[row].requirement == "illumination"
        assert not badge.aims
        assert badge.anchor == badge.box.middle
        assert badge.lines[0].endswith("room")
        assert badge.box.right < plan.room.left + 0.2 * plan.room_size[0]
        assert all(one.aims for one in signs.marks if one is not badge)


def test_a_size_stands_beside_its_line_and_hides_no_part_of_it() -> None:
    frame = Rectangle(0.0, 0.0, 600.0, 400.0)
    line = [Rectangle(x - 7, 193, x + 7, 207) for x in range(200, 401, 20)]
    sign = Sign((300.0, 200.0), 150.0, 40.0, near=10.0, far=420.0, must=True)
    aside = Rectangle(0.0, 0.0, 600.0, 190.0)  # taken, so that above is no place
    (box,) = place([sign], frame, taken=[aside], spots=line)
    assert box is not None
    assert not any(box.overlaps(spot) for spot in line)


@pytest.mark.long
def test_a_badge_of_what_is_outside_the_picture_names_it_and_points_at_nothing() -> (
    None
):
    """The last steps of the examination look close: door D1 is behind the frame."""
    stage = examples.steps_shown("find-the-seven-faults")
    outside = 0
    for number, step in enumerate(stage.steps, 1):
        plan = layout(stage, (900, 600), words=step_words(stage, number))
        view = view_of_step(stage, number, plan.aspect)
        projection = projection_of(plan, view)
        for one in signs_in(step.stage, plan, view, SHEET.wide).marks:
            if not one.judgements or one.items == ("room",):
                continue
            x, y = projection.pixel(one.point)
            left, top = plan.room.left, plan.room.top
            across, down = plan.room_size
            seen = left <= x <= left + across and top <= y <= top + down
            if not seen:
                outside += 1
                assert not one.aims
                assert one.items[0] in one.lines[0]
    assert outside
