"""What is asked along a long wall grows with what stands there, not with its square."""

from __future__ import annotations

import pytest

from model3d import check
from model3d.scene.text.reader import read_text
from model3d.working.within.inside import Allowance
from tests.bench.panelboards import many_panelboards

pytestmark = pytest.mark.bench


def test_panels_that_only_touch_are_not_asked_about_one_another(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Counted, not timed: each panelboard lies in some hundred others, and all of them
    # touch the space before it. Asked of each was every one along the wall.
    asked = 0
    ask = Allowance.overhead_too

    def counted(self: Allowance, placed: object) -> object:
        nonlocal asked
        asked += 1
        return ask(self, placed)  # type: ignore[arg-type]

    monkeypatch.setattr(Allowance, "overhead_too", counted)
    each = []
    for items in (30, 120):
        scene = read_text(many_panelboards(items), "row.yaml")
        asked = 0
        check(scene)
        each.append(asked / items)
    assert 0 < each[1] < 1.5 * each[0]
