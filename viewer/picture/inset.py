"""An inset: a reach that is small in its picture, large and seen from the side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.sheet.letters import FINE
from viewer.sheet.projection import Projection
from viewer.sheet.sign_places import Rectangle
from viewer.stage import palette
from viewer.stage.looking.cameras import framed
from viewer.stage.looking.cuts import Cut
from viewer.wording.shortfall import REACH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PIL import Image

    from viewer.sheet.layout import Layout
    from viewer.sheet.letters import WrittenPicture
    from viewer.sheet.sign_places import Spot
    from viewer.stage.drawn import Dimension, Points, Shape, View
    from viewer.stage.parts import Stage

_SMALL: Final = 90.0
"""Pixels of a picture 1000 pixels high. A longer line needs no inset."""
_ASIDE: Final = 0.9
"""Cosine. Who looks so much from the side needs no other view from there."""
_SHARE: Final = 0.3
"""Of the room's width in the picture."""
_TALL: Final = 0.8
"""Height by width."""
_GAP: Final = 12.0
"""Pixels to the edge of the room."""
_HEAD: Final = 50.0
"""Pixels at the top for its words, and below them for its lines."""
_LINES: Final = (10.0, 24.0)
"""Pixels below the words of the lines of what is allowed and of what is reached."""
_LETTERS: Final = 12.0
_MARGIN: Final = 0.1
"""Share of the inset kept free about what is shown."""
_ABOVE: Final = 0.55
"""Of what is shown, kept free above it for words and lines."""
_INWARD: Final = 0.01
"""Metres. How far within what reaches too far it is cut."""
_BEHIND: Final = 0.12
"""Metres behind the front that are shown."""


@dataclass(frozen=True, slots=True, eq=False)
class Inset:
    """A part of a picture with a view of its own.

    Attributes:
        size: What is shown.
        box: Where it goes, pixels.
        cut: Where it is cut open.
        view: Its camera.
    """

    size: Dimension
    box: Rectangle
    cut: Cut
    view: View

    @property
    def room(self) -> tuple[int, int]:
        """Width and height of what is drawn, pixels."""
        box = self.box
        return round(box.right - box.left), round(box.bottom - box.top)


def inset_of(stage: Stage, plan: Layout, seen: Projection) -> Inset | None:
    """Return the inset of a picture about one item; None where it needs none.

    Args:
        stage: What is drawn.
        plan: How the picture is divided.
        seen: How its camera fills the room.
    """
    size = next(
        (
            one
            for one in stage.dimensions
            if one.short and one.name == REACH and one.item == plan.of
        ),
        None,
    )
    if size is None:
        return None
    back = np.subtract(seen.view.eye, seen.view.target)
    if abs(float(back @ size.aside)) > _ASIDE * float(np.linalg.norm(back)):
        return None
    start, end = (seen.pixel(one) for one in (size.start, size.reached_end))
    if not math.dist(start, end) < _SMALL * plan.scale:
        return None
    side = np.array(size.aside)
    x, y, z = (np.array(size.start) - _INWARD * side).tolist()
    a, b, c = side.tolist()
    cut = Cut((x, y, z), (a, b, c))
    box = _box(plan, start)
    wide, tall = box.right - box.left, box.bottom - box.top
    view = framed(_points(stage, size), cut.towards, aspect=wide / tall, margin=_MARGIN)
    return Inset(size, box, cut, view)


def _box(plan: Layout, away: Spot) -> Rectangle:
    """Return the corner of the room that is farthest from a place."""
    room, gap = plan.room, _GAP * plan.scale
    wide = round(plan.room_size[0] * _SHARE)
    tall = round(wide * _TALL)
    left, right = room.left + gap, room.right - gap - wide
    top, bottom = room.top + gap, room.bottom - gap - tall
    # To the right, below, is the arrow to the north.
    corners = ((left, bottom), (left, top), (right, top))
    boxes = [Rectangle(x, y, x + wide, y + tall) for x, y in corners]
    return max(boxes, key=lambda one: math.dist(one.middle, away))


def _points(stage: Stage, size: Dimension) -> Points:
    """Return what is to be seen, in the plane of the line: what is in the way."""
    row = size.judgement
    in_the_way = () if row is None else stage.judgements[row].in_the_way
    side, start = np.array(size.aside), np.array(size.start)
    out = np.subtract(size.reached_end, size.start)
    out = out / np.linalg.norm(out)
    found = [np.array([start - _BEHIND * out, size.end, size.reached_end])]
    for shape in stage.shapes:
        if shape.item in in_the_way and shape.role == "solid":
            away = (shape.vertices - start) @ side
            found.append(shape.vertices - away[:, None] * side)
    points = np.concatenate(found)
    # Above it are the words and the lines.
    tall = float(np.ptp(points, axis=0).max())
    x, y, _ = points.mean(axis=0)
    return np.concatenate([points, [(x, y, points[:, 2].max() + _ABOVE * tall)]])


def draw_inset(
    whole: Image.Image,
    shapes: Sequence[Shape],
    inset: Inset,
    sheet: WrittenPicture,
    scale: float,
) -> None:
    """Draw an inset into a picture that is ``FINE`` times as large as the finished one.

    Args:
        whole: The picture.
        shapes: What is drawn.
        inset: What is shown of it, and where.
        sheet: To write on the picture.
        scale: Of letters and lines.
    """
    from viewer.picture.drawing.canvas import Quality, Studio  # noqa: PLC0415 - it loads graphics

    box, size = inset.box, inset.size
    plain = Quality(shadows=0, fine=FINE, plain=True)
    with Studio(inset.room, plain, cut=inset.cut) as studio:
        studio.show(shapes)
        drawn = studio.shoot(inset.view)
    whole.paste(drawn, (round(box.left) * FINE, round(box.top) * FINE))
    sheet.box(box, None, edge=palette.FAINT_INK, width=1.2 * scale)
    head = Rectangle(box.left, box.top, box.right, box.top + _HEAD * scale)
    sheet.box(head, palette.PAPER, edge=palette.FAINT_INK, width=1.2 * scale)
    letters, room = _LETTERS * scale, box.right - box.left - 16.0 * scale
    words = (
        (f"From the side: {size.name} {size.required}", palette.SPACE_EDGE),
        (f"it is {size.provided}", palette.INTRUSION_TEXT),
    )
    for n, (text, colour) in enumerate(words):
        at = box.left + 8.0 * scale, box.top + (19.0 + 20.0 * n) * scale
        sheet.text(at, sheet.fitted(text, letters, room), letters, colour=colour)
    seen = Projection(inset.view, *inset.room, round(box.left), round(box.top))
    for end, colour, down in (
        (size.end, palette.SPACE_EDGE, _LINES[0]),
        (size.reached_end, palette.INTRUSION, _LINES[1]),
    ):
        level = head.bottom + down * scale
        ends = [seen.pixel(size.start), seen.pixel(end)]
        for x, y in ends:
            sheet.line([(x, y), (x, level)], colour, 1.0 * scale, solid=0.7)
        line = [(x, level) for x, _ in ends]
        sheet.line(line, palette.PAPER, 4.0 * scale, solid=0.8)
        sheet.line(line, colour, 2.2 * scale)
        for x, _ in line:
            half = 4.0 * scale
            tick = [(x - half, level + half), (x + half, level - half)]
            sheet.line(tick, colour, 2.0 * scale)
