"""Several lessons on one page: index, places kept, light and dark, large, narrow.

What must be so is the product's own contract; the rooms are invented. That text has a
contrast of 4.5 to 1 and all else axe looks for is WCAG 2.2, levels A and AA.
"""

from __future__ import annotations

import base64
import gzip
import json
from itertools import combinations
from typing import TYPE_CHECKING, Any, Literal

import pytest

from model3d.following import Following
from tests.paths import ROOT
from tests.viewer.browsing import Opened, opened, quiet
from tests.viewer.written_rooms import LESSON, QUESTIONS, ROOM, Plain, room_scene
from viewer.cli.main import main
from viewer.page import remedies as remedies_page
from viewer.page import taught as taught_page
from viewer.page.html import WEB, course_room
from viewer.sheet.sign_places import Rectangle

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser

    from model3d import Scene

AXE = WEB / "node_modules" / "axe-core" / "axe.min.js"
Scheme = Literal["dark", "light"]
SERIOUS = {"moderate", "serious", "critical"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Scenes of two lessons, and one without."""
    path = tmp_path_factory.mktemp("lessons")
    for name, more in (
        ("a", {"lesson": LESSON}),
        ("b", {"lesson": QUESTIONS}),
        ("c", {}),
    ):
        text = json.dumps({**ROOM, **more})
        (path / f"{name}.json").write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def course_file(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("course") / "course.html"
    assert main(["page", str(folder), "-o", str(path)]) == 0
    return path


@pytest.fixture
def course(browser: Browser, course_file: Path) -> Iterator[Opened]:
    """The page of both: in the end nothing went wrong, nothing was asked for."""
    with quiet(browser, course_file) as found:
        yield found


def test_the_index_leads_to_every_lesson_and_keeps_its_place(course: Opened) -> None:
    page = course.page
    lessons = page.locator(".lessons button")
    assert lessons.count() == 2
    assert "How far may a wireway stick out?" in lessons.nth(0).inner_text()
    assert "3 steps \u00b7 1 question" in lessons.nth(0).inner_text()
    assert "about 2 min" in lessons.nth(1).inner_text()
    assert page.locator("#room").is_hidden()
    assert page.locator(".course-caution").is_visible()
    # By keys alone.
    lessons.nth(1).focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert course.tell("lesson") == {"step": 1, "answered": False}
    page.locator(".answer").nth(1).click()
    page.keyboard.press("ArrowRight")
    page.locator("#all-lessons").click()
    assert "Step 1 of 3, score 1 of 1" in lessons.nth(1).inner_text()
    assert "Score so far: 1 of 1." in page.locator("#course").inner_text()
    # The index is no lesson: its keys lead nowhere.
    page.keyboard.press("ArrowRight")
    lessons.nth(0).click()
    assert course.tell("lesson") == {"step": 0, "answered": True}
    for _ in range(4):
        page.keyboard.press("ArrowRight")
    assert course.tell("lesson") == {"step": 3, "answered": True}
    assert page.locator("#lesson .next").inner_text() == "Next lesson"
    page.keyboard.press("ArrowRight")
    assert course.tell("lesson") == {"step": 1, "answered": True}
    assert "What is in the way?" in page.locator("#lesson").inner_text()
    assert page.locator("#lesson .score").inner_text() == "Score 1 of 1"


def test_what_is_moved_in_one_lesson_is_not_in_another(course: Opened) -> None:
    page = course.page
    page.locator(".lessons button").nth(0).click()
    course.tell("pickItem('BOX')")
    page.locator("[data-way='1']").fill("2000")
    page.keyboard.press("Enter")
    course.wait("whatif.moved.BOX !== undefined")
    page.locator("#all-lessons").click()
    page.locator(".lessons button").nth(1).click()
    assert course.tell("whatif.moved") == {}
    assert page.locator("#provisional").is_hidden()


def test_light_and_dark_follow_the_system_until_one_is_chosen(course: Opened) -> None:
    page = course.page
    theme = "document.documentElement.dataset.theme"
    schemes: tuple[Scheme, ...] = ("dark", "light")
    for scheme in schemes:
        page.emulate_media(color_scheme=scheme)
        course.wait(f"settled !== false && {theme} === '{scheme}'")
    page.keyboard.press("d")
    assert page.evaluate(theme) == "dark"
    page.emulate_media(color_scheme="dark")
    page.emulate_media(color_scheme="light")
    assert page.evaluate(theme) == "dark"


def test_text_is_large_for_a_projector(course: Opened) -> None:
    page = course.page
    size = "parseFloat(getComputedStyle(document.body).fontSize)"
    before = page.evaluate(size)
    page.get_by_role("button", name="Large text").click()
    assert page.evaluate(size) > 1.4 * before
    page.keyboard.press("l")
    assert page.evaluate(size) == before


def test_large_texts_stay_in_the_picture_and_apart(
    browser: Browser, course_file: Path
) -> None:
    with opened(browser, course_file.as_uri(), size=(390, 800)) as found:
        page = found.page
        page.locator(".lessons button").nth(0).click()
        for _ in range(3):
            page.keyboard.press("ArrowRight")
        found.rest()
        for _ in range(2):
            page.keyboard.press("l")
            page.wait_for_timeout(300)
            frame = page.locator("#stage").bounding_box()
            assert frame is not None
            boxes = [
                text.bounding_box() for text in page.locator(".texts > *:visible").all()
            ]
            assert len(boxes) > 2
            right, bottom = frame["x"] + frame["width"], frame["y"] + frame["height"]
            placed = [
                Rectangle(
                    box["x"],
                    box["y"],
                    box["x"] + box["width"],
                    box["y"] + box["height"],
                )
                for box in boxes
                if box is not None
            ]
            assert all(one.right <= right and one.bottom <= bottom for one in placed)
            for one, other in combinations(placed, 2):
                assert not one.overlaps(other)


def test_the_keys_are_shown_in_the_page(course: Opened) -> None:
    page = course.page
    page.keyboard.press("?")
    dialog = page.get_by_role("dialog", name="Keys")
    assert "full screen" in dialog.inner_text()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Escape")
    assert dialog.is_hidden()


@pytest.mark.parametrize("keys", ["", "l"])
def test_nothing_is_scrolled_sideways_on_a_phone(
    browser: Browser, course_file: Path, keys: str
) -> None:
    with opened(browser, course_file.as_uri(), size=(390, 800)) as found:
        page = found.page
        page.keyboard.type(keys)
        wide = "document.documentElement.scrollWidth"
        assert page.evaluate(wide) <= 390
        page.locator(".lessons button").nth(1).click()
        for _ in range(6):
            page.keyboard.press("ArrowRight")
            found.rest()
            assert page.evaluate(wide) <= 390
        assert found.complaints == []


def test_the_tools_stand_in_one_row_on_a_phone(
    browser: Browser, course_file: Path
) -> None:
    """One of them had a row of its own, which took it from the picture."""
    with opened(browser, course_file.as_uri(), size=(390, 800)) as found:
        found.page.locator(".lessons button").nth(0).click()
        boxes = [
            one.bounding_box() for one in found.page.locator("#tools button").all()
        ]
        assert len(boxes) == 5
        assert len({box["y"] for box in boxes if box is not None}) == 1
        # WCAG 2.2, 2.5.8: targets of at least 24 by 24 pixels.
        assert all(min(box["width"], box["height"]) >= 24 for box in boxes if box)


def test_the_keys_come_to_nothing_that_the_picture_hides(
    browser: Browser, course_file: Path
) -> None:
    """On a phone the picture stays: WCAG 2.2, 2.4.11, focus is not obscured."""
    with opened(browser, course_file.as_uri(), size=(390, 800)) as found:
        page = found.page
        page.keyboard.type("l")
        page.locator(".lessons button").nth(1).click()
        page.keyboard.press("ArrowRight")
        found.rest()
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        for answer in reversed(page.locator(".answer").all()):
            answer.evaluate("(one) => one.scrollIntoView({block: 'nearest'})")
            top, picture = page.evaluate(
                """() => [".answer", "#stage"].map((name) =>
                  document.querySelector(name).getBoundingClientRect())
                  .map((box, n) => (n ? box.bottom : box.top))"""
            )
        assert top >= picture


@pytest.mark.parametrize("width", [390, 900, 1600])
def test_the_title_of_a_lessons_room_is_whole(
    browser: Browser, course_file: Path, width: int
) -> None:
    with opened(browser, course_file.as_uri(), size=(width, 800)) as found:
        page = found.page
        page.keyboard.type("l")
        page.locator(".lessons button").nth(0).click()
        title = "const it = document.querySelector('#title'); "
        text = "Wester Lomond waterworks, pump control room and its neighbours"
        page.evaluate(f"{title} it.textContent = {text!r}")
        assert page.evaluate(f"{title} it.scrollWidth <= it.clientWidth")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious(course: Opened, scheme: Scheme) -> None:
    if not AXE.is_file():
        pytest.skip("axe-core is missing: npm ci in viewer/page/web")
    page = course.page
    page.emulate_media(color_scheme=scheme)
    page.evaluate(AXE.read_text("utf-8"))
    assert barriers(course) == []
    assert page.get_by_role("main").count() == 1
    page.locator(".lessons button").nth(1).click()
    for _ in range(6):
        page.keyboard.press("ArrowRight")
        course.rest()
        if not course.tell("lesson.answered"):
            for choice in page.locator(".answer").all()[:1]:
                choice.click()
        assert barriers(course) == []
    page.locator("#list button.row").first.click()
    for box in ("#layer-box", "#section-box"):
        page.locator(f"{box} summary").click()
    page.locator("[data-axis=x]").click()
    page.keyboard.press("t")
    assert barriers(course) == []
    page.keyboard.press("?")
    assert barriers(course) == []
    page.keyboard.press("Escape")


@pytest.mark.long
@pytest.mark.parametrize("name", ["seven-faults", "hit-at-a-height"])
def test_axe_finds_nothing_in_any_step_of_a_lesson(
    browser: Browser, tmp_path: Path, name: str
) -> None:
    """In large text and in the dark, every answer open. The whole course was so too."""
    if not AXE.is_file():
        pytest.skip("axe-core is missing: npm ci in viewer/page/web")
    (scene,) = (ROOT / "scenes" / "lessons").glob(f"*{name}*.yaml")
    path = tmp_path / "lesson.html"
    assert main(["page", str(scene), "-o", str(path)]) == 0
    with quiet(browser, path) as found:
        page = found.page
        page.emulate_media(color_scheme="dark", reduced_motion="reduce")
        page.keyboard.press("l")
        page.evaluate(AXE.read_text("utf-8"))
        seen = set()
        while (state := str(found.tell("lesson"))) not in seen:
            seen.add(state)
            page.keyboard.press("ArrowRight")
            found.rest()
            assert barriers(found) == [], state
        assert len(seen) > 8


def barriers(room: Opened) -> list[dict[str, Any]]:
    """Return what axe finds that is serious, with where it is."""
    asked = "{resultTypes: ['violations'], rules: {'target-size': {enabled: true}}}"
    found = room.page.evaluate(f"axe.run(document, {asked})")
    return [
        {"id": one["id"], "at": [node["html"][:160] for node in one["nodes"]]}
        for one in found["violations"]
        if one["impact"] in SERIOUS
    ]


@pytest.mark.long
def test_what_is_no_course_is_a_line(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "course.html"
    for given, wrong in (
        ([folder / "a.json", folder / "c.json"], "c.json: found no lesson"),
        ([folder, "--still"], "found --still with several lessons"),
    ):
        assert main(["page", *map(str, given), "-o", str(target)]) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert wrong in line
        assert not target.exists()


@pytest.mark.long
def test_the_same_lessons_give_the_same_bytes(
    folder: Path, course_file: Path, tmp_path: Path
) -> None:
    again = tmp_path / "again.html"
    assert main(["page", str(folder), "-o", str(again)]) == 0
    assert again.read_bytes() == course_file.read_bytes()
    script = len((WEB / "viewer.js").read_bytes())
    # What all of them need stands there once.
    assert len(again.read_bytes()) < 2 * script


@pytest.mark.long
def test_any_number_of_processes_makes_the_same_page(
    folder: Path, course_file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "alone.html"
    assert main(["page", str(folder), "--jobs", "1", "-o", str(path)]) == 0
    assert path.read_bytes() == course_file.read_bytes()


@pytest.mark.long
def test_its_data_is_told_in_few_bytes(course_file: Path) -> None:
    text = course_file.read_text(encoding="utf-8")
    kind, packed = text.split('<script type="', 1)[1].split('" id="data">', 1)
    assert kind == "application/gzip"
    short = base64.b64decode(packed.split("</script>")[0], validate=True)
    long = gzip.decompress(short)
    assert [one["stage"]["lesson"] for one in json.loads(long)["course"]] == [
        LESSON["title"],
        QUESTIONS["title"],
    ]
    assert len(short) < 0.3 * len(long)


@pytest.mark.long
@pytest.mark.parametrize("lesson", [LESSON, QUESTIONS])
def test_no_room_of_a_lesson_is_judged_twice(
    lesson: Plain, monkeypatch: pytest.MonkeyPatch
) -> None:
    judged = []

    class Counted(Following):
        def __init__(self, scene: Scene) -> None:
            judged.append(scene)
            super().__init__(scene)

    monkeypatch.setattr(taught_page, "Following", Counted)
    monkeypatch.setattr(remedies_page, "bench_of_report", None)
    told = course_room(room_scene(lesson=lesson))["stage"]
    # To open a leaf changes nothing that is judged.
    done = [[*step.get("do", ())] for step in lesson["steps"]]
    changed = sum(any("open" not in one for one in do) for do in done)
    assert len(judged) == 1 + changed
    rooms = [told, *told["steps"]]
    assert any(one["remedies"] for room in rooms for one in room["remedies"].values())


def test_what_is_wrong_with_several_lessons_is_told_together(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, old, new in (
        ("a", '"move": "WW1"', '"move": "WW9"'),
        ("b", '"expect": {"CP1"', '"expect": {"BOX": {"workspace": "met"}, "CP1"'),
    ):
        text = (folder / f"{name}.json").read_text(encoding="utf-8")
        assert old in text
        (tmp_path / f"{name}.json").write_text(text.replace(old, new), encoding="utf-8")
    target = tmp_path / "course.html"
    assert main(["page", str(tmp_path), "-o", str(target)]) == 2
    told = capsys.readouterr().err.splitlines()
    assert [line.split(":")[0].rsplit("/", 1)[-1] for line in told] == [
        "a.json"
    ] * 2 + ["b.json"]
    assert "workspace" in told[-1]
    assert not target.exists()


RING = """() => {
  const one = document.activeElement, style = getComputedStyle(one);
  const far = parseFloat(style.outlineWidth) + parseFloat(style.outlineOffset);
  if (one === document.body || style.outlineStyle === "none") return null;
  const box = one.getBoundingClientRect(), cut = [];
  for (let about = one.parentElement; about; about = about.parentElement) {
    if (getComputedStyle(about).overflowX === "visible") continue;
    const seen = about.getBoundingClientRect();
    const least = Math.min(box.left - seen.left, seen.right - box.right,
                           box.top - seen.top, seen.bottom - box.bottom);
    if (least < far - 0.5) cut.push(about.id || about.className || about.tagName);
  }
  return {what: one.outerHTML.slice(0, 80), cut};
}"""
"""What has the focus, and what cuts the ring about it."""


def test_the_ring_about_what_has_the_focus_is_whole(
    browser: Browser, course_file: Path
) -> None:
    """WCAG 2.2, 2.4.7: the focus is seen, all round it."""
    with opened(browser, course_file.as_uri(), size=(1280, 800)) as found:
        page = found.page
        rings = [*_rings(found, 8)]
        page.locator(".lessons button").nth(1).click()
        page.keyboard.press("ArrowRight")
        found.rest()
        for box in ("#layer-box", "#section-box"):
            page.locator(f"{box} summary").click()
        rings += _rings(found, 60)
        assert len(rings) > 30
        told = " ".join(ring["what"] for ring in rings)
        for name in (
            "answer",
            "Layers",
            "Section",
            "data-axis",
            "unread",
            "lesson-title",
        ):
            assert name in told, name
        assert [ring for ring in rings if ring["cut"]] == []


def _rings(found: Opened, keys: int) -> Iterator[dict[str, Any]]:
    for _ in range(keys):
        found.page.keyboard.press("Tab")
        ring = found.page.evaluate(RING)
        if ring is not None:
            yield ring
