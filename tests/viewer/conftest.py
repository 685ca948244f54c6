"""Browsers for the tests of the page: started once, closed at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import sync_playwright

from model3d import check
from tests.viewer.browsing import BLIND, DRAWING, Opened, launched, quiet
from tests.viewer.written_rooms import LESSON, WRITTEN, room_scene
from viewer.page.html import write

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Playwright


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """A browser that draws in 3D, without a graphics card."""
    started = launched(playwright, *DRAWING)
    yield started
    started.close()


@pytest.fixture(scope="session")
def blind_browser(playwright: Playwright) -> Iterator[Browser]:
    """A browser that draws no 3D."""
    started = launched(playwright, *BLIND)
    yield started
    started.close()


@pytest.fixture(scope="session")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of the room."""
    path = tmp_path_factory.mktemp("page") / "room.html"
    scene = room_scene()
    write(scene, check(scene), path)
    return path


@pytest.fixture
def room(browser: Browser, page_file: Path) -> Iterator[Opened]:
    """The page in a browser: in the end nothing went wrong, nothing was asked for."""
    with quiet(browser, page_file) as found:
        yield found


@pytest.fixture
def lesson(
    browser: Browser, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Opened]:
    """The page of the room with its lesson, in a browser."""
    path = tmp_path_factory.mktemp("lesson") / "lesson.html"
    scene = room_scene(lesson=LESSON)
    write(scene, check(scene), path)
    with quiet(browser, path) as found:
        yield found


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A scene file, to be changed."""
    path = tmp_path / "room.yaml"
    path.write_text(WRITTEN, encoding="utf-8", newline="")
    return path
