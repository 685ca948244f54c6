"""What claims look at, and what meets it: as little as may be, and all of it."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from model3d.check import situate
from model3d.egress.large.line_up import line_up
from model3d.following.watch import Note, meeting, watched
from tests.bench.halls import hall

_ON_A_GRID = st.integers(-3, 3).map(lambda steps: steps / 8)
_BOX = st.tuples(*[st.tuples(_ON_A_GRID, _ON_A_GRID).map(sorted)] * 3)
_BOXES = st.lists(_BOX, max_size=6)


def test_a_line_up_looks_at_no_place_of_what_can_be_in_none() -> None:
    situation = watched(situate(hall(40)))
    situation.watch.note = note = Note()
    gear = next(one for one in situation.items if one.kind.sectional)
    for unsaid in (False, True):
        line_up(gear, situation, unsaid=unsaid)
    looked = {situation.arrangement.items[name].kind.name for name in note.items}
    # The floor is near to each of them: it is no section, but that must be seen.
    assert looked == {gear.kind.name, "floor"}


@given(_BOXES, _BOXES)
def test_a_box_meets_what_it_touches_and_nothing_that_is_apart(
    some: list[tuple[list[float], ...]], others: list[tuple[list[float], ...]]
) -> None:
    boxes, those = (
        np.array(all_of, dtype=float).reshape(-1, 3, 2).transpose(0, 2, 1)
        for all_of in (some, others)
    )
    meets = [
        any(
            all(a <= d and c <= b for (a, b), (c, d) in zip(one, other, strict=True))
            for other in others
        )
        for one in some
    ]
    assert meeting(boxes, those).tolist() == meets
