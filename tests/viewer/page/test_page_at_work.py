"""The page in a real browser: sections, doors, lessons, keys, paper, and no 3D.

What must be so is the product's own contract; the rooms are invented.
"""

from __future__ import annotations

import io
import json
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from model3d import check
from tests.scenes import examples
from tests.viewer.browsing import Opened, index_of, opened
from tests.viewer.written_rooms import room_scene
from viewer.page.html import page, write
from viewer.stage import build_stage
from viewer.stage.looking.views import view_of_place

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser


def test_texts_never_overlap(room: Opened) -> None:
    for size in ((1600, 1000), (900, 600)):
        room.page.set_viewport_size({"width": size[0], "height": size[1]})
        for view in ("south-east", "above", "north-west"):
            room.page.locator(f"[data-view={view}]").click()
            room.rest()
            boxes = [text["box"] for text in room.tell("texts")]
            assert len(boxes) > 3
            for n, one in enumerate(boxes):
                assert not any(_overlap(one, other) for other in boxes[:n])


def _overlap(one: dict[str, float], other: dict[str, float]) -> bool:
    return (
        one["left"] < other["right"]
        and other["left"] < one["right"]
        and one["top"] < other["bottom"]
        and other["top"] < one["bottom"]
    )


def test_the_section_cuts_and_caps(room: Opened) -> None:
    page = room.page
    page.locator("#section-box summary").click()
    page.locator("[data-axis=x]").click()
    section = room.tell("section")
    assert section["axis"] == "x"
    assert section["at"] == pytest.approx(2.0, abs=0.1)
    slider = page.locator("#section input")
    slider.focus()
    page.keyboard.press("ArrowRight")
    assert room.tell("section.at") > section["at"]
    # Through the control panel: its solid is capped.
    slider.evaluate(
        "(one) => { one.value = 270; one.dispatchEvent(new Event('input')); }"
    )
    assert room.tell("cutFaces") > 0
    page.locator("#section .place button").click()
    assert room.tell("section.keep") != section["keep"]
    page.locator("[data-axis=off]").click()
    assert room.tell("section") is None
    assert room.tell("cutFaces") == 0


def test_the_section_starts_through_what_is_picked_and_says_where_to(
    room: Opened,
) -> None:
    page = room.page
    page.locator("[data-view=east]").click()
    room.tell("pickItem('CP1', false)")
    page.locator("#section-box summary").click()
    page.locator("[data-axis=x]").click()
    # The panel is 600 wide and begins 2400 from the west: its middle is at 2700.
    assert room.tell("section.at") == pytest.approx(2.7, abs=0.02)
    said = page.locator("#section output")
    assert "looking west" in said.inner_text()
    page.locator("#section .place button").click()
    assert "looking east" in said.inner_text()
    page.locator("[data-axis=z]").click()
    assert "looking down" in said.inner_text()


def test_what_is_cut_away_has_no_name(room: Opened) -> None:
    names = "texts.map((text) => text.lines.join()).includes('CP1')"
    assert room.tell(names)
    room.page.locator("#section-box summary").click()
    room.page.locator("[data-axis=x]").click()
    if room.tell("section.keep") == "high":
        room.page.locator("#section .place button").click()
    room.wait(f"{names} === false")


def test_a_narrow_window_shows_everything(browser: Browser, page_file: Path) -> None:
    with opened(browser, page_file.as_uri(), size=(390, 800)) as found:
        page = found.page
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= 390
        for control in ("#layer-box", "#section-box", "#look", "#legend"):
            box = page.locator(control).bounding_box()
            assert box is not None
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= 390
        row = page.locator("#list button.row").first
        row.click()
        found.rest()
        assert found.tell("picked.judgement") == 0
        # The picture stays in sight beside what is told.
        page.locator("#caution").scroll_into_view_if_needed()
        stage = page.locator("#room").bounding_box()
        assert stage is not None
        assert stage["y"] >= 0
        assert found.complaints == []


def test_things_of_one_look_are_one_object(room: Opened) -> None:
    alone = {"leaf", "space", "footprint", "intrusion"}
    roles = [one["role"] for one in room.tell("shapes()")]
    single = sum(role in alone for role in roles)
    assert room.tell("stats.batches") < single + (len(roles) - single) / 2 + 5


def test_a_door_opens_until_it_is_stopped(room: Opened) -> None:
    report = check(room_scene())
    (swing,) = report.of("CP1", "door-swing")
    index = index_of(room, "CP1", "door-swing")
    fold = room.page.locator("details.group.met summary")
    if swing.verdict == "met":
        fold.click()
    room.page.locator(f"[data-judgement='{index}']").click()
    room.page.locator(".door input").evaluate(
        "(one) => { one.value = 10; one.dispatchEvent(new Event('input')); }"
    )
    assert room.tell("angles['CP1/leaf-0']") == pytest.approx(10)
    room.page.locator("button.play").click()
    reached = swing.provided["angle"]
    room.wait(f"angles['CP1/leaf-0'] >= {reached - 0.01}")
    assert room.tell("angles['CP1/leaf-0']") == pytest.approx(reached, abs=0.01)


def test_the_keyboard_does_it_all(room: Opened) -> None:
    page = room.page
    first = room.tell("camera")
    page.locator("#list button.row").first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    room.rest()
    assert room.tell("picked.judgement") == 1
    outline = "getComputedStyle(document.activeElement).outlineStyle"
    assert page.evaluate(outline) == "solid"
    page.keyboard.press("Escape")
    page.locator("#room").focus()
    before = room.tell("camera")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("+")
    after = room.tell("camera")
    assert after["azimuth"] != before["azimuth"]
    assert after["elevation"] > before["elevation"]
    assert after["span"] < before["span"]
    page.keyboard.press("Home")
    room.rest()
    for name in ("azimuth", "elevation", "span"):
        assert room.tell(f"camera.{name}") == pytest.approx(first[name])


def test_tab_reaches_every_control_once(room: Opened) -> None:
    wanted = room.page.locator(
        "button:visible:not([tabindex='-1']):not(:disabled), summary:visible, #room"
    ).count()
    seen = set()
    for _ in range(wanted + 3):
        room.page.keyboard.press("Tab")
        seen.add(
            room.page.evaluate(
                "[...document.querySelectorAll('*')].indexOf(document.activeElement)"
            )
        )
    assert len(seen) >= wanted


def test_a_lesson_is_played(lesson: Opened) -> None:
    page = lesson.page
    words = page.locator("#lesson .words")
    following = page.locator("#lesson .next")
    assert lesson.tell("lesson") == {"step": 0, "answered": True}
    following.click()
    assert "mounted higher" in words.inner_text()
    met = "rows.find((row) => row.subject === 'LP1').verdict"
    shown = ("rows", "shapes()", "bounds('WW1')", "texts.map((one) => one.number)")
    before = [lesson.tell(one) for one in shown]
    counts = page.locator("#counts").inner_text()
    listed = page.locator("#list").inner_text()
    page.keyboard.press("ArrowRight")
    assert lesson.tell("lesson") == {"step": 2, "answered": False}
    assert "Is the space right?" in words.inner_text()
    page.evaluate("window.question = document.querySelector('#lesson .ask')")
    # Nothing on the page has changed yet, and nothing tells how it will.
    assert "as far as it may come" not in page.content().split('id="data"')[0]
    assert [lesson.tell(one) for one in shown] == before
    assert page.locator("#counts").inner_text() == counts
    assert page.locator("#list").inner_text() == listed
    assert following.inner_text() == "Show the answer"
    page.keyboard.press("PageDown")
    assert lesson.tell("lesson") == {"step": 2, "answered": True}
    assert "as far as it may come" in words.inner_text()
    assert [lesson.tell(one) for one in shown] != before
    # Only the answer is read out: the question stays the element it was.
    assert words.locator(".asked").evaluate("(one) => one === window.question")
    page.keyboard.press("ArrowRight")
    assert following.is_disabled()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    assert lesson.tell("lesson") == {"step": 1, "answered": True}
    assert lesson.tell(met) is not None


def test_without_3d_the_judgements_are_text(
    blind_browser: Browser, tmp_path: Path
) -> None:
    scene = room_scene()
    png = io.BytesIO()
    Image.new("RGB", (8, 5), "#0072B2").save(png, "PNG")
    file = tmp_path / "still.html"
    write(scene, check(scene), file, still=png.getvalue())
    with opened(blind_browser, file.as_uri()) as found:
        assert not found.tell("stats.drawn")
        assert found.complaints == []
        assert found.page.locator("#nothing").is_visible()
        still = found.page.locator("#still")
        assert still.is_visible()
        assert still.evaluate("(one) => one.naturalWidth") == 8
        rows = found.page.locator("#table tbody tr")
        assert rows.count() == len(check(scene).judgements)
        assert rows.first.is_visible()
        found.page.locator("#list button.row").first.click()
        assert found.tell("picked.judgement") == 0
        assert found.asked == [file.as_uri()]


def test_paper_shows_a_still_and_every_judgement(room: Opened) -> None:
    page = room.page
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.locator("#still").is_visible()
    assert page.locator("#still").evaluate("(one) => one.decode()") is None
    assert page.locator("#still").evaluate("(one) => one.naturalWidth") > 800
    rows = page.locator("#table tbody tr")
    assert rows.count() == len(room.tell("rows"))
    assert rows.last.is_visible()
    assert page.locator("#caution").is_visible()
    for hidden in ("#room", "#layer-box", "#section-box", "#list"):
        assert not page.locator(hidden).is_visible()


def test_very_many_shapes_are_merged_and_still_picked(
    browser: Browser, tmp_path: Path
) -> None:
    stage = build_stage(room_scene(), check(room_scene()))
    box = stage.shape("BOX")
    crowd = [
        replace(
            box,
            id=f"B{n}",
            item=f"B{n}",
            vertices=np.add(box.vertices, (5 + n % 60, n // 60, 0)),
            edges=np.add(box.edges, (5 + n % 60, n // 60, 0)),
        )
        for n in range(3600)
    ]
    file = tmp_path / "crowd.html"
    file.write_bytes(page(replace(stage, shapes=(*stage.shapes, *crowd))))
    with opened(browser, file.as_uri()) as found:
        assert found.tell("stats.shapes") > 3600
        assert found.tell("stats.batches") < 100
        # What looks away from the eye is not even sent to be drawn.
        found.wait("stats.triangles > 3600")
        assert found.tell("stats.triangles") < 3600 * 12 * 0.75
        found.page.locator("[data-view=above]").click()
        found.rest()
        x, y, _ = crowd[1830].vertices.mean(axis=0)
        found.page.mouse.click(*found.tell(f"onScreen({x}, {y}, 1.5)"))
        assert found.tell("picked.item") == "B1830"
        assert found.complaints == []


def test_where_all_is_met_the_list_says_what(browser: Browser, tmp_path: Path) -> None:
    file, name = tmp_path / "clean.html", "clean-small-room"
    write(examples.scene(name), examples.report(name), file)
    with opened(browser, file.as_uri()) as room:
        fold = room.page.locator("details.met")
        assert fold.evaluate("(one) => one.open")
        fold.locator("summary").click()
        room.page.locator("#whole").click()
        assert not fold.evaluate("(one) => one.open")


def test_it_begins_where_what_is_in_the_way_is_seen(
    browser: Browser, tmp_path: Path
) -> None:
    # From the south-east, where a room is seen from if that is as good, the partition
    # hides the board.
    file = tmp_path / "partition.html"
    name = "three-depth-conditions"
    scene = examples.taught(name)
    write(scene, check(scene), file)
    with opened(browser, file.as_uri()) as room:
        assert "SB1" in room.tell("texts.map((text) => text.lines.join())")
        view = view_of_place(examples.steps_shown(name), 1.6)
        told = json.loads(room.page.locator("#data").text_content() or "")["start"]
        assert told["eye"] == pytest.approx(view.eye, abs=1e-5)
        assert view.eye[0] < view.target[0] or view.eye[1] > view.target[1]
