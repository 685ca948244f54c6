"""The list of a picture: all of it is said where there is room, and no room is lost.

What must be so is the product's own contract: words are not cut while there is room for
them, and a list takes no more of a small picture than it says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from PIL import Image

from tests.scenes import examples
from viewer.sheet.captions import write_captions
from viewer.sheet.layout import layout
from viewer.sheet.letters import WrittenPicture

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from viewer.sheet.layout import Layout
    from viewer.sheet.sign_places import Spot

ROW = 19.0
"""Pixels between two lines in a picture 1000 pixels high."""


class Recorded(WrittenPicture):
    """A picture that keeps what is written on it."""

    def __init__(self, size: tuple[int, int]) -> None:
        super().__init__(Image.new("RGB", size, "white"), fine=1)
        self.texts: list[tuple[Spot, str]] = []

    def text(self, at: Spot, text: str, size: float, **looks: Any) -> None:  # noqa: ANN401, D102 - as it comes
        self.texts.append((at, text))
        super().text(at, text, size, **looks)


def listed(name: str, size: tuple[int, int]) -> tuple[Layout, Recorded]:
    stage = examples.stage(name)
    plan = layout(stage, size)
    sheet = Recorded(size)
    write_captions(sheet, stage, plan)
    return plan, sheet


@pytest.mark.long
@pytest.mark.parametrize("name", examples.NAMES)
def test_a_list_below_is_no_higher_than_what_it_says(name: str) -> None:
    plan, sheet = listed(name, (900, 600))
    if plan.panel is None:
        return
    panel = plan.panel
    image: NDArray[Any] = np.asarray(sheet.finished().convert("L"))
    part = image[round(panel.top) + 2 : round(panel.bottom) - 1]
    lowest = np.flatnonzero((part < 160).any(axis=1)).max()
    assert len(part) - lowest < 2 * ROW * plan.scale
    assert panel.bottom - panel.top <= 0.42 * 600 + 1


@pytest.mark.long
@pytest.mark.parametrize("size", [(1600, 1000), (900, 600)])
@pytest.mark.parametrize("name", examples.NAMES)
def test_a_reason_is_cut_only_in_a_list_that_is_full(
    name: str, size: tuple[int, int]
) -> None:
    plan, sheet = listed(name, size)
    panel = plan.panel
    if panel is None:
        return
    inside = [
        (at, text)
        for at, text in sheet.texts
        if panel.left <= at[0] <= panel.right and panel.top <= at[1] <= panel.bottom
    ]
    assert inside
    if any(text.endswith("\N{HORIZONTAL ELLIPSIS}") for _, text in inside):
        assert plan.columns is not None
        # One line more of each would not go in.
        more = ROW * plan.scale * len(plan.listed) / plan.columns.count
        assert max(y for (_, y), _ in inside) + more > panel.bottom - ROW * plan.scale


@pytest.mark.long
@pytest.mark.parametrize("size", [(1600, 1000), (900, 600)])
def test_what_is_said_twice_is_said_once_before_anything_is_cut(
    size: tuple[int, int],
) -> None:
    """Five sections of a motor control center have one reason, of seven lines."""
    _, sheet = listed("rows", size)
    said = [text for _, text in sheet.texts]
    assert said.count("As at 1.") == 4
    assert not [text for text in said if text.endswith("\u2026")]
    assert any("continuous and" in text for text in said)
