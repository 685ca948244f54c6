"""The course by keys alone, by what a screen reader is told, and on the whole screen.

That a control's name holds the text that is seen on it is WCAG 2.2, 2.5.3; that all of
it is reached by keys 2.1.1; that a change of status is told 4.1.3. The rooms are
invented.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from tests.viewer.browsing import Opened, opened, quiet
from tests.viewer.written_rooms import LESSON, QUESTIONS, ROOM
from viewer.cli.main import main

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser

MOST = 120
"""So many times Tab is pressed at most."""


@pytest.fixture(scope="module")
def course_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("reach")
    for name, lesson in (("a", LESSON), ("b", QUESTIONS)):
        text = json.dumps({**ROOM, "lesson": lesson})
        (folder / f"{name}.json").write_text(text, encoding="utf-8")
    path = folder / "course.html"
    assert main(["page", str(folder), "-o", str(path)]) == 0
    return path


@pytest.fixture
def course(browser: Browser, course_file: Path) -> Iterator[Opened]:
    with quiet(browser, course_file) as found:
        yield found


def tab_to(room: Opened, selector: str) -> None:
    """Press Tab until something has the keyboard."""
    for _ in range(MOST):
        room.page.keyboard.press("Tab")
        script = f"document.activeElement.matches({selector!r})"
        if room.page.evaluate(script):
            return
    message = f"Tab never comes to {selector}"
    raise AssertionError(message)


def told(room: Opened) -> list[dict[str, Any]]:
    """Return the accessibility tree: role, name and description of what is told."""
    session = room.page.context.new_cdp_session(room.page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    return [
        {
            key: node.get(key, {}).get("value", "")
            for key in ("role", "name", "description")
        }
        for node in nodes
        if not node.get("ignored")
    ]


def test_a_course_is_gone_through_by_keys_alone(course: Opened) -> None:
    page = course.page
    tab_to(course, ".lessons li:nth-child(2) button")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert course.tell("lesson") == {"step": 1, "answered": False}
    tab_to(course, ".answer[data-name='1']")
    page.keyboard.press("Space")
    assert course.tell("score") == {"points": 1, "of": 1}
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    for thing in ("BOX", "WW1"):
        tab_to(course, f".thing[data-name={thing}]")
        page.keyboard.press("Enter")
    page.keyboard.press("PageDown")
    assert course.tell("score") == {"points": 3, "of": 3}
    page.keyboard.press("PageDown")
    assert course.tell("picked.item") == "BOX"
    # The machine is moved with the arrow keys, in the room itself.
    tab_to(course, "#room")
    before = course.tell("bounds('BOX')")
    page.keyboard.press("ArrowDown")
    course.wait("whatif.moved.BOX !== undefined")
    assert course.tell("bounds('BOX')") != before
    # And by its place, in figures: 2700 - 1000 - 200.
    tab_to(course, "[data-way='1']")
    page.keyboard.press("Control+a")
    page.keyboard.type("1500")
    page.keyboard.press("Enter")
    course.wait("score.points === 4")
    tab_to(course, "#all-lessons")
    page.keyboard.press("Enter")
    assert page.locator("#course").is_visible()


def test_a_screen_reader_is_told_what_is_seen(course: Opened) -> None:
    page = course.page
    page.locator(".lessons button").nth(1).click()
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    course.rest()
    tree = told(course)
    (room,) = [one for one in tree if one["role"] == "application"]
    assert room["name"].startswith("The room in three dimensions")
    assert "not met" in room["description"]
    by_role: dict[str, list[str]] = {}
    for one in tree:
        by_role.setdefault(one["role"], []).append(one["name"])
    assert {"Lesson", "Judgements"} <= {
        *by_role.get("region", []),
        *by_role.get("complementary", []),
    }
    assert all(by_role["button"]), "a button without a name"
    assert all(by_role.get("textbox", ["none"]))
    for selector in ("#counts", "#lesson .words"):
        assert page.locator(selector).get_attribute("aria-live") == "polite"
    assert page.locator("#played").get_attribute("role") == "status"


def test_a_change_of_verdict_is_told(course: Opened) -> None:
    page = course.page
    page.locator(".lessons button").nth(1).click()
    page.evaluate(
        """() => {
            window.heard = [];
            const hear = () => heard.push(document.getElementById('counts').innerText);
            new MutationObserver(hear).observe(
                document.getElementById('counts'), {childList: true, subtree: true});
        }"""
    )
    course.tell("pickItem('BOX')")
    page.locator("[data-way='1']").fill("1500")
    page.keyboard.press("Enter")
    course.wait("whatif.answers.length > 0")
    course.wait("settled !== false && heard.length > 0")


def test_the_name_of_a_view_is_where_one_stands(course: Opened) -> None:
    """East is along x, north along y; the eye is on the side the view is named by."""
    page = course.page
    page.locator(".lessons button").nth(0).click()
    page.keyboard.press("PageDown")
    sides = {"south": (0, -1), "east": (1, 0), "north": (0, 1), "west": (-1, 0)}
    for name, (x, y) in sides.items():
        button = page.locator(f"[data-view={name}]")
        button.click()
        course.rest()
        assert button.get_attribute("aria-current") == "true"
        seen = button.inner_text()
        assert (button.get_attribute("aria-label") or "").startswith(seen)
        # What is nearer to the eye is lower in the picture: a step towards the viewer.
        at = course.tell("onScreen(2, 1.5, 0)")
        near = course.tell(f"onScreen({2 + 0.5 * x}, {1.5 + 0.5 * y}, 0)")
        assert near[1] > at[1], name
    assert page.locator("#views [aria-current]").count() == 1


def test_it_fills_the_screen_and_comes_back(course: Opened) -> None:
    page = course.page
    if not page.evaluate("document.fullscreenEnabled"):
        pytest.skip("this browser fills no screen")
    whole = "Boolean(document.fullscreenElement)"
    button = page.get_by_role("button", name="Full screen")
    for wanted in (True, False):
        page.keyboard.press("f")
        course.wait(f"settled !== false && {whole} === {str(wanted).lower()}")
        assert button.get_attribute("aria-pressed") == str(wanted).lower()


@pytest.mark.parametrize("size", [(1200, 800), (900, 700), (390, 800)])
def test_the_place_form_and_the_picked_thing_are_seen_together(
    browser: Browser, course_file: Path, size: tuple[int, int]
) -> None:
    with opened(browser, course_file.as_uri(), size=size) as room:
        page = room.page
        page.locator(".lessons button").nth(1).click()
        for _ in range(5):
            page.keyboard.press("PageDown")
        room.rest()
        field = page.locator("[data-way='1']")
        field.focus()
        page.wait_for_timeout(100)
        box = field.bounding_box()
        assert box is not None
        assert 0 <= box["y"] <= size[1] - box["height"]
        left, top = room.tell("onScreen(2.7, 2.2, 0.7)")
        assert 0 <= left <= size[0]
        assert 0 <= top <= size[1]
        # Nothing of the form lies over the room.
        picture = page.locator("#room").bounding_box()
        assert picture is not None
        beside = box["x"] >= picture["x"] + picture["width"]
        assert beside or box["y"] >= picture["y"] + picture["height"]
