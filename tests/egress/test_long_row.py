"""A long row of sections: what stands beside each is looked up once.

The work is counted, so that no machine's speed matters. The room is invented.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from model3d import check, read_text
from model3d.egress.large import line_up

if TYPE_CHECKING:
    import pytest

    from model3d.standing.placed import Front, Placed

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
