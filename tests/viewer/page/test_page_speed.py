"""How fast the page is in a browser, as ratios, with room for a busy machine."""

from __future__ import annotations

import statistics
from typing import TYPE_CHECKING

import pytest

from tests.bench.page import first_frames, turn_time

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.bench


def test_the_first_frame_comes_soon(browser: Browser, tmp_path: Path) -> None:
    this, bare = map(statistics.median, first_frames(browser, tmp_path, 3))
    # Measured: about five times a page that only clears its picture.
    assert this < 25 * bare


def test_very_many_boxes_still_turn(browser: Browser, tmp_path: Path) -> None:
    few, many = (turn_time(browser, tmp_path, boxes) for boxes in (1_000, 10_000))
    # Merged: the objects stay few, and ten times the boxes take less than ten times.
    assert many.batches < 200
    assert many.frame < 10 * few.frame
