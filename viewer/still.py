"""A still picture of a room with what is wrong in it: one PNG, whole or not at all."""

from __future__ import annotations

import io
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image

from viewer import palette
from viewer.captions import badge, layout, write_captions
from viewer.lettering import FINE, Sheet
from viewer.output import write_whole
from viewer.placing import Box
from viewer.projecting import Projection
from viewer.signs import BADGE, LETTERS, arrange_signs
from viewer.stage import build_stage, opened
from viewer.stage.cameras import corners, direction, framed
from viewer.stage.layers import SPACES
from viewer.stage.sights import best_view, screens

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d.results import Report
    from model3d.scene.scene import Scene
    from viewer.captions import Layout
    from viewer.drawing import Studio
    from viewer.placing import Spot
    from viewer.signs import Mark, Ruled, Signs
    from viewer.stage.parts import Dimension, Point, Points, Shape, Stage, View

SIZE: Final = (1600, 1000)
"""Pixels, where nothing else is said."""
SMALLEST: Final = (480, 320)
LARGEST: Final = (8000, 8000)


def picture(
    scene: Scene,
    report: Report,
    path: Path,
    *,
    of: str | None = None,
    looking_from: str | None = None,
    size: tuple[int, int] = SIZE,
) -> None:
    """Write a picture of a room as PNG.

    Args:
        scene: What was checked.
        report: What the check answered.
        path: The file; it is written whole or not at all.
        of: An item: it is framed, with its spaces and their sizes.
        looking_from: Where the viewer stands, as ``cameras.DIRECTIONS`` lists it. Left
            out: south-east for a room, and for an item where the least is hidden.
        size: Width and height, pixels.

    Raises:
        ValueError: No such item or view, or a size out of bounds.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    from viewer.drawing import Studio  # noqa: PLC0415 - only what draws loads graphics

    check_size(size)
    stage = build_stage(scene, report, of=of)
    plan = layout(stage, *size)
    view = view_of(stage, plan, of=of, looking_from=looking_from)
    with Studio(room_size(plan)) as studio:
        image = compose(studio, stage, plan, view, size, of=of)
    stream = io.BytesIO()
    image.save(stream, "PNG", optimize=True)
    write_whole(path, stream.getvalue())


def check_size(size: tuple[int, int]) -> None:
    """Make sure that a picture of this size can be made.

    Raises:
        ValueError: It is too small to read, or too large to hold.
    """
    for one, least, most in zip(size, SMALLEST, LARGEST, strict=True):
        if not least <= one <= most:
            msg = (
                f"a picture of {size[0]} x {size[1]} pixels: from "
                f"{SMALLEST[0]} x {SMALLEST[1]} to {LARGEST[0]} x {LARGEST[1]}"
            )
            raise ValueError(msg)


def room_size(plan: Layout) -> tuple[int, int]:
    """Return the size of the part of a picture the room is drawn in, pixels."""
    room = plan.room
    return round(room.right - room.left), round(room.bottom) - round(room.top)
