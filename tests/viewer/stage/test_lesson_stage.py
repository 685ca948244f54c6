"""Lessons as stages: what is shown after each step, and where the camera goes.

The rooms are invented. That a point is in a picture is worked out here with a pinhole
camera of its own: the eye, the way it looks, and the angle of the picture.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from model3d import Scene
from model3d.lessons import LessonError, lesson_document, run_lesson
from model3d.scene.parts.look import LAYER_NAMES
from tests.scenes import examples
from viewer.page.html import page
from viewer.picture.lesson_step import view_of_step
from viewer.stage import build_stage, document, palette
from viewer.stage.layers import LAYERS, SPACES, WAYS
from viewer.stage.looking.sights import narrow_places
from viewer.stage.looking.views import visible
from viewer.stage.taught.lesson import lesson_stage
from viewer.stage.taught.step_view import points_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from viewer.stage import Shape, Stage, View

WIDE = 1.6
"""Width by height of the picture the views are made for."""

SWITCH = {
    "id": "DS1",
    "kind": "disconnect",
    "size": [300, 150, 500],
    "place": {"wall": "west", "along": 1000, "bottom": 1000},
    "supply": {"system": "208Y/120"},
    "door": "left",
}


def scene(*steps: dict[str, Any]) -> Scene:
    return Scene.model_validate(
        {
            "title": "Annex",
            "units": "mm",
            "rules": "nec-2023",
            "room": {
                "size": [4000, 3000],
                "height": 2700,
                "walls": "gypsum",
                "doors": [
                    {
                        "id": "D1",
                        "wall": "south",
                        "along": 500,
                        "width": 900,
                        "height": 2100,
                        "opens": "out",
                        "hinge": "left",
                    }
                ],
            },
            "items": [
                {
                    "id": "LP1",
                    "kind": "panelboard",
                    "size": [500, 150, 900],
                    "place": {"wall": "north", "along": 1500, "bottom": 900},
                    "supply": {"system": "208Y/120", "amps": 200},
                    "door": "left",
                },
                {
                    "id": "AD1",
                    "kind": "duct",
                    "from": [0, 1000, 2400],
                    "to": [4000, 1000, 2400],
                    "section": [300, 200],
                },
            ],
            "lesson": {
                "title": "Told",
                "steps": [{"say": "See.", **step} for step in steps],
            },
        }
    )


BOX: dict[str, Any] = {
    "id": "BOX",
    "kind": "machine",
    "size": [300, 300, 1500],
    "place": {"at": [1650, 2600], "facing": "south"},
}


def spaces(stage: Stage) -> set[str]:
    """Return whose spaces are drawn in full."""
    return {
        shape.item
        for shape in stage.shapes
        if shape.role == "space" and shape.layer == SPACES
    }


def solid(stage: Stage, item: str) -> Shape:
    return next(one for one in stage.shapes if (one.item, one.role) == (item, "solid"))


def in_picture(view: View, points: NDArray[np.float64]) -> bool:
    """Tell whether a camera sees all of some points."""
    eye, target, up = (np.array(one) for one in (view.eye, view.target, view.up))
    ahead = (target - eye) / np.linalg.norm(target - eye)
    right = np.cross(ahead, up)
    right /= np.linalg.norm(right)
    over = np.cross(right, ahead)
    depth = (points - eye) @ ahead
    scale = np.full(len(points), view.width / WIDE / 2)
    if not view.parallel:
        assert (depth > 0).all()
        scale = depth * np.tan(np.radians(view.angle / 2))
    x, y = (points - eye) @ right / scale / WIDE, (points - eye) @ over / scale
    return bool((np.abs(x) <= 1).all() and (np.abs(y) <= 1).all())


def test_every_step_has_its_words_and_its_stage() -> None:
    told = scene(
        {"ask": "What now?", "do": [{"add": BOX}]}, {"do": [{"remove": "BOX"}]}
    )
    stage = lesson_stage(told)
    assert (stage.title, stage.lesson) == ("Annex", "Told")
    one, two = stage.steps
    assert (one.ask, one.say, two.ask) == ("What now?", "See.", "")
    assert "BOX" in {shape.item for shape in one.stage.shapes}
    assert "BOX" not in {shape.item for shape in two.stage.shapes}
    unmet = [row for row in one.stage.judgements if row.verdict == "not-met"]
    assert {row.in_the_way for row in unmet} == {("BOX",)}
    assert all(row.verdict != "not-met" for row in two.stage.judgements)


def test_results_that_are_there_are_shown_and_not_others() -> None:
    told = scene({"do": [{"add": BOX}]}, {"do": [{"remove": "BOX"}]})
    first, _ = run_lesson(told)
    (step,) = lesson_stage(told, [first]).steps
    assert "BOX" in {shape.item for shape in step.stage.shapes}


def test_spaces_of_what_is_looked_at_are_shown_until_another_is() -> None:
    stage = lesson_stage(
        scene(
            {"look": {"at": "LP1"}, "do": [{"add": SWITCH}]},
            {},
            {"look": {"at": "DS1"}},
            {"look": {"at": "D1"}},
        )
    )
    assert spaces(stage) == {"LP1"}
    shown = [spaces(step.stage) - {"room"} for step in stage.steps]
    assert shown == [{"LP1"}, {"LP1"}, {"DS1"}, set()]
    assert [step.look is not None for step in stage.steps] == [True, False, True, True]


@pytest.mark.long
@pytest.mark.parametrize("looked_from", ["south-east", "west", "above", None])
@pytest.mark.parametrize("at", ["LP1", "D1", "wall-north", "floor"])
def test_camera_sees_what_is_looked_at(at: str, looked_from: str | None) -> None:
    look = {"at": at} | ({"from": looked_from} if looked_from else {})
    (step,) = lesson_stage(scene({"look": look, "do": [{"add": BOX}]})).steps
    assert step.look is not None
    assert step.look.parallel == (looked_from == "above")
    seen = [
        shape.vertices
        for shape in step.stage.shapes
        # Of a way out its narrow place is looked at, not all of it.
        if shape.item == at and len(shape.vertices) and shape.layer != WAYS
    ]
    seen += [np.array([one.start, one.end]) for one in narrow_places(step.stage, at)]
    points = np.concatenate(seen or [np.array([(0, 0, 0), (4.0, 3.0, 2.7)])])
    assert in_picture(step.look, points)


def test_viewer_stands_where_the_lesson_says() -> None:
    looks = ("south-east", "west", "north", "above")
    steps = lesson_stage(
        scene(*({"look": {"at": "LP1", "from": name}} for name in looks))
    ).steps
    ways = {}
    for name, step in zip(looks, steps, strict=True):
        assert step.look is not None
        way = np.subtract(step.look.eye, step.look.target)
        ways[name] = way / np.linalg.norm(way)
    assert ways["south-east"][0] > 0.3
    assert ways["south-east"][1] < -0.3
    assert ways["west"][0] < -0.7
    assert ways["north"][1] > 0.7
    assert ways["above"] == pytest.approx([0, 0, 1])


def test_a_leaf_is_shown_as_far_as_it_is_opened_and_can_be() -> None:
    """The box starts 100 in front of the panel, from the hinge to 300 across.

    The leaf comes from the right and meets its corner 300 across and 100 out.
    """
    stage = lesson_stage(
        scene(
            {"do": [{"open": "LP1", "to": 60}, {"open": "D1", "to": 20}]},
            {"do": [{"add": BOX}]},
            {"do": [{"open": "LP1", "to": 10}]},
        )
    )

    def shown(step: int, leaf: str) -> float:
        pivot = stage.steps[step].stage.shape(leaf).pivot
        assert pivot is not None
        return pivot.shown

    stopped = np.degrees(np.arctan2(100, 300))
    angles = [shown(step, "LP1/leaf-0") for step in range(3)]
    assert angles == pytest.approx([60, stopped, 10])
    assert [shown(step, "D1/leaf-0") for step in range(3)] == [20, 20, 20]


def test_what_a_step_changes_is_not_drawn_faintly() -> None:
    ceiling = {
        "id": "LC1",
        "kind": "ceiling",
        "structural": False,
        "size": [4000, 3000, 20],
        "place": {"at": [2000, 1500], "facing": "south", "bottom": 2200},
    }
    told = scene({"do": [{"move": "AD1", "by": [0, 0, 50]}, {"add": ceiling}]}, {})
    stage = lesson_stage(told)
    one, two = (step.stage for step in stage.steps)
    faint = [solid(each, "AD1").ghost for each in (stage, one, two)]
    assert faint == [True, False, True]
    assert solid(one, "AD1").opacity == 1
    names = {label.item: label.ghost for label in one.labels}
    assert (names["AD1"], names["LC1"]) == (False, True)
    assert solid(one, "LC1").ghost


def test_a_scene_without_a_lesson_has_no_such_stage() -> None:
    bare = scene({}).model_copy(update={"lesson": None})
    with pytest.raises(LessonError):
        lesson_stage(bare)


@pytest.mark.long
@pytest.mark.parametrize("name", examples.LESSON_NAMES)
def test_every_lesson_makes_a_page_that_a_class_can_open(name: str) -> None:
    """A page of a lesson stays below the megabyte that a page may have."""
    results, stage = examples.results(name), examples.steps_shown(name)
    assert len(stage.steps) == len(results)
    for step, result in zip(stage.steps, results, strict=True):
        assert step.look is not None
        rows = sorted((row.subject, row.requirement) for row in step.stage.judgements)
        judged = result.report.judgements
        assert rows == sorted((one.subject, one.requirement) for one in judged)
    made = page(stage)
    assert len(made) < 1_000_000
    assert json.dumps(stage.lesson)[1:-1].encode() in made


def test_the_start_of_a_lesson_is_the_stage_of_the_room() -> None:
    told = scene({"look": {"at": "LP1"}})
    (result,) = run_lesson(told)
    plain = build_stage(told, result.before, of="LP1")
    found = lesson_stage(told, [result])
    assert document(found)["shapes"] == document(plain)["shapes"]


@pytest.mark.parametrize("stand", [None, "south-east", "above"])
def test_a_step_goes_as_near_as_it_says(stand: str | None) -> None:
    look = {"at": "LP1", "near": 300, **({"from": stand} if stand else {})}
    near, far = lesson_stage(
        scene({"look": look}, {"look": {**look, "near": "1.5 m"}})
    ).steps
    assert (near.near, far.near) == (0.3, 1.5)
    assert near.look is not None
    assert far.look is not None
    # LP1 is 500 wide, 150 deep, 900 high, from 1500 to 2000 along the north wall, at
    # 900: about it lies 300 on every side but behind it, where the wall is.
    x = np.array([1.5, 2.0])
    y = np.array([2.85, 3.0])
    z = np.array([0.9, 1.8])
    corners = np.array([(a, b, c) for a in x for b in y for c in z])
    held = points_of(near.stage, "LP1", 0.3)
    assert held.min(axis=0) == pytest.approx([1.2, 2.55, 0.6])
    assert held.max(axis=0) == pytest.approx([2.3, 3.0, 2.1])
    assert in_picture(near.look, held)
    assert in_picture(far.look, held)
    assert in_picture(near.look, corners)
    spaces_of = points_of(near.stage, "LP1")
    assert not in_picture(near.look, spaces_of)  # its working space is 900 deep
    assert near.look.width < far.look.width


def test_what_is_not_there_is_near_nothing() -> None:
    told = scene({"look": {"at": "BOX", "near": 300}, "do": [{"add": BOX}]})
    (step,) = lesson_stage(told).steps
    low, high = np.array(step.stage.low), np.array(step.stage.high)
    assert points_of(step.stage, "BOX2", 0.3).min(axis=0) == pytest.approx(low)
    assert points_of(step.stage, "BOX2", 0.3).max(axis=0) == pytest.approx(high)


def test_layers_of_a_step_end_with_it_and_nearness_stays_with_the_view() -> None:
    layers = ["gear", "spaces", "room"]
    look = {"at": "LP1", "near": 500, "layers": layers}
    one, two = lesson_stage(scene({"look": look}, {})).steps
    assert (one.layers, two.layers) == (tuple(layers), ())
    assert (two.look, two.near) == (None, 0.5)
    told = [
        step["layers"]
        for step in document(lesson_stage(scene({"look": look}, {})))["steps"]
    ]
    assert told == [layers, []]


def test_a_lesson_tells_how_near_and_which_layers() -> None:
    look = {"at": "LP1", "near": "2 ft", "layers": ["gear", "room"]}
    made = scene({"look": look})
    (step,) = lesson_document(made, run_lesson(made))["steps"]
    assert step["look"] == look
    assert json.loads(json.dumps(step["look"])) == look


def test_a_lesson_names_the_layers_as_the_faces_do() -> None:
    assert [layer.id for layer in LAYERS] == [*LAYER_NAMES]


def empty_halves(stage: Stage, view: View) -> tuple[float, float]:
    """Return which share of the left and of the right half of a picture is empty.

    By points all over every face that the camera sees, in a raster of 32 by 20.
    """
    share = np.linspace(0.0, 1.0, 60)
    grid = np.array([(a, b, 1 - a - b) for a in share for b in share if a + b <= 1])
    eye, target = np.array(view.eye), np.array(view.target)
    ahead = (target - eye) / np.linalg.norm(target - eye)
    right = np.cross(ahead, view.up)
    filled = np.zeros((20, 32), bool)
    for shape in visible(stage, view):
        if shape.role not in {"surface", "solid"} or not len(shape.vertices):
            continue
        off = (grid @ shape.vertices[shape.faces]).reshape(-1, 3) - eye
        depth = off @ ahead
        off, depth = off[depth > 0], depth[depth > 0]
        half = view.width / WIDE / 2 if view.parallel else 0.0
        half = half or depth * np.tan(np.radians(view.angle / 2))
        x, y = off @ right / half / WIDE, off @ np.array(view.up) / half
        seen = (abs(x) < 1) & (abs(y) < 1)
        filled[((y[seen] + 1) * 10).astype(int), ((x[seen] + 1) * 16).astype(int)] = (
            True
        )
    return 1 - float(filled[:, :16].mean()), 1 - float(filled[:, 16:].mean())


@pytest.mark.long
@pytest.mark.parametrize("name", examples.LESSON_NAMES)
def test_no_step_leaves_one_half_of_its_picture_empty(name: str) -> None:
    for number, step in enumerate(examples.steps_shown(name).steps, 1):
        assert step.look is not None
        left, right = empty_halves(step.stage, step.look)
        assert abs(left - right) < 0.45, f"step {number}"


def test_a_room_fills_the_picture_beside_what_is_looked_at() -> None:
    look = {"at": "LP1", "from": "east", "near": 300}
    (step,) = lesson_stage(scene({"look": look})).steps
    assert step.look is not None
    left, right = empty_halves(step.stage, step.look)
    assert max(left, right) < 0.3
    assert in_picture(step.look, points_of(step.stage, "LP1", 0.3))


def test_a_rack_that_a_finding_is_about_is_outlined_and_not_post_by_post() -> None:
    """Posts with strong edges look painted, as if the rack were in the way."""
    last = examples.steps_shown("a-battery-room-whole").steps[-1].stage
    of_rack = [one for one in last.shapes if one.item == "R1"]
    (strong,) = (one for one in of_rack if one.edge_colour == palette.INTRUSION)
    assert (strong.id, strong.role, len(strong.edges)) == ("R1/outline", "mark", 12)
    assert not len(strong.faces)
    assert strong.judgements


@pytest.mark.parametrize("looked_from", ["south-east", "west", "above"])
def test_a_step_shows_what_it_changes_before_and_after(looked_from: str) -> None:
    """A question shows the room before: there the thing stands in its old place."""
    far = {**BOX, "place": {"at": [3700, 600], "facing": "south"}}
    look = {"at": "LP1", "from": looked_from}
    wider = {"id": "D1", "wall": "south", "along": 2900, "width": 1000}
    moved = {"set": "D1", **wider}
    del moved["id"]
    told = scene(
        {"do": [{"add": far}]},
        {"ask": "Where?", "look": look, "do": [{"move": "BOX", "by": [-2000, 0, 0]}]},
        {"ask": "Which door?", "look": look, "do": [moved]},
    )
    stage = lesson_stage(told)
    one, two, three = stage.steps
    for view, before, after, name in (
        (two.look, one.stage, two.stage, "BOX"),
        (three.look, two.stage, three.stage, "D1"),
    ):
        assert view is not None
        for shown in (before, after):
            body = [s.vertices for s in shown.shapes if s.item == name]
            assert in_picture(view, np.concatenate([v for v in body if len(v)]))


@pytest.mark.parametrize("looked_from", ["south-east", "west", "above"])
@pytest.mark.parametrize("near", [None, 300])
def test_a_step_shows_its_authors_dimensions_whole(
    looked_from: str, near: int | None
) -> None:
    """A line that is cut off by the picture's edge tells nothing."""
    look = {"at": "LP1", "from": looked_from, **({"near": near} if near else {})}
    ends = [3900, 300, 0], [100, 300, 0]
    line = {"from": ends[0], "to": ends[1], "label": "free"}
    stage = lesson_stage(scene({"say": "So far.", "look": look, "show": [line]}))
    points = np.array(ends) / 1000
    view = stage.steps[0].look
    assert view is not None
    assert in_picture(view, points)
    assert in_picture(view_of_step(stage, 1, 1.6, looking_from="south"), points)


def test_what_hides_the_thing_looked_at_is_faint_and_what_is_told_of_is_not() -> None:
    """A heater of 900 by 1000 hangs over the working space, 2050 up: all is met."""
    heater = {
        "id": "UH1",
        "kind": "machine",
        "size": [900, 1000, 400],
        "place": {"at": [1750, 2300], "facing": "south", "bottom": 2050},
    }
    above = {"at": "LP1", "from": "above"}
    told = scene(
        {"look": above, "do": [{"add": heater}]},
        {"ask": "And now?", "look": above, "do": [{"set": "LP1", "name": "Old"}]},
        {"ask": "And from here?", "look": {"at": "LP1", "from": "south"}},
    )
    first, second, third = lesson_stage(told).steps
    assert not solid(first.stage, "UH1").ghost
    assert [shape.item for shape in second.faint] == ["UH1"]
    assert second.faint[0].opacity < 0.5
    assert solid(second.stage, "UH1").ghost
    # Where nobody asks, nothing stands before a question.
    assert first.faint == ()
    assert "LP1" not in {shape.item for shape in third.faint}


def test_what_hides_a_size_that_a_step_shows_is_faint() -> None:
    aside = {
        "id": "ASIDE",
        "kind": "machine",
        "size": [600, 600, 1200],
        "place": {"at": [600, 2400], "facing": "south"},
    }
    look = {"at": "LP1", "from": "south"}
    behind = {"from": [600, 3000, 50], "to": [600, 3000, 2500], "label": "the wall"}
    told = scene(
        {"do": [{"add": aside}]},
        {"look": look},
        {"look": look, "show": [behind]},
    )
    _, without, shown = lesson_stage(told).steps
    assert not solid(without.stage, "ASIDE").ghost
    assert solid(shown.stage, "ASIDE").ghost


def test_a_step_shows_no_sizes_of_what_was_wrong_elsewhere_before() -> None:
    """What is short at LP1 says nothing of the step about DS1. Common practice."""
    stage = lesson_stage(
        scene(
            {"do": [{"add": BOX}, {"add": SWITCH}], "look": {"at": "DS1"}},
            {"look": {"at": "DS1"}},
            {"look": {"at": "LP1"}},
        )
    )
    told = [{size.item for size in step.sizes if size.short} for step in stage.steps]
    assert told == [{"LP1"}, set(), {"LP1"}]
    assert all("DS1" in {size.item for size in step.sizes} for step in stage.steps[:2])


def test_a_step_shows_no_met_sizes_of_an_item_of_which_one_is_short() -> None:
    """They hid what is in the way. Common practice: the figure shows what decides."""
    stage = lesson_stage(
        scene(
            {"do": [{"add": BOX}], "look": {"at": "LP1"}},
            {"do": [{"remove": BOX["id"]}], "look": {"at": "LP1"}},
        )
    )
    short, met = ([*step.sizes] for step in stage.steps)
    assert short
    assert all(one.short for one in short)
    assert {one.name for one in met} >= {"depth", "width"}
    assert not any(one.short for one in met)


def test_of_a_way_that_is_too_narrow_a_step_holds_where_it_is_narrow() -> None:
    """The whole way to the door made the panel too small for its sizes to be read."""
    step = examples.steps_shown("doors-to-ninety-degrees").steps[5]
    assert step.item is not None
    (narrow,) = narrow_places(step.stage, step.item)
    held = points_of(step.stage, step.item)
    for end in (narrow.start, narrow.end):
        assert (held.min(axis=0)[:2] <= np.array(end[:2]) + 1e-9).all()
        assert (held.max(axis=0)[:2] >= np.array(end[:2]) - 1e-9).all()
    ways = [one for one in step.stage.shapes if one.layer == WAYS]
    assert ways
    assert held[:, 1].min() > min(one.vertices[:, 1].min() for one in ways) + 1.0
