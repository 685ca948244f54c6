"""What if, in a page that was sent: dragged, typed, judged on the spot, put back.

The page is a file that is opened without a network; the room is invented. What must be
so of the room is what the check says of it.
"""

from __future__ import annotations

import json
import random
import subprocess
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

from model3d import check
from model3d.wording import length
from tests.paths import ROOT
from tests.scenes import examples
from tests.viewer.browsing import Opened, index_of, opened
from tests.viewer.node import node
from tests.viewer.written_rooms import LESSON, room_scene
from viewer.page.html import write

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

MEGABYTE = 1_000_000


def drag(
    room: Opened, start: tuple[float, ...], end: tuple[float, ...], *, drop: bool = True
) -> None:
    """Drag with the mouse from one point of the room to another, in one gesture."""
    mouse = room.page.mouse
    here, there = (room.tell(f"onScreen({x}, {y}, {z})") for x, y, z in (start, end))
    mouse.move(*here)
    mouse.down()
    for part in (0.3, 0.6, 1.0):
        mouse.move(*(a + part * (b - a) for a, b in zip(here, there, strict=True)))
    if drop:
        mouse.up()


def plan(room: Opened) -> None:
    room.page.locator("[data-view=above]").click()
    room.rest()


def verdict(room: Opened, subject: str, requirement: str) -> str:
    row = room.tell("rows")[index_of(room, subject, requirement)]
    return str(row["verdict"])


def test_it_answers_while_something_is_dragged_and_puts_it_back(room: Opened) -> None:
    plan(room)
    page, before = room.page, room.tell("rows")
    camera = room.tell("camera")
    assert verdict(room, "CP1", "working-space") == "not-met"
    assert page.locator("#provisional").is_hidden()
    # In one gesture: what was not picked is picked and moved. The view stays.
    drag(room, (2.7, 2.2, 1.5), (1.7, 1.1, 1.5), drop=False)
    room.wait("whatif.moved.BOX !== undefined")
    room.wait("gauges.length > 0")
    assert "BOX" in page.locator("#readout").inner_text()
    page.mouse.up()
    assert room.tell("picked.item") == "BOX"
    assert room.tell("camera.target") == pytest.approx(camera["target"])
    assert room.tell("camera.span") == pytest.approx(camera["span"])
    east, north, up = room.tell("whatif.places.BOX")
    assert (east, north) == (pytest.approx(1700, abs=60), pytest.approx(1100, abs=60))
    assert up == 0
    # The rules say the same of that place.
    assert verdict(room, "CP1", "working-space") == _checked(
        "BOX", [east, north], "CP1", "working-space"
    )
    assert page.locator("#provisional").is_visible()
    assert "Provisional" in page.locator("#provisional").inner_text()
    # Ways out are not judged here: open, whatever they were.
    assert verdict(room, "CP1", "entrance") == "open"
    page.locator("#undo").click()
    room.wait("whatif.moved.BOX === undefined")
    assert room.tell("rows") == before
    assert page.locator("#provisional").is_hidden()
    # Undo has taken back what the gesture did, in one step.
    assert page.locator("#undo").is_disabled()


def _checked(item: str, at: list[float], subject: str, requirement: str) -> str:
    scene = room_scene()
    items: list[dict[str, Any]] = [dict(one.written()) for one in scene.items]
    for one in items:
        if one["id"] == item:
            one["place"] = {**one["place"], "at": at}
    (judged,) = check(room_scene(items=items)).of(subject, requirement)
    return judged.verdict


def test_a_place_that_is_typed_is_judged(room: Opened) -> None:
    room.tell("pickItem('BOX')")
    room.rest()
    page = room.page
    page.locator("[data-way='1']").fill("2000")
    page.keyboard.press("Enter")
    room.wait("whatif.moved.BOX !== undefined")
    room.wait("whatif.answers.length > 0")
    row = page.locator("#list .row.provisional", has_text="CP1").filter(
        has_text="working space"
    )
    # 1.0 m is required by NEC 2023 Table 110.26(A)(1); 2700 - 2200 mm are there.
    assert "BOX is 500 mm (1 ft 7 11/16 in) too near" in row.inner_text()
    page.locator(".put-back").click()
    room.wait("whatif.moved.BOX === undefined")
    # The form is shown anew with the next picture.
    expect(page.locator("[data-way='1']")).to_have_value("2200")
    # To put it back is undone like any move.
    page.locator("#undo").click()
    room.wait("whatif.moved.BOX !== undefined")
    page.locator("#back").click()
    room.wait("whatif.moved.BOX === undefined")


def test_keys_move_what_is_picked_by_the_step(room: Opened) -> None:
    plan(room)
    room.page.mouse.click(*room.tell("onScreen(2.7, 2.2, 1.5)"))
    room.page.locator("#room").focus()
    room.page.keyboard.press("ArrowRight")
    room.page.keyboard.press("ArrowDown")
    room.wait(
        "whatif.places.BOX[0] === 2710 && standclear.whatif.places.BOX[1] === 2190"
    )
    room.page.keyboard.press("Shift+ArrowUp")
    room.wait("whatif.places.BOX[2] === 10")
    assert "Nothing carries it" in room.page.locator("#readout").inner_text()
    room.page.keyboard.press("Escape")
    azimuth = room.tell("camera.azimuth")
    room.page.keyboard.press("ArrowRight")
    # Nothing is picked: the keys turn the room.
    assert room.tell("camera.azimuth") != azimuth


def test_what_is_let_go_in_the_air_comes_down(room: Opened) -> None:
    room.tell("pickItem('BOX')")
    room.rest()
    page = room.page
    here = room.tell("onScreen(2.7, 2.0, 1.0)")
    page.mouse.move(*here)
    page.mouse.down()
    page.keyboard.down("Shift")
    page.mouse.move(here[0], here[1] - 20)
    page.mouse.move(here[0], here[1] - 60)
    room.wait("whatif.places.BOX[2] > 100")
    assert "Nothing carries it" in page.locator("#readout").inner_text()
    page.mouse.up()
    page.keyboard.up("Shift")
    room.wait("whatif.places.BOX[2] === 0")


def test_what_stands_on_the_floor_steps_onto_a_pad(
    browser: Browser, tmp_path: Path
) -> None:
    pad = {
        "id": "PAD",
        "kind": "pad",
        "size": [900, 700, 100],
        "place": {"at": [1500, 1200], "facing": "south"},
    }
    items = [one.written() for one in room_scene().items]
    scene, path = room_scene(items=[*items, pad]), tmp_path / "pad.html"
    write(scene, check(scene), path)
    with opened(browser, path.as_uri()) as found:
        plan(found)
        drag(found, (2.7, 2.2, 1.5), (1.5, 1.2, 1.5))
        found.wait("whatif.places.BOX[2] === 100")
        assert "Nothing carries it" not in found.page.locator("#readout").inner_text()
        east, north, _ = found.tell("whatif.places.BOX")
        assert (east, north) == (
            pytest.approx(1500, abs=60),
            pytest.approx(1200, abs=60),
        )
        drag(found, (1.38, 1.08, 1.6), (2.8, 1.08, 1.6))
        found.wait("whatif.places.BOX[2] === 0")
        assert found.complaints == []


def test_what_hangs_on_a_wall_slides_along_it(room: Opened) -> None:
    plan(room)
    # Beside the badge that stands over its middle.
    drag(room, (2.9, 2.85, 1.5), (2.2, 2.75, 1.5))
    room.wait("whatif.moved.CP1 !== undefined")
    east, north, _ = room.tell("whatif.places.CP1")
    assert east == pytest.approx(2000, abs=60)
    # It was 300 deep, its back at the wall 3000 north, and still is.
    assert north == 2850


def test_the_lesson_is_told_in_the_room_as_it_was_checked(lesson: Opened) -> None:
    lesson.tell("pickItem('BOX')")
    lesson.rest()
    lesson.page.locator("[data-way='0']").fill("1000")
    lesson.page.keyboard.press("Enter")
    lesson.wait("whatif.moved.BOX !== undefined")
    lesson.page.locator("#lesson .next").click()
    assert lesson.page.locator("#undo").is_disabled()
    assert lesson.page.locator("#provisional").is_hidden()
    lesson.tell("pickItem('BOX')")
    assert lesson.page.locator("[data-way]").count() == 0


@pytest.mark.long
@pytest.mark.parametrize("name", ["pump-station", "scanned-pump"])
def test_a_page_with_all_it_must_know_stays_small(name: str, tmp_path: Path) -> None:
    path = tmp_path / "room.html"
    write(examples.scene(name), examples.report(name), path)
    assert path.stat().st_size < MEGABYTE


@pytest.mark.long
def test_the_same_scene_gives_the_same_bytes(tmp_path: Path) -> None:
    paths = [tmp_path / name for name in ("one.html", "two.html")]
    for path in paths:
        scene = room_scene(lesson=LESSON)
        write(scene, check(scene), path)
    assert paths[0].read_bytes() == paths[1].read_bytes()


def test_it_works_in_a_narrow_window(browser: Browser, page_file: Path) -> None:
    with opened(browser, page_file.as_uri(), size=(390, 844)) as found:
        found.tell("pickItem('BOX')")
        found.rest()
        found.page.locator("[data-way='1']").fill("1000")
        found.page.keyboard.press("Enter")
        found.wait("whatif.moved.BOX !== undefined")
        assert found.page.evaluate("document.documentElement.scrollWidth") <= 390
        for control in ("#undo", "#back", "#provisional"):
            box = found.page.locator(control).bounding_box()
            assert box is not None
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= 390
        assert found.complaints == []
        assert found.asked == [page_file.as_uri()]


def test_lengths_are_written_as_everywhere() -> None:
    draw = random.Random(13)  # noqa: S311 - no secret
    asked = [
        (draw.randint(1, 99_999), draw.choice(("mm", "m", "in", "ft")))
        for _ in range(300)
    ]
    asked += [(0, "mm"), (3048, "in"), (127, "in"), (10, "mm"), (7, "ft")]
    script = ROOT / "tests" / "viewer" / "page" / "lengths.mjs"
    told = subprocess.run(  # noqa: S603 - our own script
        [node(), str(script)],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=True,
    )
    right = [length(tenths / 10_000, unit) for tenths, unit in asked]
    assert json.loads(told.stdout) == right
