"""A long row of sections: what stands beside each is looked up once.

The work is counted, so that no machine's speed matters. The room is invented.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from model3d import check, read_text
from model3d.egress.large import line_up
from model3d.geometry.frame import Frame
from model3d.wording.said import ids

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.standing.placed import Front, Placed
    from model3d.wording.said import Said

ROOM = """\
title: A long row
units: mm
rules: nec-2023
room:
  size: [{long}, 5000]
  height: 3000
  doors:
    - {{id: D1, wall: south, along: 400, width: 900, height: 2100, opens: out}}
items:
  - id: S1
    kind: switchboard
    size: [600, 600, 2000]
    place: {{wall: north, along: 100}}
    supply: {{system: 480Y/277, amps: 1600}}
    repeat: {{count: {count}, touching: true}}
"""


@pytest.mark.long
def test_the_work_for_a_row_grows_with_its_length(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = []
    touch, belong = line_up.in_one_row, line_up._belong  # noqa: SLF001

    def counted_touch(*fronts: Front) -> bool:
        asked.append(1)
        return touch(*fronts)

    def counted_belong(*items: Placed, unsaid: bool) -> bool:
        asked.append(1)
        return belong(*items, unsaid=unsaid)

    monkeypatch.setattr(line_up, "in_one_row", counted_touch)
    monkeypatch.setattr(line_up, "_belong", counted_belong)

    def work(count: int) -> int:
        asked.clear()
        text = ROOM.format(long=600 * count + 1000, count=count)
        assert check(read_text(text, Path("row.yaml"))).judgements
        return len(asked)

    few = work(5)
    assert few
    assert work(20) <= 5 * few


@pytest.mark.long
def test_a_question_that_names_a_whole_row_is_put_together_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # It is asked of each of the sections: names were joined once a section.
    named = []

    def counted(names: Iterable[str]) -> Said:
        listed = [*names]
        named.append(len(listed))
        return ids(listed)

    monkeypatch.setattr("model3d.egress.large.gear.ids", counted)

    def work(count: int) -> int:
        named.clear()
        # Sections that are drawn to touch, and do not say that they are one line-up.
        text = ROOM.format(long=600 * count + 1000, count=count)
        text = text.replace("touching: true", "step: 600")
        assert len(check(read_text(text, Path("row.yaml"))).judgements) > 8 * count
        assert count in named
        return sum(named)

    assert 0 < work(40) <= 4.5 * work(10)


@pytest.mark.long
def test_the_leaves_of_a_row_are_looked_up_once_for_all_places_before_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Of each place before a section the leaves of all of the row were turned.
    turned = []
    to_frame = Frame.to_frame

    def counted(self: Frame, x: float, y: float) -> tuple[float, float]:
        turned.append(1)
        return to_frame(self, x, y)

    monkeypatch.setattr(Frame, "to_frame", counted)

    def work(count: int) -> int:
        turned.clear()
        text = ROOM.format(long=600 * count + 1000, count=count)
        text = text.replace("touching: true", "step: 600")
        assert check(read_text(text, Path("row.yaml"))).judgements
        return len(turned)

    assert 0 < work(80) <= 5 * work(20)
