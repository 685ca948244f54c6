"""The page in a real browser, opened from a file: what it says of a room.

What must be so is the product's own contract (the page is one file that asks for
nothing, names stay text); colours are the Okabe-Ito palette ("Color Universal Design",
2008); the allowance of 150 mm is NEC 2023 110.26(A)(3). The rooms are invented.
"""

from __future__ import annotations

import base64
import io
import json
import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from model3d import Scene, check
from tests.viewer.browsing import Opened, index_of, opened
from tests.viewer.written_rooms import HOSTILE, room_scene
from viewer.page.html import page, write
from viewer.stage import build_stage, palette

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

LARGEST_PAGE = 1_000_000
"""Bytes of the page of a room such as this: the contract's limit."""


@pytest.mark.long
def test_the_same_scene_gives_the_same_bytes(page_file: Path, tmp_path: Path) -> None:
    again = tmp_path / "again.html"
    write(room_scene(), check(room_scene()), again)
    assert again.read_bytes() == page_file.read_bytes()
    assert len(page_file.read_bytes()) < LARGEST_PAGE


@pytest.mark.long
def test_nothing_of_the_scene_is_markup(page_file: Path) -> None:
    text = page_file.read_text(encoding="utf-8")
    assert text.count("<script") == 2
    assert text.count("</script") == 2
    assert "<img src=x" not in text
    assert "\u2028" not in text.split('id="data"')[1]


@pytest.mark.long
def test_the_policy_allows_its_own_script_and_data_only(page_file: Path) -> None:
    policy = re.search(r'content="(default-src[^"]+)"', page_file.read_text("utf-8"))
    assert policy is not None
    assert "default-src 'none'" in policy[1]
    assert "connect-src 'none'" in policy[1]
    assert "unsafe" not in policy[1]
    assert "http" not in policy[1]


def test_exceptions_printed_figures_and_what_is_from_memory_are_told(
    browser: Browser, tmp_path: Path
) -> None:
    """1.0 m (3 ft 6 in): NEC Table 110.26(A)(1)."""
    scene = room_scene()
    found = check(scene)
    told = tuple(
        replace(
            one,
            printed={"depth": ("1.0 m", "3 ft 6 in")},
            exception="Exception No. 3: meters",
        )
        for one in found.judgements
    )
    report = replace(found, judgements=told, unread=("NEC 2023 110.26(B)",))
    path = tmp_path / "told.html"
    write(scene, report, path)
    with opened(browser, path.as_uri()) as room:
        number = index_of(room, "CP1", "working-space")
        room.page.click(f'button.row[data-judgement="{number}"]')
        detail = room.page.inner_text(".detail")
        assert re.search(r"1\.0 m\s+\(3 ft 6 in\)", detail)
        assert "By an exception: Exception No. 3: meters" in detail
        assert room.page.inner_text("#unread") == (
            "From memory: verify against the adopted code: NEC 2023 110.26(B)"
        )
    assert room.complaints == []


def test_nothing_is_said_of_memory_where_all_was_read(
    browser: Browser, tmp_path: Path
) -> None:
    scene = room_scene()
    path = tmp_path / "read.html"
    write(scene, replace(check(scene), unread=()), path)
    with opened(browser, path.as_uri()) as room:
        assert not room.page.locator("#unread").is_visible()


def test_rows_are_the_judgements(room: Opened) -> None:
    report = check(room_scene())
    rows = room.tell("rows")
    assert len(rows) == len(report.judgements)
    listed = room.page.locator("#list button.row")
    assert listed.count() == len(rows)
    verdicts = [row["verdict"] for row in rows]
    assert verdicts == sorted(verdicts, key=["not-met", "open", "met"].index)
    numbers = [row["number"] for row in rows if row["verdict"] != "met"]
    assert numbers == [*range(1, len(numbers) + 1)]
    assert not room.page.locator("details.group.met").get_attribute("open")
    counts = room.page.locator("#counts").inner_text().split()
    assert counts[0] == str(report.counts["not-met"])


def test_names_stay_text(room: Opened) -> None:
    assert room.page.title().startswith("Mill annex")
    assert HOSTILE in room.page.locator("h1").inner_text()
    index = index_of(room, "LP1", "working-space")
    room.page.locator(f"[data-judgement='{index}']").click()
    assert HOSTILE in room.page.locator("#list").inner_text()
    assert room.page.locator("img[src=x]").count() == 0


def test_a_row_flies_marks_and_tells(room: Opened) -> None:
    before = room.tell("camera.target")
    index = index_of(room, "LP1", "working-space")
    room.page.locator(f"[data-judgement='{index}']").click()
    room.rest()
    assert room.tell("picked") == {"judgement": index, "item": "LP1"}
    assert room.tell("camera.target") != before
    detail = told(room)
    assert "110.26(A)(3)" in detail
    assert "at most 150 mm (6 in)" in detail
    assert "250 mm (9 13/16 in)" in detail
    assert "WW1" in detail
    assert any("at most 150 mm (6 in)it is 250 mm" in text for text in texts(room))
    room.page.keyboard.press("Escape")
    assert room.tell("picked") == {"judgement": None, "item": None}


def test_every_size_is_told_as_the_rule_book_prints_it(room: Opened) -> None:
    """Depth 1.0 m at 277 V to ground, width, height: NEC 2023 110.26(A)."""
    index = index_of(room, "CP1", "working-space")
    room.page.locator(f"[data-judgement='{index}']").click()
    room.rest()
    detail = told(room)
    for printed in ("1.0 m (3 ft 6 in)", "762 mm (30 in)", "2.0 m (6 1/2 ft)"):
        assert printed in detail
        assert any(printed in text for text in texts(room))


def told(room: Opened) -> str:
    """Return what is told of the judgement that is picked, in one line."""
    return " ".join(room.page.locator(".detail").inner_text().split())


def texts(room: Opened) -> list[str]:
    """Return what is written into the picture."""
    return ["".join(text["lines"]) for text in room.tell("texts")]


def test_required_spaces_are_shown_where_they_are_met(room: Opened) -> None:
    rows = room.tell("rows")
    met = next(n for n, row in enumerate(rows) if row["verdict"] == "met")
    hidden = (
        "shapes().filter((one) => !standclear.isShown(one.id)).map((one) => one.id)"
    )
    before = set(room.tell(hidden))
    room.page.locator("details.group.met summary").click()
    for number in range(met, len(rows)):
        room.page.locator(f"[data-judgement='{number}']").click()
        if set(room.tell(hidden)) < before:
            return
    pytest.fail("no met judgement shows its space")


FLIGHT = """async () => {
  const before = standclear.stats.frames;
  const start = performance.now();
  document.querySelector("#list button.row").click();
  while (standclear.camera.flying) await new Promise(requestAnimationFrame);
  return [performance.now() - start, standclear.stats.frames - before];
}"""
"""How long the flight to the first judgement takes, in milliseconds and in frames."""


def test_a_flight_takes_its_time_where_motion_is_welcome(
    browser: Browser, page_file: Path
) -> None:
    with opened(browser, page_file.as_uri(), still=False) as found:
        time, _ = found.page.evaluate(FLIGHT)
        assert time > 600
    with opened(browser, page_file.as_uri(), still=True) as found:
        _, frames = found.page.evaluate(FLIGHT)
        assert frames <= 2


def test_layers_are_shown_and_hidden(room: Opened) -> None:
    room.page.locator("#layer-box summary").click()
    gear = "shapes().filter((one) => one.layer === 'gear')"
    assert room.tell(f"{gear}.every((one) => standclear.isShown(one.id))")
    room.page.locator("[data-layer=gear]").uncheck()
    assert not room.tell(f"{gear}.some((one) => standclear.isShown(one.id))")
    room.wait("texts.length > 0")
    names = room.tell("texts").__len__()
    room.page.locator("[data-layer=labels]").uncheck()
    room.wait(f"texts.length < {names}")
    room.page.locator("[data-layer=gear]").check()
    assert room.tell(f"{gear}.every((one) => standclear.isShown(one.id))")


def test_a_click_in_the_room_picks(room: Opened) -> None:
    room.page.locator("[data-view=south]").click()
    room.rest()
    # Low on the front of the machine, where no badge lies.
    x, y = room.tell("onScreen(2.7, 2.0, 0.4)")
    room.page.mouse.click(x, y)
    room.rest()
    picked = room.tell("picked")
    assert picked["item"] == "BOX"
    assert "BOX" in room.page.locator(".about").inner_text()
    # What it is in the way of is told, though no rule is about the machine itself.
    assert room.tell(f"rows[{picked['judgement']}].subject") == "CP1"


def test_a_badge_picks_its_judgement(room: Opened) -> None:
    room.page.locator(".badge").first.click()
    assert room.tell("picked.judgement") == 0


def test_what_stands_in_the_way_has_the_intrusions_colour(room: Opened) -> None:
    picture = Image.open(io.BytesIO(room.page.locator("#room").screenshot()))
    wanted = palette.channels(palette.INTRUSION)
    far = np.linalg.norm(np.asarray(picture.convert("RGB"), float) - wanted, axis=2)
    assert (far < 60).sum() > 100


def test_the_page_draws_what_the_stage_says() -> None:
    stage = build_stage(room_scene(), check(room_scene()))
    text = page(stage).decode().split('id="data">')[1].split("</script>")[0]
    data = json.loads(text)
    told = data["numbers"]
    for short, shape in zip(data["stage"]["shapes"], stage.shapes, strict=True):
        packed = {name: short[name] for name in ("vertices", "edges", "faces")}
        again = {
            name: told[one["again"]] for name, one in packed.items() if "again" in one
        }
        plain = {**short, **again}
        vertices = _numbers(plain["vertices"]).reshape(-1, 3)
        edges = _numbers(plain["edges"])
        if "f32" not in plain["edges"]:
            edges = vertices[edges]
        assert plain["id"] == shape.id
        np.testing.assert_allclose(edges.reshape(-1, 2, 3), shape.edges, atol=1e-4)
        kept = vertices[: len(shape.vertices)]
        np.testing.assert_allclose(kept, shape.vertices, atol=1e-5)
        faces = _numbers(plain["faces"]).reshape(-1, 3)
        np.testing.assert_array_equal(faces, shape.faces)


def _numbers(packed: dict[str, str]) -> np.ndarray:
    ((kind, text),) = packed.items()
    types = {"f32": "<f4", "u16": "<u2", "u32": "<u4"}
    return np.frombuffer(base64.b64decode(text), types[kind])


def test_what_is_in_the_way_is_hatched_and_told_where_another_thing_hides_it(
    browser: Browser, tmp_path: Path
) -> None:
    """Nothing is told by colour alone: WCAG 2.2, 1.4.1.

    A tank stands in the working space with most of it in front: seen from behind, what
    is in the way lies on the far side of the tank.
    """
    site = {
        "title": "Tank house",
        "rules": "nec-2023",
        "units": "mm",
        "room": {"size": [4000, 4000], "height": 3000},
        "items": [
            {
                "id": "LP1",
                "kind": "panelboard",
                "place": {"wall": "north", "along": 1500, "bottom": 400},
                "size": [1000, 150, 1500],
                "supply": {"system": "208Y/120"},
            },
            {
                "id": "T1",
                "kind": "obstacle",
                "place": {"at": [2000, 2400], "facing": "south"},
                "size": [1600, 2000, 1200],
            },
        ],
    }
    scene = Scene.model_validate(site)
    path = tmp_path / "hatched.html"
    write(scene, check(scene), path)
    with opened(browser, path.as_uri()) as room:
        for view, place in (("N", (2.0, 3.41, 0.6)), ("S", (2.0, 2.95, 0.3))):
            room.page.locator("#views button", has_text=re.compile(f"^{view}$")).click()
            room.rest()
            x, y = room.tell(f"onScreen{place}")
            shot = room.page.screenshot(
                clip={"x": x - 60, "y": y - 25, "width": 120, "height": 50}
            )
            grey = np.asarray(Image.open(io.BytesIO(shot)).convert("L"), dtype=float)
            light, dark = np.percentile(grey, (80, 8))
            assert light > 1.15 * dark, view
            changes = np.diff((grey > (light + dark) / 2).astype(int), axis=1)
            assert np.abs(changes).sum(axis=1).max() >= 4, view
    assert room.complaints == []
