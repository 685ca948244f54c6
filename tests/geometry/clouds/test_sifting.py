"""Which points of a cloud count."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model3d.geometry.clouds.faults import PointFileError
from model3d.geometry.clouds.reader import read_points
from model3d.geometry.clouds.sifting import FEWEST, sift


def _scan() -> Path | None:
    """Return the real scan: beside the project, or where STANDCLEAR_DATA says."""
    named = os.environ.get("STANDCLEAR_DATA")
    here = Path(__file__).parents
    folders = [Path(named)] if named else [one / "shared" / "data" for one in here]
    files = (folder / "scan" / "room_scan1.pcd" for folder in folders)
    return next((file for file in files if file.is_file()), None)


SCAN = _scan()
DENSE = np.stack(np.meshgrid(*[np.arange(10) * 0.02] * 3), -1).reshape(-1, 3)


def test_doubles_are_left_out_and_the_order_is_kept() -> None:
    found = sift(np.concatenate([DENSE, DENSE[::-1], -0.0 * DENSE[:1]]))
    np.testing.assert_array_equal(found.points, DENSE)
    assert (found.read, found.doubles) == (2001, 1001)


def test_strays_are_left_out_and_a_group_of_as_many_as_count_is_not() -> None:
    group = np.column_stack([np.arange(FEWEST) * 0.04 + 5, *[np.full(FEWEST, 2.0)] * 2])
    assert len(sift(group).points) == FEWEST
    assert len(sift(group[1:]).points) == 0
    found = sift(np.concatenate([DENSE, group[1:]]))
    np.testing.assert_array_equal(found.points, DENSE)
    assert found.strays == FEWEST - 1


def test_the_scanner_is_cut_out_to_its_radius() -> None:
    found = sift(DENSE, (0.0, 0.0), 0.1)
    away = np.linalg.norm(DENSE[:, :2], axis=1)
    np.testing.assert_array_equal(found.points, DENSE[away > 0.1])
    assert found.near == (away <= 0.1).sum()


def test_points_too_far_apart_are_told() -> None:
    with pytest.raises(PointFileError, match="more than 105 km apart"):
        sift(np.array([[0.0, 0.0, 0.0], [2e5, 0.0, 0.0]]))


@pytest.mark.long
@given(st.integers(0, 2**32 - 1), st.floats(0.0, 1.0))
def test_nothing_is_lost_or_told_twice(seed: int, radius: float) -> None:
    dice = np.random.default_rng(seed)
    points = np.round(dice.random((400, 3)) * 2, 2)
    found = sift(points, (1.0, 1.0), radius)
    left = found.doubles + found.near + found.strays
    assert len(found.points) + left == found.read == 400
    assert found.doubles == 400 - len(np.unique(points, axis=0))
    # In another order the same points count.
    other = sift(dice.permutation(points), (1.0, 1.0), radius)
    assert {*map(tuple, other.points)} == {*map(tuple, found.points)}


@pytest.mark.long
@pytest.mark.skipif(SCAN is None, reason="the real scans are not here")
def test_a_real_scan_has_the_counts_of_its_reference() -> None:
    """interchange.md, 6.3: every point twice, a third of them at the scanner."""
    assert SCAN is not None
    points = read_points(SCAN)
    found = sift(points, (0.0, 0.0), 0.6)
    assert found.read == 112_586
    assert found.read - found.doubles == 56_159
    assert found.near / 56_159 == pytest.approx(0.31, abs=0.01)
