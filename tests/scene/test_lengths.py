"""Lengths that nothing can have, told in metres whatever their unit is.

The bounds are the product's own: 10 000 km, within which the coordinates of every
country's grid lie, and a hundredth of a millimetre, than which no sheet is thinner.
"""

from __future__ import annotations

import json
import warnings
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from model3d import check
from model3d.lessons import LessonError, run_lesson
from model3d.scene.text.reader import SceneError, read_scene, read_text
from model3d.units import METRES
from tests.independent.meshes import box, write

if TYPE_CHECKING:
    from pathlib import Path

PANEL = {
    "id": "LP1",
    "kind": "panelboard",
    "size": ["1000 mm", "150 mm", "900 mm"],
    "place": {"wall": "north", "along": "2 m", "bottom": "900 mm"},
    "supply": {"system": "480Y/277"},
}


def scene(unit: str, *items: dict[str, Any], **more: Any) -> str:  # noqa: ANN401
    return json.dumps(
        {
            "title": "T",
            "units": unit,
            "rules": "nec-2023",
            "room": {"size": ["6 m", "4 m"], "height": "4 m"},
            "items": [PANEL, *items],
            **more,
        }
    )


def mistakes(text: str) -> list[str]:
    with pytest.raises(SceneError) as caught:
        read_text(text, "scene.json")
    return [f"{one.field}: {one.message}" for one in caught.value.mistakes]


def block(size: object, at: object = "1 m") -> dict[str, Any]:
    place = {"at": [at, "1 m"]}
    return {
        "id": "B",
        "kind": "obstacle",
        "size": [size, "1 m", "1 m"],
        "place": place,
    }


@pytest.mark.parametrize("unit", METRES)
def test_how_far_is_the_same_in_every_unit(unit: str) -> None:
    bare = 9e6 / METRES[unit]
    for written in (bare, -bare, "9000000 m", "-9000000 m", "-700000 m"):
        read_text(scene(unit, block("1 m", written)), "scene.json")
    too_far = 1.1e7 / METRES[unit]
    for written in (too_far, -too_far, "11000000 m"):
        (line,) = mistakes(scene(unit, block("1 m", written)))
        assert line.startswith("place.at[0]: found ")
        assert line.endswith("right is a length below 10000 km")


@pytest.mark.parametrize("unit", METRES)
def test_how_thin_is_the_same_in_every_unit(unit: str) -> None:
    thin = 2e-5 / METRES[unit]
    read_text(scene(unit, block(thin)), "scene.json")
    for written in (thin / 4, "0.005 mm", "0.0001 in"):
        (line,) = mistakes(scene(unit, block(written)))
        assert line.startswith("size[0]: found ")
        assert "right is a length of at least " in line


def test_lengths_of_the_room_and_of_a_lesson() -> None:
    room = {"size": [1e8, "4 m"], "height": 3}
    (line,) = mistakes(scene("m", room=room))
    assert line == "room.size[0]: found 100000000, right is a length below 10000 km"
    step = {"say": "So.", "do": [{"move": "LP1", "by": [1e8, 0, 0]}]}
    lesson = {"title": "L", "steps": [step]}
    (line,) = mistakes(scene("m", lesson=lesson))
    assert line.startswith("lesson.steps[0].do[0].by[0]: found 100000000, right is")


def test_moves_of_a_lesson_that_end_too_far() -> None:
    step = {"say": "So.", "do": [{"move": "B", "by": [6e6, 0, 0]}] * 2}
    text = scene("m", block("1 m"), lesson={"title": "L", "steps": [step]})
    with pytest.raises(LessonError, match="below 10000 km"):
        run_lesson(read_text(text, "scene.json"))


def test_a_model_with_the_coordinates_of_a_country(tmp_path: Path) -> None:
    """A block 700 ahead of the front, drawn 5000 km away: as if it were drawn here."""
    away = np.array([455_000_000.0, 5_310_000_000.0, 0.0])
    low, high = (2200.0, 2900.0, 0.0), (2600.0, 3150.0, 1500.0)
    found = []
    for shift in (np.zeros(3), away):
        body = box(tuple(low + shift), tuple(high + shift))
        item = {
            "id": "SCAN",
            "kind": "obstacle",
            "grounded": False,
            "mesh": write(tmp_path / "scan.obj", *body),
            "shift": (-shift).tolist(),
        }
        file = tmp_path / "scene.json"
        file.write_text(scene("mm", item))
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            report = check(read_scene(file)).document()
        (one,) = (
            one
            for one in report["judgements"]
            if (one["subject"], one["requirement"]) == ("LP1", "working-space")
        )
        found.append(one)
    near, far = found
    assert near["verdict"] == far["verdict"] == "not-met"
    assert far["provided"] == pytest.approx(near["provided"], abs=0.01)
