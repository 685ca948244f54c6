"""A reach that is small in its picture is shown once more, large and from the side.

The allowance of 150 mm is NEC 2023 110.26(A)(3); the room is an example of the product.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from tests.scenes import examples
from viewer.picture.composition import projection_of
from viewer.picture.inset import inset_of
from viewer.picture.still import picture
from viewer.sheet.layout import layout
from viewer.stage import build_stage, palette
from viewer.stage.looking.about import about
from viewer.stage.looking.cameras import framed
from viewer.stage.looking.views import view_of_item
from viewer.stage.taught.step_view import points_of

if TYPE_CHECKING:
    from pathlib import Path

    from viewer.sheet.layout import Layout
    from viewer.stage.drawn import View
    from viewer.stage.parts import Stage

NAME, ITEM = "pump-station", "DS1"
SIZE = (1600, 1000)


def asked_about() -> tuple[Stage, Layout, View]:
    """Return what a picture about the item is made of."""
    whole = build_stage(examples.scene(NAME), examples.report(NAME), of=ITEM)
    plan = layout(whole, SIZE, of=ITEM)
    stage = about(whole, ITEM)
    return stage, plan, view_of_item(stage, ITEM, plan.aspect)


def test_a_small_reach_has_an_inset_and_a_large_one_has_none() -> None:
    stage, plan, view = asked_about()
    found = inset_of(stage, plan, projection_of(plan, view))
    assert found is not None
    assert found.size.required == "at most 150 mm (6 in)"
    room = plan.room
    assert room.left < found.box.left < found.box.right < room.right
    assert room.top < found.box.top < found.box.bottom < room.bottom
    assert not found.box.overlaps(replace(found.box, left=room.right, right=9999))
    # From the side it is seen as it is.
    side = framed(points_of(stage, ITEM), found.size.aside, aspect=plan.aspect)
    assert inset_of(stage, plan, projection_of(plan, side)) is None
    # A picture of the whole room is about no item.
    whole = layout(stage, SIZE)
    assert inset_of(stage, whole, projection_of(whole, view)) is None


@pytest.mark.render
def test_the_inset_shows_both_lines(tmp_path: Path) -> None:
    stage, plan, view = asked_about()
    found = inset_of(stage, plan, projection_of(plan, view))
    assert found is not None
    file = tmp_path / "reach.png"
    picture(examples.scene(NAME), examples.report(NAME), file, of=ITEM, size=SIZE)
    box = (found.box.left, found.box.top, found.box.right, found.box.bottom)
    part = np.asarray(Image.open(file).convert("RGB").crop(box), float)
    rows = {}
    for colour in (palette.SPACE_EDGE, palette.INTRUSION):
        near = np.abs(part - palette.channels(colour)).max(axis=2) < 50
        # The words are above the lines.
        near[:52] = False
        rows[colour] = int(near[:110].sum(axis=1).max())
    allowed, reached = rows[palette.SPACE_EDGE], rows[palette.INTRUSION]
    assert allowed > 40
    # 160 of 150.
    assert allowed < reached < 1.25 * allowed
