"""The window on a virtual screen, with a real mouse and a real keyboard.

These tests need Xvfb and xdotool; without them they fail and say so. They wait for
nothing but what the window tells: that it has heard as many presses as were sent, and
that nothing is left to do.
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

from tests.viewer.window.virtual_display import (
    PATIENCE,
    ROOT,
    Display,
    ended,
    program,
    virtual_display,
)
from tests.viewer.window.window_rooms import ROOM
from viewer.stage import palette

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    Told = dict[str, Any]

pytestmark = [pytest.mark.screen, pytest.mark.render]

SHOW = "import sys; from viewer.cli.main import main; sys.exit(main())"
_LEFT = 1
_WHEEL_NEARER = 4


class Window:
    """A running window, and what it tells of itself."""

    def __init__(self, display: Display, running: subprocess.Popen[str]) -> None:
        self.display = display
        self.running = running
        self._lines: queue.Queue[str] = queue.Queue()
        self._sent = 0
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

    def settled(self) -> Told:
        """Wait until all that was sent has been heard, and all of it is done."""
        sent = self._sent
        return self.until(lambda told: told["heard"] >= sent and told["settled"])

    def key(self, *names: str) -> Told:
        """Press keys, one after the other."""
        for name in names:
            self.display.press("key", name)
            self._sent += 1
            self.settled()
        return self.told

    def move(self, x: float, y: float) -> None:
        """Move the mouse to a pixel."""
        place = [round(x), round(y)]
        self.display.press("mousemove", *place)
        self.until(lambda told: told["mouse"] == place)

    def button(self, number: int, *, down: bool) -> Told:
        """Press a button of the mouse, or let it go."""
        self.display.press("mousedown" if down else "mouseup", number)
        self._sent += 1
        return self.settled()

    def click_at(self, x: float, y: float) -> Told:
        """Click at a pixel."""
        self.move(x, y)
        self.button(_LEFT, down=True)
        return self.button(_LEFT, down=False)

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> Told:
        """Drag from a pixel to another, by way of some between them."""
        self.move(*start)
        self.button(_LEFT, down=True)
        for share in (0.25, 0.5, 0.75, 1.0):
            a, b = (
                one + (two - one) * share for one, two in zip(start, end, strict=True)
            )
            self.move(a, b)
        return self.button(_LEFT, down=False)

    def controls(self, name: str) -> list[list[float]]:
        """Return where something can be pressed: left, top, right, bottom."""
        return [place for one, _, _, place in self.told["controls"] if one == name]

    def control(self, name: str, value: str = "") -> list[float]:
        """Return where one thing is pressed, whatever lies over it last."""
        found = [
            place
            for one, other, _, place in self.told["controls"]
            if one == name and other == value
        ]
        assert found, (name, value)
        place: list[float] = found[-1]
        return place

    def click(self, name: str, value: str = "") -> Told:
        """Press something in its middle."""
        left, top, right, bottom = self.control(name, value)
        return self.click_at((left + right) / 2, (top + bottom) / 2)


@contextmanager
def opened(size: tuple[int, int], *, lesson: bool = False) -> Iterator[Window]:
    words = (
        "-m",
        "tests.viewer.window.program",
        *map(str, size),
        str(int(lesson)),
    )
    with virtual_display(size) as display, program(display, *words) as running:
        window = Window(display, running)
        window.settled()
        yield window
        display.press("key", "q")
        assert ended(running) == 0


def test_a_row_a_thing_and_a_section_by_mouse_and_keyboard() -> None:
    with opened((1280, 820)) as window:
        rows = len(window.controls("pick"))
        window.click("fold")
        assert len(window.controls("pick")) > rows
        left, top, right, bottom = window.controls("pick")[-1]
        told = window.click_at((left + right) / 2, (top + bottom) / 2)
        assert told["finding"] is not None
        assert told["item"] == "LP1"
        assert window.key("Escape")["finding"] is None
        assert window.key("y")["section"] == "y"
        assert window.key("y")["section"] is None
        drawn = window.told["drawn"]
        window.key("l")
        told = window.click("layer", "gear")
        assert "gear" in told["hidden"]
        assert told["drawn"] < drawn


@pytest.mark.parametrize("key", ["1", "9"])
def test_a_click_in_the_room_picks_what_is_seen_there(key: str) -> None:
    with opened((1280, 820)) as window:
        window.key("l")
        for layer in ("labels", "badges"):  # which could be clicked themselves
            window.click("layer", layer)
        told = window.key("l", key)
        assert not window.controls("item")
        assert window.click_at(*told["shelf"])["item"] == "S1"


def test_a_slider_moves_a_thing_and_the_findings_follow() -> None:
    with opened((1280, 820)) as window:
        assert window.told["verdicts"]["LP1 working-space"] == "met"
        assert window.click("item", "S1")["item"] == "S1"
        window.click("form")
        for way, share in (("0", 0.238), ("1", 0.0)):
            left, top, right, bottom = window.control("slide", way)
            middle = (top + bottom) / 2
            start, end = (left + right) / 2, left + (right - left) * share
            told = window.drag((start, middle), (end, middle))
        assert told["steps"][1] < -150
        assert told["verdicts"]["LP1 working-space"] == "not-met"
        told = window.click("back")
        assert told["steps"] == [0, 0, 0]
        assert told["verdicts"]["LP1 working-space"] == "met"


def test_dragging_turns_the_room_and_the_wheel_brings_it_nearer() -> None:
    with opened((900, 600)) as window:
        left, top, right, bottom = window.told["room"]
        x, y = (left + right) / 2, (top + bottom) / 2 + 60
        bearing, tall = window.told["bearing"], window.told["tall"]
        told = window.drag((x, y), (x + 72, y))
        assert abs(told["bearing"] - bearing) > 10
        assert told["item"] is None  # a drag picks nothing
        for _ in range(2):
            told = window.button(_WHEEL_NEARER, down=True)
            window.display.press("mouseup", _WHEEL_NEARER)  # of which nobody is told
        assert told["tall"] < 0.8 * tall


def test_a_lesson_is_gone_through_by_keys() -> None:
    with opened((900, 600), lesson=True) as window:
        assert window.key("Right")["step"] == 1
        before = window.told["shelf"]
        told = window.key("Right")
        assert (told["step"], told["withheld"]) == (2, True)
        assert told["shelf"] == before
        assert not window.controls("pick")
        told = window.key("Right")
        assert (told["step"], told["withheld"]) == (2, False)
        assert told["verdicts"]["LP1 working-space"] == "not-met"
        assert window.key("Left")["step"] == 1


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
        pixels = _until_in_the_way(display, running)
        # Dark letters on light paper in the list, and nothing drawn through them.
        side = pixels[60:, -round(0.2 * size[0]) :]
        dark = side.max(axis=2) < 90
        assert 0.001 < dark.mean() < 0.2
        assert (side.min(axis=2) > 225).mean() > 0.6
        display.press("mousemove", 300, 300, "key", "q")
        assert ended(running) == 0
        assert (running.communicate()[1] or "").strip() == ""


def _until_in_the_way(
    display: Display, running: subprocess.Popen[str]
) -> np.ndarray[Any, np.dtype[np.int64]]:
    """Wait until what is in the way is seen in its colour; return the picture."""
    orange = palette.channels(palette.INTRUSION)
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        assert running.poll() is None, running.communicate()[1]
        pixels = np.asarray(display.picture().convert("RGB"), dtype=np.int64)
        if (np.abs(pixels - orange).max(axis=2) < 12).sum() > 60:
            return pixels
        time.sleep(0.2)
    msg = "what is in the way is not drawn in its colour"
    raise AssertionError(msg)


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
