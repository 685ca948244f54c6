"""A report on a telephone: its words are whole, and none lies on another.

390 pixels is the width of a common telephone; that the page does not go by sideways
there is common practice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.viewer.figure.examples import report_of
from viewer.report.document.dossier import dossier
from viewer.report.document.html import html_report

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CUT = """
() => [...document.querySelectorAll("td, th, dd, dt")]
  .filter((one) => {
    const words = document.createRange();
    words.selectNodeContents(one);
    const { right } = words.getBoundingClientRect();
    const style = getComputedStyle(one);
    const letters = one.innerText.trim().split(/\\s+/).map((word) => word.length);
    const size = parseFloat(style.fontSize);
    const long = Math.min(Math.max(...letters), 8);
    const box = one.getBoundingClientRect();
    return right > box.right + 1 || box.width < 0.4 * size * long;
  })
  .map((one) => one.innerText)
"""
"""What stands out of its cell, or has a cell too narrow for eight letters of a word."""


@pytest.mark.browser
@pytest.mark.parametrize("width", [390, 701, 1600])
def test_a_report_is_read_at_any_width(browser: Browser, width: int) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.set_content(html_report(dossier([report_of("one-way-out")], paper="a4")))
    sideways = "document.documentElement.scrollWidth > innerWidth"
    assert not page.evaluate(sideways)
    assert page.locator("td").count() > 20
    assert page.evaluate(CUT) == []
    page.close()
