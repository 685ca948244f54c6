"""Necks to which bodies were added, against the necks of all bodies found anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d.egress.ground.necks import necks_among, necks_with
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from model3d.egress.ground.necks import Necks

WIDEST = 2.0


def _bodies(draw: np.random.Generator, count: int) -> list[flat.Geometry]:
    """Return boxes, rounds and walls; some touch, for they stand on a coarse grid."""
    found = []
    for _ in range(count):
        x, y = draw.integers(0, 24, 2) / 4
        width, depth = draw.integers(1, 6, 2) / 4
        sort = draw.integers(3)
        if sort == 0:
            found.append(flat.Point(x, y).buffer(width / 2))
        elif sort == 1:
            found.append(flat.LineString([(x, y), (x + width, y + depth)]))
        else:
            found.append(flat.box(x, y, x + width, y + depth))
    return found


def _told(necks: Necks) -> list[tuple[float, int, int, tuple[float, ...]]]:
    """Return all that is told of necks; where bodies overlap, any place will do."""
    rows = zip(necks.widths.round(9), necks.pairs, necks.lines, strict=True)
    return [
        (width, int(one), int(other), tuple(line.round(9).ravel()) if width else ())
        for width, (one, other), line in rows
    ]


@pytest.mark.parametrize("seed", range(60))
def test_what_is_added_changes_the_necks_as_if_they_were_found_anew(seed: int) -> None:
    draw = np.random.default_rng(seed)
    bodies = _bodies(draw, int(draw.integers(0, 14)))
    first, count = int(draw.integers(0, len(bodies) + 1)), int(draw.integers(1, 4))
    more = _bodies(draw, count)
    before = np.array(bodies, dtype=object)
    shapes = np.array([*bodies[:first], *more, *bodies[first:]], dtype=object)
    tree = flat.STRtree(shapes)
    known = necks_among(before, flat.STRtree(before), WIDEST)
    found = necks_with(known, shapes, tree, WIDEST, slice(first, first + count))
    anew = necks_among(shapes, tree, WIDEST)
    assert _told(found) == _told(anew)
    assert (np.diff(found.widths) >= 0).all()
    spots = draw.uniform(-1.0, 7.0, (40, 2))
    assert found.ways_out(spots) == pytest.approx(anew.ways_out(spots))


def test_what_stands_between_two_bodies_takes_their_neck_away() -> None:
    two = [flat.box(0, 0, 1, 1), flat.box(2, 0, 3, 1)]
    apart = necks_among(np.array(two, dtype=object), flat.STRtree(two), WIDEST)
    assert apart.widths == pytest.approx([1.0, 1.0])
    shapes = np.array([*two, flat.box(1.4, -1, 1.6, 2)], dtype=object)
    found = necks_with(apart, shapes, flat.STRtree(shapes), WIDEST, slice(2, 3))
    assert found.widths == pytest.approx([0.4] * 4)
