"""The rim of what is round: of a prism of many sides the lines where it turns away."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from viewer.picture.rims import rimmed
from viewer.stage import View, palette
from viewer.stage.drawn import Shape

SIDES, RADIUS, LONG = 64, 0.05, 2.0


def pipe(*, through: bool = True) -> Shape:
    """Return a closed pipe along x, without edges along it."""
    turns = 2 * math.pi * (np.arange(SIDES) + 0.5) / SIDES
    ring = np.column_stack([np.zeros(SIDES), np.cos(turns), np.sin(turns)]) * RADIUS
    vertices = np.concatenate([ring, ring + np.array([LONG, 0.0, 0.0])])
    here, there = np.arange(SIDES), np.roll(np.arange(SIDES), -1)
    faces = np.concatenate(
        [
            np.column_stack([here, here + SIDES, there]),
            np.column_stack([there, here + SIDES, there + SIDES]),
            [[0, n + 1, n] for n in range(1, SIDES - 1)],
            [[SIDES, SIDES + n, SIDES + n + 1] for n in range(1, SIDES - 1)],
        ]
    )
    # Whichever way they were written: counter-clockwise from outside.
    corners = vertices[faces]
    out = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    middle = corners.mean(axis=1) - np.array([LONG / 2, 0.0, 0.0])
    turned = (out * middle).sum(axis=1) < 0
    faces[turned] = faces[turned][:, ::-1]
    return Shape(
        id="P1",
        item="P1",
        layer="items",
        role="solid",
        kind="pipe",
        about="",
        vertices=vertices,
        faces=faces,
        edges=np.zeros((0, 2, 3)),
        colour="#888888",
        edge_colour="#000000",
        through=through,
    )


def looking_north(*, parallel: bool) -> View:
    eye, target = (LONG / 2, -5.0, 0.0), (LONG / 2, 0.0, 0.0)
    return View("", eye, target, (0.0, 0.0, 1.0), 30.0, 3.0, parallel=parallel)


@pytest.mark.parametrize("parallel", [True, False])
def test_a_pipe_seen_from_the_side_is_outlined_above_and_below(
    *, parallel: bool
) -> None:
    (shape,) = rimmed([pipe()], looking_north(parallel=parallel))

    along = [one for one in shape.edges if abs(one[0][0] - one[1][0]) == LONG]
    assert len(along) == 2
    low, high = sorted(float(one[:, 2].mean()) for one in along)
    step = RADIUS * math.pi / SIDES
    assert low == pytest.approx(-RADIUS, abs=step)
    assert high == pytest.approx(RADIUS, abs=step)


def test_what_is_not_outlined_stays_as_it_is() -> None:
    shape = pipe(through=False)
    assert next(rimmed([shape], looking_north(parallel=True))) is shape


def test_an_outline_has_a_dark_casing_for_grey_print() -> None:
    """Vermilion is as light as gear in grey: common practice is a dark line below."""
    plain = pipe()
    told = replace(plain, edge_colour=palette.INTRUSION, edge_width=2.4)
    casing, outline = rimmed([told], looking_north(parallel=True))
    assert np.array_equal(casing.edges, outline.edges)
    assert casing.edge_width > outline.edge_width + 2
    assert casing.lift < outline.lift
    light, dark = (sum(palette.channels(one.edge_colour)) for one in (outline, casing))
    assert dark < light / 2
    assert not len(casing.faces)
    assert len([*rimmed([plain], looking_north(parallel=True))]) == 1
