"""The window on a virtual screen, with a real mouse and a real keyboard.

These tests need Xvfb and xdotool; without them they fail and say so.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from tests.viewer.virtual_display import (
    PATIENCE,
    ROOT,
    Display,
    ended,
    program,
    until_drawn,
    virtual_display,
)
from tests.viewer.window_rooms import ROOM
from viewer import palette

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    Told = dict[str, Any]

pytestmark = [pytest.mark.screen, pytest.mark.render]

SHOW = "import sys; from viewer.cli import main; sys.exit(main())"


class Window:
    """A running window, and what it tells of itself."""

    def __init__(self, display: Display, running: subprocess.Popen[str]) -> None:
        self.display = display
        self.running = running
        self._lines: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()
        self.told: Told = {}

    def _read(self) -> None:
        for line in self.running.stdout or ():
            self._lines.put(line)

    def until(self, is_so: Callable[[Told], bool]) -> Told:
        """Wait until something is so."""
        end = time.monotonic() + PATIENCE
        while not (self.told and is_so(self.told)):
            try:
                self.told = json.loads(self._lines.get(timeout=0.2))
            except queue.Empty:
                assert self.running.poll() is None, self.running.communicate()[1]
                assert time.monotonic() < end, self.told
        return self.told

    def at_rest(self) -> Told:
        """Wait until nothing more is told for a while."""
        self.until(lambda _: True)
        quiet = time.monotonic()
        while time.monotonic() - quiet < 2.0:
            try:
                self.told = json.loads(self._lines.get(timeout=0.2))
                quiet = time.monotonic()
            except queue.Empty:
                assert self.running.poll() is None, self.running.communicate()[1]
        return self.told

    def control(self, name: str, value: str = "") -> list[float]:
        """Return where something is pressed: left, top, right, bottom."""
        found = [
            place
            for one, other, _, place in self.told["controls"]
            if one == name and other == value
        ]
        assert found, (name, value)
        place: list[float] = found[-1]
        return place

    def click(self, name: str, value: str = "") -> None:
        """Press something in its middle."""
        left, top, right, bottom = self.control(name, value)
        self.display.click((left + right) / 2, (top + bottom) / 2)


@contextmanager
def opened(size: tuple[int, int], *, lesson: bool = False) -> Iterator[Window]:
    words = ("-m", "tests.viewer.window_program", *map(str, size), str(int(lesson)))
    with virtual_display(size) as display, program(display, *words) as running:
        window = Window(display, running)
        window.at_rest()
        yield window
        display.press("key", "q")
        assert ended(running) == 0


def test_a_row_a_thing_and_a_section_by_mouse_and_keyboard() -> None:
    with opened((1280, 820)) as window:
        window.click("fold")
        window.until(lambda told: any(one[0] == "pick" for one in told["controls"]))
        window.at_rest()
        rows = [one for one in window.told["controls"] if one[0] == "pick"]
        left, top, right, bottom = rows[-1][3]
        window.display.click((left + right) / 2, (top + bottom) / 2)
        told = window.until(lambda told: told["finding"] is not None)
        assert told["item"] == "LP1"
        window.at_rest()
        window.display.press("key", "Escape")
        window.until(lambda told: told["finding"] is None)
        window.display.press("key", "y")
        window.until(lambda told: told["section"] == "y")
        window.display.press("key", "y")
        window.until(lambda told: told["section"] is None)
        drawn = window.at_rest()["drawn"]
        window.display.press("key", "l")
        window.until(lambda told: any(one[0] == "layer" for one in told["controls"]))
        window.at_rest()
        window.click("layer", "gear")
        window.until(lambda told: told["drawn"] < drawn)


def test_a_click_in_the_room_picks_what_is_seen_there() -> None:
    with opened((1280, 820)) as window:
        # The room's middle, from above: nothing but what stands there is seen.
        window.display.press("key", "9")
        window.until(lambda told: told["elevation"] > 89.9)
        told = window.at_rest()
        left, top, right, bottom = told["room"]
        # By the room's own bounds, 4.2 by 3.2 metres in a plan, and the shelf's place.
        scale = (bottom - top) / told["tall"]
        x = (left + right) / 2 + (told["shelf"][0] - 2.0) * scale
        y = (top + bottom) / 2 - (told["shelf"][1] - 1.5) * scale
        window.display.click(x + 0.12 * scale, y + 0.12 * scale)
        window.until(lambda told: told["item"] == "S1")


def test_a_slider_moves_a_thing_and_the_findings_follow() -> None:
    with opened((1280, 820)) as window:
        assert window.told["verdicts"]["LP1 working-space"] == "met"
        _pick_shelf(window)
        window.click("form")
        window.until(lambda told: any(one[0] == "slide" for one in told["controls"]))
        window.at_rest()
        for way, share in (("0", 0.238), ("1", 0.0)):
            left, top, right, bottom = window.control("slide", way)
            middle, end = (top + bottom) / 2, left + (right - left) * share
            start = (left + right) / 2
            moves: list[str | float] = ["mousemove", round(start), round(middle)]
            moves += ["sleep", 0.2, "mousedown", 1]
            for n in range(1, 6):
                x = start + (end - start) * n / 5
                moves += ["mousemove", round(x), round(middle), "sleep", 0.1]
            window.display.press(*moves, "mouseup", 1)
            window.at_rest()
        told = window.until(lambda told: not told["busy"])
        assert told["steps"][1] < -150
        assert told["verdicts"]["LP1 working-space"] == "not-met"
        window.click("back")
        told = window.until(lambda told: told["steps"] == [0, 0, 0])
        assert told["verdicts"]["LP1 working-space"] == "met"


def _pick_shelf(window: Window) -> None:
    """Pick the shelf by its name in the picture, which is seen from where it starts."""
    window.click("item", "S1")
    window.until(lambda told: told["item"] == "S1")
    window.at_rest()


def test_dragging_turns_the_room_and_the_wheel_brings_it_nearer() -> None:
    with opened((900, 600)) as window:
        left, top, right, bottom = window.told["room"]
        x, y = (left + right) / 2, (top + bottom) / 2 + 60
        bearing, tall = window.told["bearing"], window.told["tall"]
        for step in range(7):
            moves = ["mousemove", round(x + 12 * step), round(y), "sleep", 0.05]
            if step == 0:
                moves += ["mousedown", 1, "sleep", 0.1]
            window.display.press(*moves)
        window.display.press("mouseup", 1)
        window.until(lambda told: abs(told["bearing"] - bearing) > 10)
        assert window.at_rest()["item"] is None  # a drag picks nothing
        window.display.press("mousemove", round(x), round(y), "click", 4, "click", 4)
        window.until(lambda told: told["tall"] < 0.8 * tall)


def test_a_lesson_is_gone_through_by_keys() -> None:
    with opened((900, 600), lesson=True) as window:
        for step in (1, 2):
            window.display.press("key", "Right")
            window.until(lambda told, step=step: told["step"] == step)
            window.at_rest()
        window.display.press("key", "Right")
        window.until(
            lambda told: told["verdicts"].get("LP1 working-space") == "not-met"
        )
        window.display.press("key", "Left")
        window.until(lambda told: told["step"] == 1)


@pytest.mark.parametrize("size", [(900, 600), (1600, 1000)])
def test_the_command_opens_a_window_that_can_be_read(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    scene = tmp_path / "room.yaml"
    # The shelf stands in front of the panel.
    scene.write_text(ROOM.replace("[2600, 2500]", "[750, 1450]"), encoding="utf-8")
    asked = f"{size[0]}x{size[1]}"
    words = ("-c", SHOW, "show", str(scene), "--size", asked)
    with virtual_display(size) as display, program(display, *words) as running:
        until_drawn(display, running)
        end = time.monotonic() + PATIENCE
        orange = palette.channels(palette.INTRUSION)
        while time.monotonic() < end:
            pixels = np.asarray(display.picture().convert("RGB"), dtype=int)
            if (np.abs(pixels - orange).max(axis=2) < 12).sum() > 60:
                break
            time.sleep(0.2)
        else:
            pytest.fail("what is in the way is not drawn in its colour")
        # Dark letters on light paper in the list, and nothing drawn through them.
        side = pixels[60:, -round(0.2 * size[0]) :]
        dark = side.max(axis=2) < 90
        assert 0.004 < dark.mean() < 0.2
        assert (side.min(axis=2) > 225).mean() > 0.6
        display.press("mousemove", 300, 300, "key", "q")
        assert ended(running) == 0
        assert (running.communicate()[1] or "").strip() == ""


@pytest.mark.parametrize("display", ["", ":4999"])
def test_without_a_display_there_is_one_line_and_no_crash(
    tmp_path: Path, display: str
) -> None:
    scene = tmp_path / "room.yaml"
    scene.write_text(ROOM, encoding="utf-8")
    plain = {key: one for key, one in os.environ.items() if "VTK" not in key}
    environment = {**plain, "DISPLAY": display, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(  # noqa: S603 - the interpreter that runs this
        [sys.executable, "-c", SHOW, "show", str(scene)],
        env=environment,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
    )
    assert done.returncode == 2
    (line,) = done.stderr.splitlines()
    assert "no window can be opened here" in line
    assert done.stdout == ""
