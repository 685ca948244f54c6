"""Lessons: every step starts from the one before, and what it claims is held to it.

The room is invented. 150 mm (6 in) past the front are published in NEC 110.26(A)(3).
"""

from __future__ import annotations

import json
from typing import Any, Final

import pytest

from model3d import Scene, check, read_scene
from model3d.lessons import (
    LessonError,
    OpenedLeaf,
    Unmet,
    lesson_document,
    run_lesson,
    verdict_of,
)
from tests.paths import LESSONS

SPACE: Final = "working-space"
SWING: Final = "door-swing"

PANEL: dict[str, Any] = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [500, 150, 900],
    "place": {"wall": "north", "along": 1500, "bottom": 900},
    "supply": {"system": "208Y/120", "amps": 200},
    "door": "left",
    "rear": "bolted",
}
WIREWAY: dict[str, Any] = {
    "id": "WW1",
    "kind": "wireway",
    "size": [1200, 300, 150],
    "place": {"over": "LP1", "gap": 50},
}
DOOR: dict[str, Any] = {
    "id": "D1",
    "wall": "south",
    "along": 2000,
    "width": 900,
    "height": 2100,
    "opens": "out",
    "hinge": "left",
    "hardware": "panic",
    "opens_to": 90,
}


def room(*steps: dict[str, Any], items: tuple[dict[str, Any], ...] = ()) -> Scene:
    return Scene.model_validate(
        {
            "title": "Annex",
            "units": "mm",
            "rules": "nec-2023",
            "room": {
                "size": [4000, 3000],
                "height": 2700,
                "walls": "gypsum",
                "doors": [DOOR],
                "lighting": {"control": "manual"},
            },
            "items": [PANEL, WIREWAY, *items],
            "lesson": {
                "title": "Wireways",
                "steps": [{"say": "See.", **step} for step in steps],
            },
        }
    )


def test_the_form_of_the_contract_works() -> None:
    """6 in (150 mm) past the front: Electrical Contractor, September 2016, p. 66.

    The wireway is 300 deep, the panelboard 150, so it reaches 150 past the front.
    """
    results = run_lesson(
        room(
            {"expect": {"LP1": "met"}},
            {
                "do": [{"set": "WW1", "size": [1200, 320, 150]}],
                "expect": {"LP1": "not-met"},
            },
            {
                "do": [{"move": "WW1", "by": [0, 0, 150]}],
                "expect": {"LP1": {SPACE: "met", SWING: "met"}},
            },
        )
    )
    assert [one.number for one in results] == [1, 2, 3]
    assert all(one.passed for one in results)


def test_a_failed_expectation_is_told_with_its_step() -> None:
    results = run_lesson(
        room(
            {"expect": {"LP1": "met", "WW1": "met", "D1": "not-met"}},
            {"expect": {"LP1": {SPACE: "open", "draw-out": "met"}}},
        )
    )
    # A wireway needs no clear space, and no rule asks for hardware at 200 A.
    assert results[0].unmet == (
        Unmet("WW1", "", "met", None),
        Unmet("D1", "", "not-met", None),
    )
    assert results[1].unmet == (
        Unmet("LP1", SPACE, "open", "met"),
        Unmet("LP1", "draw-out", "met", None),
    )
    assert not results[0].passed


def test_the_worst_verdict_of_an_item_counts() -> None:
    """Without a supply the depth is open; a duct over the board is not met."""
    duct = {
        "id": "AD1",
        "kind": "duct",
        "from": [0, 2900, 2300],
        "to": [4000, 2900, 2300],
        "section": [150, 100],
    }
    first, second = run_lesson(
        room({"do": [{"set": "LP1", "supply": None}]}, {"do": [{"add": duct}]})
    )
    assert verdict_of(first.report, "LP1") == "open"
    assert verdict_of(first.report, "LP1", SWING) == "met"
    assert verdict_of(second.report, "LP1", SPACE) == "open"
    assert verdict_of(second.report, "LP1") == "not-met"
    assert verdict_of(second.report, "AD1") is None


def test_each_step_starts_from_the_one_before() -> None:
    scene = room(
        {"do": [{"move": "LP1", "by": [100, 0, 0]}]},
        {"do": [{"move": "LP1", "by": [100, 0, 0]}, {"remove": "WW1"}]},
    )
    one, two = run_lesson(scene)
    assert places(scene) == {"LP1": 1500, "WW1": None}
    assert places(one.scene) == {"LP1": 1600, "WW1": None}
    assert places(two.scene) == {"LP1": 1700}
    assert one.before == check(scene)
    assert two.before is one.report
    assert two.report == check(two.scene)


def places(scene: Scene) -> dict[str, object]:
    return {item.id: getattr(item.place, "along", None) for item in scene.items}


def test_leaves_stay_open_until_they_are_shut_or_gone() -> None:
    """To open a leaf is for show and changes no judgement."""
    gear = {**PANEL, "id": "LP2", "place": {"wall": "east", "along": 500}}
    results = run_lesson(
        room(
            {"do": [{"open": "LP1", "to": 90}, {"open": "D1", "to": 45}]},
            {"do": [{"open": "LP2", "to": 30}]},
            {"do": [{"open": "D1", "to": 0}, {"set": "LP2", "name": "Two"}]},
            {"do": [{"set": "LP1", "door": "pair"}]},
            {"do": [{"open": "LP1", "leaf": 1, "to": 10}, {"remove": "LP2"}]},
            items=(gear,),
        )
    )
    assert [one.opened for one in results] == [
        (OpenedLeaf("D1", 0, 45.0), OpenedLeaf("LP1", 0, 90.0)),
        (
            OpenedLeaf("D1", 0, 45.0),
            OpenedLeaf("LP1", 0, 90.0),
            OpenedLeaf("LP2", 0, 30.0),
        ),
        (OpenedLeaf("LP1", 0, 90.0), OpenedLeaf("LP2", 0, 30.0)),
        (OpenedLeaf("LP2", 0, 30.0),),
        (OpenedLeaf("LP1", 1, 10.0),),
    ]
    assert results[0].report is results[0].before


def test_a_scene_without_a_lesson_has_none_to_run() -> None:
    scene = room({}).model_copy(update={"lesson": None})
    with pytest.raises(LessonError, match="found no lesson") as caught:
        run_lesson(scene)
    assert caught.value.step is None
    with pytest.raises(LessonError, match="found no lesson"):
        lesson_document(scene, [])


def test_a_requirement_that_is_none_is_refused_with_its_step() -> None:
    scene = room({}, {"expect": {"LP1": {"working-spase": "met"}}})
    with pytest.raises(LessonError) as caught:
        run_lesson(scene)
    assert caught.value.step == 2
    assert str(caught.value) == (
        'step 2 of the lesson: found "working-spase" expected of LP1, right is the '
        "name of a requirement (nearest: working-space)"
    )


def test_a_change_that_leads_to_no_scene_is_refused_with_its_step() -> None:
    """A length is below 10000 km; what the item is moved to is not."""
    scene = room({}, {}, {"do": [{"move": "LP1", "by": ["9999999 m", 0, 0]}]})
    with pytest.raises(LessonError, match=r"^step 3 of the lesson: move LP1: ") as got:
        run_lesson(scene)
    assert got.value.step == 3
    assert "10000 km" in str(got.value)


def test_document_is_plain_and_whole() -> None:
    scene = room(
        {"look": {"at": "LP1", "from": "above"}, "do": [{"open": "LP1", "to": 60}]},
        {"ask": "Met?", "expect": {"LP1": "open", "WW1": {SPACE: "met"}}},
    )
    results = run_lesson(scene)
    found = json.loads(json.dumps(lesson_document(scene, results)))
    assert (found["format"], found["lesson"], found["passed"]) == (1, "Wireways", False)
    assert (found["scene"], found["rules"]) == ("Annex", "nec-2023")
    assert found["start"] == check(scene).document()
    one, two = found["steps"]
    assert one["look"] == {"at": "LP1", "from": "above"}
    assert one["open"] == [{"item": "LP1", "leaf": 0, "angle": 60.0}]
    assert (one["step"], one["say"], one["ask"], one["failed"]) == (1, "See.", "", [])
    assert (two["ask"], two["look"]) == ("Met?", None)
    assert two["report"] == results[1].report.document()
    assert two["failed"] == [
        {"item": "LP1", "requirement": None, "expected": "open", "found": "met"},
        {"item": "WW1", "requirement": SPACE, "expected": "met", "found": None},
    ]


def test_every_question_of_the_course_can_be_answered_and_scored() -> None:
    """Who always says yes, or always no, has about half of them right."""
    right = {"Yes": 0, "No": 0}
    for file in sorted(LESSONS.glob("*.yaml")):
        lesson = read_scene(file).lesson
        assert lesson is not None
        for number, step in enumerate(lesson.steps, start=1):
            at = (file.stem, number)
            assert not step.ask or step.choices or step.find or step.drag, at
            if not step.choices:
                continue
            assert 2 <= len(step.choices) <= 4, at
            (told,) = [one for one in step.choices if one.right]
            assert all(one.why for one in step.choices), at
            words = {one.text.split(",")[0].split(" ")[0] for one in step.choices}
            first = told.text.split(",")[0].split(" ")[0]
            if right.keys() <= words and first in right:
                right[first] += 1
    assert sum(right.values()) > 50
    assert 0.4 < right["Yes"] / sum(right.values()) < 0.6
