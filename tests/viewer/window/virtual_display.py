"""A screen, a mouse and a keyboard of its own for a test, on systems with X11."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PIL import ImageGrab

if TYPE_CHECKING:
    from collections.abc import Iterator

    from PIL import Image

ROOT: Final = Path(__file__).parents[3]
NEEDED: Final = ("Xvfb", "xdotool")
PATIENCE: Final = 120.0
"""Seconds until something should have come true, on a machine that is busy."""


@dataclass(frozen=True, slots=True)
class Display:
    """A virtual screen.

    Attributes:
        name: As X11 has it.
        size: Pixels.
    """

    name: str
    size: tuple[int, int]

    @property
    def environment(self) -> dict[str, str]:
        """For a program that opens a window there."""
        plain = {key: value for key, value in os.environ.items() if "VTK" not in key}
        return {**plain, "DISPLAY": self.name, "PYTHONPATH": str(ROOT)}

    def press(self, *keys_and_moves: str | float) -> None:
        """Let mouse and keyboard do something, in the words of xdotool."""
        words = [str(one) for one in keys_and_moves]
        subprocess.run(  # noqa: S603 - the words are those of a test
            [_found("xdotool"), *words], env=self.environment, check=True, timeout=60
        )

    def click(self, x: float, y: float) -> None:
        """Click at a pixel."""
        self.press("mousemove", round(x), round(y), "sleep", 0.1, "click", 1)

    def picture(self) -> Image.Image:
        """Return what is on the screen."""
        return ImageGrab.grab(xdisplay=self.name)


@contextmanager
def virtual_display(size: tuple[int, int]) -> Iterator[Display]:
    """Start a screen of its own, whatever screens there are.

    A test moves the mouse: on the screen of a person that would be rude.
    """
    read, write = os.pipe()
    width, height = size
    command = [_found("Xvfb"), "-displayfd", str(write), "-noreset", "-nolisten", "tcp"]
    # Nor does a key that is held for long by a busy machine repeat itself.
    command += ["-r", "-screen", "0", f"{width}x{height}x24"]
    with subprocess.Popen(  # noqa: S603 - the arguments are those above
        command, pass_fds=(write,), stderr=subprocess.DEVNULL
    ) as server:
        os.close(write)
        try:
            with os.fdopen(read) as told:
                number = told.readline().strip()
            assert number, "Xvfb did not start"
            yield Display(f":{number}", size)
        finally:
            server.terminate()


@contextmanager
def program(display: Display, *words: str) -> Iterator[subprocess.Popen[str]]:
    """Run a program of Python on a display; it is ended with the block."""
    with subprocess.Popen(  # noqa: S603 - the interpreter that runs this
        [sys.executable, *words],
        env=display.environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        try:
            yield running
        finally:
            running.kill()


def ended(running: subprocess.Popen[str]) -> int:
    """Wait for a program to end and return its exit status."""
    return running.wait(PATIENCE)


def _found(name: str) -> str:
    path = shutil.which(name)
    assert path is not None, (
        f"{name} is not installed: install it (on Debian or Ubuntu the packages xvfb "
        'and xdotool), or leave these tests out with -m "not screen"'
    )
    return path
