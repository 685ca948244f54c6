"""A real browser for the tests of the page, and pages opened in it."""

from __future__ import annotations

import os
import shutil
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page, Playwright

QUIET = (
    "--no-sandbox",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""A browser that runs as root and calls nobody by itself."""
DRAWING = ("--enable-unsafe-swiftshader",)
BLIND = ("--disable-gpu", "--disable-3d-apis")


STEP = 30
"""Milliseconds between two looks at the page."""
PATIENCE = 1000
"""Looks until something should have come true, on a machine that is busy."""


@dataclass
class Opened:
    """A page in a browser.

    Attributes:
        page: Of the browser.
        asked: Every address that was asked for.
        complaints: What went wrong in its script, and what it wrote as an error.
    """

    page: Page
    asked: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def tell(self, script: str) -> Any:  # noqa: ANN401 - whatever the script gives
        """Return what ``standclear`` says of itself in the page."""
        return self.page.evaluate(f"standclear.{script}")

    def wait(self, script: str) -> None:
        """Wait until something is so.

        Asked again and again from here: the page's own policy lets nobody in to wait.
        A page that still unpacks its data does not speak yet, and what was moved is
        judged with the next frame only.
        """
        spoken = f"'standclear' in window && (standclear.{script})"
        asked = f"{spoken} && standclear.settled !== false"
        for _ in range(PATIENCE):
            if self.page.evaluate(asked):
                return
            self.page.wait_for_timeout(STEP)
        message = f"never came true: {script}; errors: {self.complaints}"
        raise AssertionError(message)

    def rest(self) -> None:
        """Wait until the camera has come to where it flies."""
        self.wait("camera.flying === false")


def launched(playwright: Playwright, *more: str) -> Browser:
    """Start the system's browser, or the one that STANDCLEAR_BROWSER names."""
    names = ("chromium", "chromium-browser", "google-chrome")
    found = (shutil.which(name) for name in names)
    program = os.environ.get("STANDCLEAR_BROWSER") or next(filter(None, found), None)
    return playwright.chromium.launch(executable_path=program, args=[*QUIET, *more])


@contextmanager
def opened(
    browser: Browser,
    url: str,
    *,
    size: tuple[int, int] = (1200, 800),
    still: bool = True,
) -> Iterator[Opened]:
    """Open an address in a fresh page; with ``still`` the camera jumps."""
    page = browser.new_page(
        viewport={"width": size[0], "height": size[1]},
        reduced_motion="reduce" if still else "no-preference",
    )
    found = Opened(page)
    page.on("request", lambda request: found.asked.append(request.url))
    page.on("pageerror", lambda error: found.complaints.append(str(error)))
    page.on(
        "console",
        lambda line: (
            found.complaints.append(line.text) if line.type == "error" else None
        ),
    )
    page.goto(url)
    found.wait("stats.firstFrame !== null || !standclear.stats.drawn")
    try:
        yield found
    finally:
        page.close()


@contextmanager
def quiet(browser: Browser, file: Path) -> Iterator[Opened]:
    """Open a page of one file: in the end nothing went wrong, nothing was asked for."""
    with opened(browser, file.as_uri()) as found:
        yield found
    assert found.complaints == []
    assert found.asked == [file.as_uri()]


def index_of(room: Opened, subject: str, requirement: str) -> int:
    """Return the number of a judgement in the list of the page, from 0."""
    rows = room.tell("rows")
    (found,) = [
        number
        for number, row in enumerate(rows)
        if (row["subject"], row["requirement"]) == (subject, requirement)
    ]
    return int(found)
