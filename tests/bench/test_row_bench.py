"""What is asked along a long wall grows with what stands there, not with its square."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from model3d import check
from model3d.scene.text.reader import read_text
from model3d.working.within.inside import Allowance
from tests.bench.least import by_turns
from tests.bench.panelboards import many_panelboards

if TYPE_CHECKING:
    from collections.abc import Callable

pytestmark = pytest.mark.bench


def test_panels_that_only_touch_are_not_asked_about_one_another(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Counted, not timed: each panelboard lies in some hundred others, and all of them
    # touch the space before it. Asked of each was every one along the wall.
    few, many = asked_of_each(many_panelboards, (30, 120), monkeypatch)
    assert 0 < many < 1.5 * few


def test_sections_of_a_turned_row_are_not_asked_about_one_another(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Counted as well: the bounds of turned sections reach into the space before each.
    def row(count: int) -> str:
        return sections(count, 23.7, "touching: true")

    few, many = asked_of_each(row, (30, 120), monkeypatch)
    assert 0 < many < 1.5 * few


def asked_of_each(
    text: Callable[[int], str],
    counts: tuple[int, int],
    monkeypatch: pytest.MonkeyPatch,
) -> list[float]:
    """Return how often the spaces of so many items ask about something, per item."""
    asked = 0
    ask = Allowance.overhead_too

    def counted(self: Allowance, placed: object) -> object:
        nonlocal asked
        asked += 1
        return ask(self, placed)  # type: ignore[arg-type]

    monkeypatch.setattr(Allowance, "overhead_too", counted)
    found = []
    for count in counts:
        scene = read_text(text(count), "row.yaml")
        asked = 0
        check(scene)
        found.append(asked / count)
    return found


SECTIONS = """\
title: A long row of sections
units: mm
rules: nec-2023
room:
  outline: {outline}
  height: 3000
  doors:
    - {{id: D1, wall: wall-1, along: 400, width: 900, height: 2100, opens: out}}
items:
  - id: S1
    kind: switchboard
    size: [600, 600, 2000]
    place: {{wall: wall-3, along: 100}}
    supply: {{system: 480Y/277, amps: 1600}}
    repeat: {{count: {count}, {step}}}
"""


def sections(count: int, degrees: float, step: str) -> str:
    """Write a room with so many sections that touch, turned by an angle."""
    wide, deep, turn = 600 * count + 1000, 5000, math.radians(degrees)
    corners = ((0, 0), (wide, 0), (wide, deep), (0, deep))
    outline = [
        [
            round(x * math.cos(turn) - y * math.sin(turn), 6),
            round(x * math.sin(turn) + y * math.cos(turn), 6),
        ]
        for x, y in corners
    ]
    return SECTIONS.format(outline=outline, count=count, step=step)


@pytest.mark.parametrize("step", ["touching: true", "step: 600"])
@pytest.mark.parametrize("degrees", [0.0, 23.7])
def test_a_check_of_touching_sections_grows_nearly_as_they_do(
    degrees: float, step: str
) -> None:
    # Each asked anew which others it is one piece with, and a turned space of all whose
    # bounds meet its own: four times the row took eight and more times as long.
    def row(count: int) -> Callable[[], None]:
        scene = read_text(sections(count, degrees, step), "row.yaml")

        def checked() -> None:
            assert len(check(scene).judgements) > 8 * count

        return checked

    row(10)()
    short, long = by_turns(3, row(120), row(480))
    assert long < 6 * short
