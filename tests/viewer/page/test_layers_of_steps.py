"""How near a step of a lesson goes in the page, and which layers it shows.

What must be so is the product's own contract; the room is invented.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from model3d import check
from tests.viewer.browsing import Opened, opened, quiet
from tests.viewer.written_rooms import LAYERED, room_scene
from viewer.page.html import write

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser

STEP = {"gear", "room", "spaces"}
ON, BACK = "PageDown", "PageUp"


@pytest.fixture(scope="module")
def layered_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("layered") / "layered.html"
    scene = room_scene(lesson=LAYERED)
    write(scene, check(scene), path)
    return path


@pytest.fixture
def layered(browser: Browser, layered_file: Path) -> Iterator[Opened]:
    """The page of the lesson: nothing went wrong, nothing was asked for."""
    with quiet(browser, layered_file) as found:
        yield found


def shown(room: Opened) -> set[str]:
    return {one["id"] for one in room.tell("layers") if one["shown"]}


def press(room: Opened, *keys: str) -> None:
    for key in keys:
        room.page.keyboard.press(key)
    room.rest()


def test_the_layers_of_a_step_end_with_it(layered: Opened) -> None:
    layered.page.locator("#layer-box summary").click()
    layered.page.locator("[data-layer=labels]").uncheck()
    own = shown(layered)
    assert "labels" not in own
    press(layered, ON)
    assert shown(layered) == own
    press(layered, ON)
    assert layered.tell("lesson") == {"step": 2, "answered": False}
    assert shown(layered) == STEP
    note = layered.page.locator("#layers .quiet")
    assert note.is_visible()
    hung = "shapes().find((one) => one.layer === 'overhead').id"
    assert not layered.tell(f"isShown(standclear.{hung})")
    # What is switched meanwhile lasts as long as the step does.
    layered.page.locator("[data-layer=labels]").check()
    press(layered, ON)
    assert layered.tell("lesson") == {"step": 2, "answered": True}
    assert shown(layered) == STEP | {"labels"}
    press(layered, ON)
    assert shown(layered) == own
    assert not note.is_visible()
    press(layered, BACK, BACK)
    assert layered.tell("lesson")["step"] == 1
    assert shown(layered) == own


def test_a_step_goes_near(layered: Opened) -> None:
    press(layered, ON)
    far = layered.tell("camera.span")
    press(layered, ON)
    near = layered.tell("camera.span")
    assert near < 0.7 * far
    # The panel, 600 to 1100 east and 900 to 1800 up the north wall, fills much of it.
    ends = [
        layered.tell(f"onScreen({x}, 2.85, {z})")
        for x in (0.6, 1.1)
        for z in (0.9, 1.8)
    ]
    box = layered.page.locator("#room").bounding_box()
    assert box is not None
    tall = max(y for _, y in ends) - min(y for _, y in ends)
    assert tall > 0.3 * box["height"]
    assert all(box["y"] <= y <= box["y"] + box["height"] for _, y in ends)


def test_the_room_fills_a_wide_picture_of_a_step(
    browser: Browser, tmp_path: Path
) -> None:
    """Looked at along its wall, a panel leaves no half of the picture empty."""
    look = {"at": "LP1", "from": "east", "near": 300}
    scene = room_scene(lesson={**LAYERED, "steps": [{"say": "It.", "look": look}]})
    path = tmp_path / "along.html"
    write(scene, check(scene), path)
    with opened(browser, path.as_uri(), size=(1600, 900)) as room:
        press(room, ON)
        box = room.page.locator("canvas").bounding_box()
        assert box is not None
        # The north wall, at y = 3: as far to the right as anything of the room goes.
        wall = [
            room.tell(f"onScreen({x}, 3, {z})")
            for x in (0, 1, 2, 3, 4)
            for z in (0, 0.9, 1.8, 2.7)
        ]
    inside = [x for x, y in wall if box["y"] <= y <= box["y"] + box["height"]]
    assert max(inside) - box["x"] > 0.8 * box["width"]
