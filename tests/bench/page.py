"""Print how fast the page is: ``python -m tests.bench.page``; ``--quick`` for less.

The browser is a real Chromium, without a graphics card: pictures are drawn by the
processor. Times are elapsed time, of moves without a browser processor time; what
counts are ratios within one run.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
import time
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from playwright.sync_api import sync_playwright

from model3d import check, read_scene
from tests.bench.live import MOVED, answer_times, move_time, served
from tests.bench.measures import ROOT, SCENE
from tests.viewer.browsing import DRAWING, launched, opened
from tests.viewer.written_rooms import room_scene
from viewer.page.html import page, write
from viewer.stage import build_stage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser

    from viewer.stage import Stage

SIZE: Final = (1200, 800)
BARE: Final = """<!doctype html><canvas id="room" width="1200" height="800"></canvas>
<script>
const gl = document.querySelector("#room").getContext("webgl2");
gl.clearColor(1, 1, 1, 1);
requestAnimationFrame(() => {
  gl.clear(gl.COLOR_BUFFER_BIT);
  const drawn = performance.now();
  window.standclear = { stats: { drawn: true, firstFrame: drawn } };
});
</script>"""
"""The least page that shows a picture."""
TYPED: Final = """async (to) => {
  const { version } = standclear.live;
  const field = document.querySelector("[data-way='0']");
  const start = performance.now();
  field.value = to;
  field.dispatchEvent(new Event("change"));
  while (standclear.live.version === version) await new Promise(requestAnimationFrame);
  const { frames } = standclear.stats;
  while (standclear.stats.frames === frames) await new Promise(requestAnimationFrame);
  return performance.now() - start;
}"""
"""Types a number; returns the milliseconds until the room is drawn as it is then."""
TURNED: Final = """async (pictures) => {
  const canvas = document.querySelector("#room");
  const gl = canvas.getContext("webgl2");
  const press = (key) => canvas.dispatchEvent(new KeyboardEvent("keydown", { key }));
  const times = [];
  for (let n = 0; n < pictures; n++) {
    const { frames } = standclear.stats;
    const start = performance.now();
    press("ArrowLeft");
    while (standclear.stats.frames === frames) await new Promise(requestAnimationFrame);
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
    times.push(performance.now() - start);
  }
  return times;
}"""
"""Turns the room step by step; returns the milliseconds until each picture is drawn."""
PICTURES: Final = 9
_AWAY: Final = 5.0
_APART: Final = 0.8


@dataclass(frozen=True, slots=True)
class TurnTime:
    """How long a page of very many boxes takes.

    Attributes:
        boxes: How many.
        build: Seconds to write the page.
        size: Bytes.
        batches: Objects of the graphics library.
        frame: Seconds of a picture while the room turns.
    """

    boxes: int
    build: float
    size: int
    batches: int
    frame: float


@contextmanager
def chromium() -> Iterator[Browser]:
    """Start a browser that draws in 3D."""
    with sync_playwright() as playwright:
        browser = launched(playwright, *DRAWING)
        yield browser
        browser.close()


def pump_station_page(folder: Path) -> Path:
    """Write the page of the pump station."""
    scene = read_scene(ROOT / SCENE)
    file = folder / "pump-station.html"
    write(scene, check(scene), file)
    return file


def first_frames(
    browser: Browser, folder: Path, repeats: int
) -> tuple[list[float], list[float]]:
    """Return milliseconds from navigation to the first frame: the page, a bare one."""
    bare = folder / "bare.html"
    bare.write_text(BARE, encoding="utf-8")
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(repeats):
        # One after the other, so that a busy moment of the machine falls on both.
        for file, kept in zip((pump_station_page(folder), bare), times, strict=True):
            with opened(browser, file.as_uri(), size=SIZE) as found:
                kept.append(float(found.tell("stats.firstFrame")))
    return times


def shown_times(browser: Browser, boxes: int, moves: int) -> list[float]:
    """Return seconds from a number typed in the page to the picture of it."""
    with (
        served(boxes) as server,
        opened(browser, server.url, size=SIZE) as found,
    ):
        found.tell(f"pickItem('{MOVED}')")
        found.rest()
        east = found.tell(f"live.places['{MOVED}'][0]")
        places = [east + (10 if number % 2 else 20) for number in range(moves)]
        return [found.page.evaluate(TYPED, place) / 1000 for place in places]


def crowd(boxes: int) -> Stage:
    """Return a room with very many boxes beside it."""
    stage = build_stage(room_scene(), check(room_scene()))
    box = stage.shape("BOX")
    side = int(np.ceil(np.sqrt(boxes)))
    shifts = [
        (_AWAY + number % side * _APART, number // side * _APART, 0.0)
        for number in range(boxes)
    ]
    more = [
        replace(
            box,
            id=f"B{number}",
            item=f"B{number}",
            vertices=np.add(box.vertices, shift),
            edges=np.add(box.edges, shift),
        )
        for number, shift in enumerate(shifts)
    ]
    return replace(stage, shapes=(*stage.shapes, *more))


def turn_time(browser: Browser, folder: Path, boxes: int) -> TurnTime:
    """Write the page of very many boxes and turn it about."""
    stage = crowd(boxes)
    start = time.perf_counter()
    data = page(stage)
    build = time.perf_counter() - start
    file = folder / f"crowd-{boxes}.html"
    file.write_bytes(data)
    with opened(browser, file.as_uri(), size=SIZE) as found:
        found.page.locator("#room").focus()
        # At first the page finds out how fast the machine is.
        times = found.page.evaluate(TURNED, PICTURES)[PICTURES // 2 :]
        batches = found.tell("stats.batches")
    return TurnTime(boxes, build, len(data), batches, statistics.median(times) / 1000)


def main() -> None:
    """Measure everything in this one run and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a small run")
    quick = parser.parse_args().quick
    repeats, moves = (2, 10) if quick else (5, 40)
    with tempfile.TemporaryDirectory() as name, chromium() as browser:
        folder = Path(name)
        size = pump_station_page(folder).stat().st_size
        _say("size of the pump station's page", f"{size / 1e6:.3f} MB, aim < 1 MB")
        this, bare = map(statistics.median, first_frames(browser, folder, repeats))
        told = f"{this:.0f} ms, a bare page {bare:.0f} ms, ratio {this / bare:.1f}"
        _say("from navigation to the first frame", told)
        for boxes in (50, 100) if quick else (50, 100, 300):
            _moves(browser, boxes, moves)
        for boxes in (1_000, 10_000) if quick else (1_000, 10_000, 50_000):
            one = turn_time(browser, folder, boxes)
            told = (
                f"{one.frame * 1000:.0f} ms a picture while turning, "
                f"{one.batches} objects, page {one.size / 1e6:.1f} MB "
                f"in {one.build:.1f} s"
            )
            _say(f"{boxes} boxes", told)


def _moves(browser: Browser, boxes: int, moves: int) -> None:
    one = move_time(boxes, moves)
    median = statistics.median(one.each)
    told = f"{_ms(median)} of processor time, whole check {_ms(one.whole)}"
    _say(f"{boxes} boxes, one moves", f"{told}, ratio {one.whole / median:.1f}")
    answers = sorted(answer_times(boxes, moves))
    late = answers[int(len(answers) * 0.95)]
    told = f"median {_ms(statistics.median(answers))}, p95 {_ms(late)}"
    _say("  from request to answer", told)
    shown = statistics.median(shown_times(browser, boxes, max(moves // 3, 4)))
    _say("  until the page shows it", f"median {_ms(shown)}")


def _ms(seconds: float) -> str:
    return f"{seconds * 1000:.0f} ms"


def _say(what: str, told: str) -> None:
    sys.stdout.write(f"{what:<38} {told}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
