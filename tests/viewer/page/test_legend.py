"""The page's legend and badges: what a still says, in the way of nothing.

That a legend is the same in every face, that several badges at one obstacle are one and
that a badge of the room points at nothing is the product's own contract.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from model3d import check
from tests.scenes import examples
from tests.viewer.browsing import Opened, opened
from viewer.page.html import write
from viewer.sheet.meanings import SIGNS, meanings
from viewer.stage.layers import HEAD_HEIGHT, SPACES, with_layers

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser

    from viewer.stage import Stage

pytestmark = pytest.mark.browser
STEMS = (
    "[...document.querySelectorAll('.stem')]"
    ".filter((one) => getComputedStyle(one).visibility === 'visible').length"
)
ROOMS = ("pump-station", "one-way-out", "clean-small-room")


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages of the rooms."""
    folder = tmp_path_factory.mktemp("pages")
    found = {name: folder / f"{name}.html" for name in ROOMS}
    for name, path in found.items():
        write(examples.scene(name), examples.report(name), path)
    return found


@pytest.fixture
def pumps(browser: Browser, files: dict[str, Path]) -> Iterator[Opened]:
    with opened(browser, files["pump-station"].as_uri()) as found:
        yield found


def told(page: Opened) -> list[str]:
    """Return what the page's legend says, line by line."""
    return sorted(page.page.locator("#legend li").all_inner_texts())


def said(stage: Stage) -> list[str]:
    """Return what a still says of a stage; here a thing can be picked besides."""
    return sorted([*(words for _, words in meanings(stage)), SIGNS["picked"]])


@pytest.mark.parametrize("name", ROOMS)
def test_legend_says_what_a_still_says(
    browser: Browser, files: dict[str, Path], name: str
) -> None:
    stage = examples.stage(name)
    with opened(browser, files[name].as_uri()) as found:
        assert told(found) == said(stage)
        used = {shape.layer for shape in stage.shapes}
        layer = SPACES if SPACES in used else HEAD_HEIGHT
        found.page.locator("#layer-box summary").click()
        found.page.locator(f"[data-layer={layer}]").uncheck()
        kept = {one.id for one in stage.layers if one.shown} - {layer}
        assert told(found) == said(with_layers(stage, kept))


@pytest.mark.parametrize("size", [(390, 800), (1200, 800), (1600, 1000)])
def test_legend_covers_nothing_of_the_picture(
    browser: Browser, files: dict[str, Path], size: tuple[int, int]
) -> None:
    with opened(browser, files["pump-station"].as_uri(), size=size) as found:
        picture = found.page.locator("#room").bounding_box()
        legend = found.page.locator("#legend").bounding_box()
        assert picture is not None
        assert legend is not None
        assert legend["y"] >= picture["y"] + picture["height"] - 1
        assert legend["height"] <= 0.16 * size[1]


def test_badges_at_one_obstacle_are_one_that_names_it(pumps: Opened) -> None:
    badges = {one["number"]: one for one in pumps.tell("texts") if one.get("number")}
    assert badges.keys() == {"1 2 PB1", "3", "4 5 RW1", "6"}
    joined = pumps.page.locator(".joined")
    assert joined.all_inner_texts() == ["1\n2\nPB1", "4\n5\nRW1"]
    # Each number in it is picked by itself.
    rows = pumps.tell("rows")
    for number in (4, 5):
        joined.nth(1).get_by_role("button", name=f"{number}:").click()
        pumps.rest()
        assert rows[pumps.tell("picked.judgement")]["number"] == number


def test_a_badge_of_the_room_points_at_nothing(
    browser: Browser, tmp_path: Path
) -> None:
    scene = examples.scene("pump-station")
    assert scene.room is not None
    room = scene.room.model_copy(update={"lighting": None})
    dark = scene.model_copy(update={"room": room})
    path = tmp_path / "dark.html"
    write(dark, check(dark), path)
    with opened(browser, path.as_uri()) as found:
        (badge,) = (
            one
            for one in found.tell("texts")
            if str(one.get("number", "")).endswith(" room")
        )
        assert not badge["isAimed"]
        stems = found.page.evaluate(STEMS)
        assert stems == sum(bool(one.get("isAimed")) for one in found.tell("texts"))


LEADERS = """[...document.querySelectorAll(".leader line")]
  .filter((one) => getComputedStyle(one).visibility === "visible")
  .map((one) => ["x1", "y1", "x2", "y2"].map((end) => Number(one.getAttribute(end))))"""
NEAR = 12
"""Pixels from its line within which a size needs none that leads to it."""


def test_a_size_away_from_its_line_is_led_to_it(
    browser: Browser, tmp_path: Path
) -> None:
    """As in a still: else nobody sees which line it tells. All round it is taken."""
    scene = examples.scene("pump-station")
    path = tmp_path / "pumps.html"
    write(scene, check(scene), path)
    led = 0
    with opened(browser, path.as_uri(), size=(390, 800)) as found:
        for number, row in enumerate(found.tell("rows")):
            if row["verdict"] == "met":
                continue
            found.page.locator("#list button.row").nth(number).click()
            found.rest()
            leaders = found.page.evaluate(LEADERS)
            away = [
                (one["box"], one["at"])
                for one in found.tell("texts")
                if any("there is" in line or "it is" in line for line in one["lines"])
                and _apart(one["box"], one["at"]) > NEAR
            ]
            for box, at in away:
                assert any(
                    abs(x2 - at["x"]) < 0.1
                    and abs(y2 - at["y"]) < 0.1
                    and _apart(box, {"x": x1, "y": y1}) < 0.1
                    for x1, y1, x2, y2 in leaders
                )
            led += len(away)
    assert led


def _apart(box: dict[str, float], at: dict[str, float]) -> float:
    across = max(box["left"] - at["x"], at["x"] - box["right"], 0.0)
    down = max(box["top"] - at["y"], at["y"] - box["bottom"], 0.0)
    return math.hypot(across, down)


@pytest.mark.long
@pytest.mark.parametrize("keys", ["", "l"])
def test_a_size_that_decides_is_told_on_a_phone(
    browser: Browser, tmp_path: Path, keys: str
) -> None:
    """296 mm deep is met, 320 reaches 320 - 146 = 174 past the front: the lesson."""
    scene = examples.taught("six-inches-above-and-below")
    path = tmp_path / "lesson.html"
    write(scene, check(scene), path)
    with opened(browser, path.as_uri(), size=(390, 844)) as found:
        found.page.keyboard.type(keys)
        for _ in range(5):
            found.page.keyboard.press("ArrowRight")
        found.rest()
        assert found.tell("lesson") == {"step": 3, "answered": True}
        said = [line for one in found.tell("texts") for line in one["lines"]]
        assert any("it is 174 mm" in line for line in said)
