"""What is seen past things at some spots is not hidden, by the union of all too."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model3d.geometry.plan.cover.cover import closes, not_hidden, spots

_FACE = (0.0, 0.0, 0.762, 2.0)
_ENDS = st.sampled_from([-0.1, 0.0, 0.2, 0.3, 0.381, 0.5, 0.762, 1.0, 1.99995, 2.0])


@st.composite
def _outlook(draw: st.DrawFn) -> np.ndarray:
    xs, ys = sorted((draw(_ENDS), draw(_ENDS))), sorted((draw(_ENDS), draw(_ENDS)))
    (a, c), (b, d) = xs, ys
    return np.array([[(a, b), (c, b), (c, d), (a, d)]])


@pytest.mark.long
@given(st.lists(_outlook(), max_size=5))
def test_no_spot_is_seen_where_all_is_hidden(outlooks: list[np.ndarray]) -> None:
    seen = spots(_FACE)
    for one in outlooks:
        seen = not_hidden(seen, one)
    assert not (len(seen) and closes(outlooks, _FACE))


def test_one_box_before_all_of_a_face_leaves_no_spot() -> None:
    whole = np.array([[(0.0, 0.0), (0.762, 0.0), (0.762, 2.0), (0.0, 2.0)]])
    assert not len(not_hidden(spots(_FACE), whole))
    assert closes([whole], _FACE)


def test_half_a_box_leaves_the_other_half() -> None:
    half = np.array([[(0.0, 0.0), (0.4, 0.0), (0.4, 2.0), (0.0, 2.0)]])
    left = not_hidden(spots(_FACE), half)
    assert len(left)
    assert (left[:, 0] > 0.4).all()
