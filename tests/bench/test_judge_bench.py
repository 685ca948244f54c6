"""What must hold of the page's own judging: a time with much room, and a ratio."""

from __future__ import annotations

import pytest

from tests.bench.judge import judging_time


@pytest.mark.bench
def test_a_moved_item_is_judged_while_it_is_dragged() -> None:
    # Measured far below the aim; a frame takes 16 ms.
    assert judging_time(1000) < 4
