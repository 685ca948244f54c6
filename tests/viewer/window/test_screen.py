"""The window on a virtual screen, with a real mouse and a real keyboard.

These tests need Xvfb and xdotool; without them they fail and say so. They wait for
nothing but what the window tells with every picture it draws.
"""

from __future__ import annotations

import json
import math
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
_WHEEL_NEARER = 4


class Window:
    """A running window, and what it tells of itself with every picture."""

    def __init__(self, display: Display, running: subprocess.Popen[str]) -> None:
        self.display = display
        self.running = running
        self._lines: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()
        self.told: Told = {}

    def _read(self) -> None:
        for line in self.running.stdout or ():
            self._lines.put(line)

    def until(self, is_so: Callable[[Told], object]) -> Told:
        """Wait until something is so."""
        end = time.monotonic() + PATIENCE
        while not (self.told and is_so(self.told)):
            try:
                self.told = json.loads(self._lines.get(timeout=0.2))
            except queue.Empty:
                assert self.running.poll() is None, self.running.communicate()[1]
                assert time.monotonic() < end, self.told
        return self.told

    def key(self, name: str, is_so: Callable[[Told], object]) -> Told:
        """Press a key and wait for what it brings."""
        self.display.press("key", name)
        return self.until(is_so)

    def drag(self, start: tuple[float, float], *ends: tuple[float, float]) -> None:
        """Drag from a pixel to others, one after the other, in a window at rest.

        While it is busy the graphics leave out moves that others follow.
        """
        self.until(lambda told: told["fine"])
        words: list[str | float] = ["mousemove", *map(round, start), "mousedown", 1]
        for end in ends:
            words += ["sleep", 0.1, "mousemove", *map(round, end)]
        self.display.press(*words, "sleep", 0.1, "mouseup", 1)


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
        window.until(lambda told: told["fine"])
        yield window
        display.press("key", "q")
        assert ended(running) == 0
        # What goes wrong in an answer to a key is only told.
        assert (running.communicate()[1] or "").strip() == ""


def test_judgements_layers_and_a_section_by_keys() -> None:
    with opened((900, 600)) as window:
        first = window.key("Down", lambda told: told["judgement"])["judgement"]
        window.key("Down", lambda told: told["judgement"] != first)
        window.key("Escape", lambda told: told["judgement"] is None)
        told = window.key("y", lambda told: told["section"])
        axis, at = told["section"]
        assert axis == "y"
        told = window.key("bracketright", lambda told: told["section"] != [axis, at])
        assert told["section"][1] > at
        window.key("y", lambda told: told["section"] is None)
        window.key("l", lambda told: told["panel"] == "layers")
        before = window.told
        told = window.key("space", lambda told: told["hidden"] != before["hidden"])
        assert "intrusions" in told["hidden"]
        window.key("K", lambda told: told["panel"] == "keys")


def test_a_key_is_answered_though_it_comes_while_the_room_is_drawn_finely() -> None:
    with opened((900, 600)) as window:
        for count in range(8):
            window.key("1", lambda told: not told["fine"])
            # Keys at other moments each time: while it rests, and while it is drawn.
            window.display.press("sleep", 0.1 * (count + 2), "key", "l", "sleep", 0.2)
            window.until(lambda told: told["panel"] == "layers")
            window.key("Escape", lambda told: told["panel"] == "judgements")


@pytest.mark.parametrize("side", ["1", "9"])
def test_a_click_picks_what_is_seen_there(side: str) -> None:
    with opened((900, 600)) as window:
        eye = window.told["eye"]
        if side == "9":
            window.key(side, lambda told: told["eye"] != eye)
        told = window.until(lambda told: told["fine"])
        window.display.click(*told["shelf"])
        assert window.until(lambda told: told["item"])["item"] == "S1"


def test_a_click_on_a_number_picks_its_judgement() -> None:
    with opened((900, 600)) as window:
        numbers = window.until(lambda told: told["fine"])["numbers"]
        number, place = next(iter(numbers.items()))
        window.display.click(*place)
        told = window.until(lambda told: told["judgement"])
        assert told["number"] == int(number)


def test_dragging_turns_the_room_and_the_wheel_brings_it_nearer() -> None:
    with opened((900, 600)) as window:
        start = window.told
        window.drag((300, 300), (330, 305), (360, 310))
        told = window.until(lambda told: told["eye"] != start["eye"])
        told = window.until(lambda told: told["fine"])
        assert told["up"] == [0, 0, 1]  # the room stays upright
        assert math.dist(told["eye"], told["target"]) == pytest.approx(
            math.dist(start["eye"], start["target"])
        )
        assert told["item"] is None  # a drag picks nothing
        assert told["numbers"]  # and the numbers are there again
        eye, away = told["eye"], math.dist(told["eye"], told["target"])
        window.display.press("mousemove", 300, 300, "click", _WHEEL_NEARER)
        told = window.until(lambda told: told["eye"] != eye)
        assert math.dist(told["eye"], told["target"]) == pytest.approx(away / 1.15)


def test_a_plan_can_be_turned_out_of() -> None:
    with opened((900, 600)) as window:
        start = window.told["eye"]
        plan = window.key("9", lambda told: told["eye"] != start)["eye"]
        window.drag((300, 300), (310, 260), (320, 220))
        told = window.until(lambda told: told["eye"][2] < plan[2] - 0.1)
        assert told["up"] == [0, 0, 1]


def test_a_lesson_is_gone_through_by_keys() -> None:
    with opened((900, 600), lesson=True) as window:
        window.key("Right", lambda told: told["step"] == 1)
        before = window.until(lambda told: told["fine"])["shelf"]
        told = window.key("Right", lambda told: told["withheld"])
        assert (told["step"], told["shelf"]) == (2, before)
        assert not told["numbers"]
        told = window.key("Right", lambda told: not told["withheld"])
        assert told["step"] == 2
        assert told["shelf"] != before
        assert window.key("Left", lambda told: told["step"] == 1)


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
        _close(display, running)
        assert ended(running) == 0
        assert (running.communicate()[1] or "").strip() == ""


def _close(display: Display, running: subprocess.Popen[str]) -> None:
    """Press Q until the window closes: it may not listen yet to the first one."""
    end = time.monotonic() + PATIENCE
    display.press("mousemove", 300, 300)
    while running.poll() is None and time.monotonic() < end:
        display.press("key", "q", "sleep", 2.0)


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
