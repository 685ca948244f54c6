"""Pictures of a lesson's steps: which stage, which words, from where.

The room is invented; where a camera stands is worked out by hand beside each check.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np
import pytest

from tests.viewer.written_rooms import LESSON, room_scene
from viewer.picture.composition import signs_in
from viewer.picture.lesson_step import in_words, step_words, view_of_step
from viewer.picture.still import step_picture
from viewer.sheet.layout import layout
from viewer.sheet.meanings import meanings
from viewer.sheet.projection import Projection
from viewer.sheet.sign_places import Rectangle
from viewer.sheet.signage import SignRoom, Signs
from viewer.sheet.signs import arrange_signs
from viewer.stage.layers import with_layers
from viewer.stage.looking.about import sizes_about
from viewer.stage.looking.views import visible
from viewer.stage.taught.lesson import lesson_stage
from viewer.stage.taught.step_view import points_of

if TYPE_CHECKING:
    from pathlib import Path

STAGE = lesson_stage(room_scene(lesson=LESSON))
ASPECT = 1.5


def test_a_step_is_said_with_its_number() -> None:
    assert step_words(STAGE, 1) == "1 / 3  The wireway is mounted higher."
    asked = step_words(STAGE, 2, asked=True)
    assert asked == "2 / 3  It comes down, and is 300 deep. Is the space right?"


def test_a_step_that_says_nothing_tells_what_is_not_met() -> None:
    steps = [{"ask": "And now?", "do": [{"open": "LP1", "to": 30}]}]
    made = lesson_stage(room_scene(lesson={"title": "Quiet", "steps": steps}))
    said = step_words(made, 1)
    assert said == "1 / 1  " + in_words(made.steps[0].stage)
    assert "LP1 working space" in said


def test_a_step_that_looks_nowhere_looks_as_the_one_before() -> None:
    looks = [view_of_step(STAGE, number, ASPECT) for number in (1, 2, 3)]
    assert looks[0] == looks[1] == looks[2]
    assert [step.item for step in STAGE.steps] == ["LP1"] * 3


@pytest.mark.parametrize("looking_from", [None, "south-east", "west", "above"])
@pytest.mark.parametrize("aspect", [0.8, 1.2, 2.0])
def test_the_camera_of_a_step_sees_all_it_looks_at(
    looking_from: str | None, aspect: float
) -> None:
    view = view_of_step(STAGE, 1, aspect, looking_from=looking_from)
    width, height = round(600 * aspect), 600
    seen = Projection(view, width, height).pixels(
        points_of(STAGE.steps[0].stage, "LP1")
    )
    assert (seen >= -1).all()
    assert (seen <= np.array([width, height]) + 1).all()


def test_another_place_to_stand_looks_at_the_same_thing() -> None:
    """From the west the eye is west of what it looks at; above it is higher."""
    west = view_of_step(STAGE, 1, ASPECT, looking_from="west")
    assert west.eye[0] < west.target[0]
    assert west.eye[1] == pytest.approx(west.target[1], abs=0.01)
    above = view_of_step(STAGE, 1, ASPECT, looking_from="above")
    assert above.parallel
    with pytest.raises(ValueError, match="found the view upstairs, right is"):
        view_of_step(STAGE, 1, ASPECT, looking_from="upstairs")


def test_a_step_shows_the_sizes_of_what_it_looks_at_though_they_are_met() -> None:
    """208Y/120 is 120 V to ground: 900 mm deep by NEC 2023 Table 110.26(A)(1)."""
    step = STAGE.steps[1]
    sizes = sizes_about(step.stage, step.item)
    own = {one.name: one.brief for one in sizes if one.item == "LP1"}
    assert own["depth"] == "900 mm"
    assert own["width"] == "762 mm"
    assert not any(one.short for one in sizes if one.item == "LP1")
    assert [one.item for one in sizes if one.short] == [
        one.item for one in step.stage.dimensions if one.short
    ]
    assert all(one.short for one in sizes_about(step.stage, None))


@pytest.mark.parametrize("number", [0, 4, -1])
def test_a_step_that_is_not_there_is_refused(number: int, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=f"found step {number}, right is .* 1 to 3"):
        step_picture(STAGE, number, tmp_path / "step.png")
    assert not list(tmp_path.iterdir())


def test_the_authors_own_dimension_is_measured_and_drawn() -> None:
    """900 mm / 25.4 are 35.43 in: 2 ft 11 7/16 in to the nearest sixteenth."""
    (own,) = [one for one in STAGE.steps[0].sizes if one.judgement is None]
    assert own.required == "900 mm (2 ft 11 7/16 in)"
    assert (own.name, own.brief, own.brief_other) == (
        "mounted at",
        "mounted at 900 mm",
        "2 ft 11 7/16 in",
    )
    assert (own.start, own.end) == ((0.6, 2.85, 0.0), (0.6, 2.85, 0.9))
    # It is moved square to itself, and the camera does not look along that way.
    assert own.aside[2] == pytest.approx(0)
    view = STAGE.steps[0].look
    assert view is not None
    sight = np.subtract(view.target, view.eye)
    assert abs(sight @ own.aside) < 0.8 * np.linalg.norm(sight)
    assert all(one.judgement is not None for one in STAGE.steps[1].sizes)


def test_a_picture_writes_the_authors_dimension() -> None:
    view = view_of_step(STAGE, 1, ASPECT)
    signs = arrange_signs(
        STAGE.steps[0].stage,
        SignRoom(
            Projection(view, 900, 600),
            Rectangle(0, 0, 900, 600),
            lambda text, size, **_: 0.6 * size * len(text),
            1.0,
        ),
        sizes=STAGE.steps[0].sizes,
    )
    assert [rule.own for rule in signs.rules].count(True) == 1
    (mark,) = [one for one in signs.marks if one.lines[0].startswith("mounted")]
    assert mark.lines == ("mounted at 900 mm", "2 ft 11 7/16 in")
    assert mark.items == ()


NEAR: Final = {
    "title": "Near",
    "steps": [
        {
            "say": "The panel alone.",
            "look": {"at": "LP1", "near": 250, "layers": ["gear", "room"]},
        },
        {"say": "All of it."},
    ],
}


@pytest.mark.long
def test_a_step_says_how_near_and_which_layers(tmp_path: Path) -> None:
    made = lesson_stage(room_scene(lesson=NEAR))
    drawn, plan = [], None
    for number in (1, 2):
        step = made.steps[number - 1]
        stage = with_layers(step.stage, step.layers)
        plan = layout(stage, (900, 600), words="Told.")
        view = view_of_step(made, number, plan.aspect)
        drawn.append(
            (
                {shape.layer for shape in visible(stage, view)},
                signs_in(stage, plan, view, lambda *_, **__: 30.0, sizes=step.sizes),
                {kind for kind, _ in meanings(stage)},
            )
        )
    (layers, signs, legend), (all_layers, all_signs, all_legend) = drawn
    assert layers == {"gear", "room"}
    assert signs == Signs((), ())
    assert not legend & {"space", "intrusion", "ghost", "head-height"}
    assert {"spaces", "intrusions", "overhead"} < all_layers
    assert all_signs.rules
    assert {"space", "intrusion", "not-met", "ghost", "head-height"} <= all_legend
    step_picture(made, 1, tmp_path / "near.png", size=(600, 400))
    assert (tmp_path / "near.png").stat().st_size > 10_000


@pytest.mark.long
@pytest.mark.parametrize("looking_from", [None, "west", "above"])
def test_the_camera_of_a_step_that_goes_near_is_nearer(
    looking_from: str | None,
) -> None:
    made = lesson_stage(room_scene(lesson=NEAR))
    near = view_of_step(made, 1, ASPECT, looking_from=looking_from)
    plain = {**NEAR, "steps": [{"say": "Far.", "look": {"at": "LP1"}}]}
    far = view_of_step(
        lesson_stage(room_scene(lesson=plain)), 1, ASPECT, looking_from=looking_from
    )
    assert near.width < 0.8 * far.width
    seen = Projection(near, 900, 600).pixels(
        points_of(made.steps[0].stage, "LP1", 0.25)
    )
    assert (seen >= -1).all()
    assert (seen <= [901, 601]).all()
