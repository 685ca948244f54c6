"""What a step of a lesson draws in the page, what moves, and remedies that are played.

What must be so is the product's own contract; the rooms are invented. Figures are
worked out by hand beside each check.
"""

from __future__ import annotations

import io
import json
from contextlib import ExitStack
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from PIL import Image

from model3d import Scene, check, read_scene
from tests.paths import ROOT
from tests.viewer.browsing import Opened, index_of, opened
from tests.viewer.written_rooms import LESSON, room_scene
from viewer.page.html import write
from viewer.page.remedies import remedies, shorten
from viewer.stage import build_stage

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from numpy.typing import NDArray
    from playwright.sync_api import Browser

    from model3d import Report
    from model3d.scene.parts.lesson import Change
    from viewer.stage import Stage

    Begin = Callable[..., Opened]

LESSONS = ROOT / "scenes" / "lessons"
WIDTH = LESSONS / "width-and-where-it-stands.yaml"
HIT = LESSONS / "hit-at-a-height.yaml"
ON = "ArrowRight"
LIMIT = 1_000_000
"""Bytes that a page of one scene may have."""


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("shown")
    made = {name: folder / f"{name}.html" for name in ("own", "width", "room", "hit")}
    for name, scene in (
        ("own", room_scene(lesson=LESSON)),
        ("width", read_scene(WIDTH)),
        ("hit", read_scene(HIT)),
        ("room", room_scene()),
    ):
        write(scene, check(scene), made[name])
    return made


@pytest.fixture
def page_of(browser: Browser, files: dict[str, Path]) -> Iterator[Begin]:
    """Open one of the pages; in the end nothing went wrong."""
    begun: list[Opened] = []
    with ExitStack() as stack:

        def begin(name: str, *, still: bool = True) -> Opened:
            way = opened(browser, files[name].as_uri(), still=still)
            begun.append(stack.enter_context(way))
            return begun[-1]

        yield begin
        assert [one.complaints for one in begun] == [[]] * len(begun)


def lines_of(room: Opened) -> list[str]:
    return [" ".join(one["lines"]) for one in room.tell("texts")]


def test_a_step_draws_its_dimensions(page_of: Begin) -> None:
    room = page_of("own")
    assert not any("depth" in line for line in lines_of(room))
    room.page.keyboard.press(ON)
    room.rest()
    lines = lines_of(room)
    assert any("mounted at 900 mm (2 ft 11 7/16 in)" in line for line in lines)
    assert any("depth 900 mm" in line for line in lines)
    # What is drawn is said to those who do not see it, too.
    words = room.page.locator("#room-words").inner_text()
    assert "mounted at 900 mm" in words
    room.page.keyboard.press(ON)
    room.page.keyboard.press(ON)
    room.rest()
    assert not any("mounted at" in line for line in lines_of(room))


def test_a_space_that_slides_leaves_a_ghost_where_it_was(page_of: Begin) -> None:
    """The heater is 50 from the panel, the centred space reaches 127 past it.

    That is (762 - 508) / 2, so it slides 77 to the right: to the east, before a panel
    on the north wall.
    """
    room = page_of("width")
    room.page.keyboard.press(ON)
    assert room.tell("motion.slid") == []
    told = room.page.locator("#legend li", has_text="centred place")
    assert told.is_hidden()
    for _ in range(2):
        room.page.keyboard.press(ON)
    ((item, by),) = room.tell("motion.slid")
    assert item == "LP1"
    assert by == pytest.approx([-0.077, 0, 0], abs=1e-4)
    assert told.is_visible()
    # Who wants less motion sees both places, and nothing moves.
    assert room.tell("motion.moving") is False


def test_sliding_and_opening_are_seen(page_of: Begin) -> None:
    room = page_of("width", still=False)
    for _ in range(3):
        room.page.keyboard.press(ON)
    room.wait("motion.moving === true")
    room.wait("motion.moving === false")
    other = page_of("own", still=False)
    for _ in range(4):
        other.page.keyboard.press(ON)
    # From 90 degrees, which a way out is told with, to 60, by and by.
    other.wait("angles['LP1/leaf-0'] > 60 && standclear.angles['LP1/leaf-0'] < 90")
    other.wait("motion.moving === false")
    assert other.tell("angles") == {}


def test_a_remedy_is_played_and_put_back(page_of: Begin) -> None:
    room = page_of("room")
    page = room.page
    index = index_of(room, "CP1", "working-space")
    page.locator(f"[data-judgement='{index}']").click()
    shown = page.locator(".remedies .try").first
    text = page.locator(".remedies li span").first.inner_text()
    before = room.tell("rows")
    # By keys alone.
    shown.focus()
    page.keyboard.press("Enter")
    assert text in page.locator("#played").inner_text()
    after = [one for one in room.tell("rows") if one["subject"] == "CP1"]
    assert {"met"} == {
        one["verdict"] for one in after if one["requirement"] == "working-space"
    }
    assert page.evaluate("document.activeElement.id") == "put-back"
    page.keyboard.press("Enter")
    assert room.tell("rows") == before
    assert room.tell("played") is None
    assert page.locator("#played").is_hidden()
    assert room.tell("picked.judgement") == index


@pytest.mark.long
def test_what_is_played_is_what_the_check_says() -> None:
    scene = room_scene()
    report = check(scene)
    stage = build_stage(scene, report)
    seen: list[tuple[Scene, int]] = []

    def drawn(after: Scene, told: Report, do: Sequence[Change]) -> Stage:
        assert do
        seen.append((after, sum(one.verdict == "not-met" for one in told.judgements)))
        return build_stage(after, told)

    found = remedies(report, stage, drawn)
    bad = [n for n, one in enumerate(stage.judgements) if one.verdict == "not-met"]
    assert [*map(int, found)] == bad
    assert seen
    assert all(count < len(bad) for _, count in seen)
    for one in found.values():
        assert one["remedies"] or one["why"]
        assert len(one["remedies"]) <= 2
        assert all(remedy["text"] for remedy in one["remedies"])
    assert json.dumps(found) == json.dumps(remedies(report, stage, drawn))


def test_what_makes_a_page_too_large_is_told_and_not_played() -> None:
    def remedy(name: str) -> dict[str, Any]:
        return {"text": name, "change": {"put": name * 300_000}}

    def one(*names: str) -> dict[str, Any]:
        return {"remedies": [*map(remedy, names)], "why": ""}

    told: dict[str, Any] = {
        "remedies": {"0": one("a", "b"), "1": one("c", "d")},
        "steps": [{"remedies": {"2": one("e")}}, {"remedies": {}}],
    }
    shorten(told, lambda: len(json.dumps(told)))
    rooms = [told, *told["steps"]]
    all_of = [
        remedy
        for room in rooms
        for breach in room["remedies"].values()
        for remedy in breach["remedies"]
    ]
    assert [one["text"] for one in all_of] == ["a", "b", "c", "d", "e"]
    # The first of each breach goes before the second of any; three are 900 000 bytes.
    assert [one["text"] for one in all_of if "change" in one] == ["a", "c", "e"]


@pytest.mark.long
def test_a_page_stays_small(files: dict[str, Path]) -> None:
    for file in files.values():
        assert file.stat().st_size < LIMIT


def test_no_words_cover_what_is_in_the_way(page_of: Begin) -> None:
    """Badge, name and sizes lay on the bench that the leaf hits: it is looked at.

    What is in the way is the only thing in the picture that is as orange.
    """
    room = page_of("hit")
    for step in (2, 3):
        while room.tell("lesson") != {"step": step, "answered": True}:
            room.page.keyboard.press(ON)
        room.rest()
        texts = room.tell("texts")
        orange = _orange(room)
        assert orange.sum() > 500
        assert len(texts) > 4
        for text in texts:
            left, top, right, bottom = (
                round(text["box"][side]) for side in ("left", "top", "right", "bottom")
            )
            # Of a size's own line a little lies below its text.
            assert orange[top:bottom, left:right].sum() < 20, (step, text["lines"])


def _orange(room: Opened) -> NDArray[np.bool_]:
    """Return where the picture is orange, its texts taken away."""
    words = "for (const one of document.querySelectorAll('.texts, .stems'))"
    room.page.evaluate(f"() => {{ {words} one.style.opacity = 0; }}")
    picture = Image.open(io.BytesIO(room.page.locator("#stage").screenshot()))
    room.page.evaluate(f"() => {{ {words} one.style.opacity = ''; }}")
    red, green, blue = np.moveaxis(np.asarray(picture.convert("RGB")), -1, 0)
    return (red > 170) & (green < 140) & (blue < 90)  # type: ignore[no-any-return]
