"""Where nothing of a closed surface is in a box, one of its corners is asked of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes are what is looked at

from model3d.geometry.bodies.triangle_view import TriangleView

if TYPE_CHECKING:
    from numpy.typing import NDArray


@pytest.mark.parametrize(
    ("low", "high", "asked", "held"),
    [
        # In a ball, beside it within its bounds, and through its surface.
        ((-0.3, -0.3, -0.3), (0.3, 0.3, 0.3), 1, 8),
        ((0.8, 0.8, 0.8), (0.9, 0.9, 0.9), 1, 0),
        ((0.0, 0.0, 0.0), (0.9, 0.9, 0.9), 8, 4),
    ],
)
def test_as_many_points_are_looked_up_as_are_needed(
    monkeypatch: pytest.MonkeyPatch,
    low: tuple[float, float, float],
    high: tuple[float, float, float],
    asked: int,
    held: int,
) -> None:
    """By hand: of the box from the middle to 0.9 four corners are within 1 of it."""
    ball = trimesh.creation.icosphere(4, 1.0)
    points, faces = np.array(ball.vertices), np.array(ball.faces)
    view = TriangleView(points, faces, points[faces], closed=True)
    counts: list[int] = []
    holds = TriangleView.holds

    def counted(one: TriangleView, at: NDArray[np.float64]) -> NDArray[np.bool_]:
        counts.append(len(at))
        return holds(one, at)

    monkeypatch.setattr(TriangleView, "holds", counted)
    found = view.points(low, high)
    assert counts == [asked]
    corners = {tuple(one) for one in found.tolist()}
    box = {(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1])
           for z in (low[2], high[2])}  # fmt: skip
    assert len(corners & box) == held
