"""Numbers, sizes and names on a picture: what they say, and where each of them goes.

Nothing here draws in space; the places are computed, so they can be tested.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.sheet.measured import along_lines, measured
from viewer.sheet.sign_places import Rectangle, Sign, place
from viewer.sheet.signage import LETTERS, PAD, PlacedSign, RuledSize, Signs, Wish
from viewer.sheet.wished_badges import badges_wished
from viewer.stage.bodies.free import is_band
from viewer.stage.looking.names import in_sight

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.sheet.measured import Measured
    from viewer.sheet.projection import Projection
    from viewer.sheet.signage import PointText, SignRoom, Style
    from viewer.stage.drawn import Dimension, Label, Point, Shape
    from viewer.stage.parts import Stage


SECOND: Final = 0.85
"""Size of the letters of a size in the other system of units, below the scene's own,
by those of the first line."""
_LINE: Final = 1.36
"""Height of a line by the size of its letters."""
_MOST_NAMES: Final = 60
"""More names than this are no help."""
_LEFT: Final = 1.8
"""Times as long as the part its text hides must a dimension line be."""


def arrange_signs(
    stage: Stage,
    setting: SignRoom,
    *,
    sizes: Sequence[Dimension] = (),
    names: Iterable[Label] | None = None,
    in_full: bool = False,
    notes: Sequence[PointText] = (),
    taken: Sequence[Rectangle] = (),
) -> Signs:
    """Find a place for everything that is written into the picture.

    Args:
        stage: What is drawn.
        setting: The camera and the room there is for signs.
        sizes: Dimensions to draw.
        names: Labels to draw, as far as there is room; all of the stage if left out.
        in_full: Write sizes in both systems of units.
        notes: Other texts; they come first.
        taken: Where nothing may be.
    """
    projection, scale = setting.projection, setting.scale
    drawn = [*measured(sizes, projection)]
    labels = stage.labels if names is None else names
    wishes = [
        *_notes(notes, setting),
        *badges_wished(stage, setting),
        *_sizes(drawn, setting, in_full=in_full),
        *_names([*labels][:_MOST_NAMES], stage, setting),
    ]
    wishes = [
        wish
        for wish in wishes
        if wish.sign.must or setting.frame.holds(wish.sign.anchor)
    ]
    boxes = place(
        [wish.sign for wish in wishes],
        setting.frame,
        taken=taken,
        keep_clear=_precious(stage.shapes, projection),
        spots=along_lines(drawn, scale),
        gap=4.0 * scale,
    )
    marks = tuple(
        PlacedSign(
            wish.look,
            wish.lines,
            wish.sign.anchor if wish.aims else box.middle,
            box,
            wish.items,
            wish.point,
            wish.judgements,
            aims=wish.aims,
        )
        for wish, box in zip(wishes, boxes, strict=True)
        if box is not None
    )
    return Signs(marks, tuple(one.rule for one in drawn if one.rule is not None))


def line_sizes(look: Style, count: int) -> tuple[float, ...]:
    """Return the size of the letters of each line of a sign, by those of a name."""
    if look in {"size", "short-size"}:
        return (1.0, *[SECOND] * (count - 1))
    return (1.0,) * count


def _notes(notes: Sequence[PointText], setting: SignRoom) -> Iterator[Wish]:
    scale = setting.scale
    size = LETTERS * scale
    for note in notes:
        anchor = setting.projection.pixel(note.anchor)
        near, towards = 14.0 * scale, None
        if note.past is not None:
            (x, y), (right, down) = anchor, setting.projection.pixel(note.past)
            towards = right - x, down - y
            near = math.hypot(*towards) + 5.0 * scale
        sign = Sign(
            anchor,
            max(setting.measure(line, size) for line in note.lines) + 2 * PAD * scale,
            len(note.lines) * size * _LINE + PAD * scale,
            near=near,
            far=math.inf,
            must=True,
            towards=towards,
        )
        yield Wish(note.look, note.lines, sign, note.anchor)


def _sizes(
    drawn: Sequence[Measured], setting: SignRoom, *, in_full: bool
) -> Iterator[Wish]:
    scale = setting.scale
    for one in drawn:
        size = one.size
        lines = [line for line in (size.brief, size.brief_other) if line]
        own = size.judgement is None
        look: Style = "short-size" if size.short else "name" if own else "size"
        if in_full:
            lines = [f"{size.name} {size.required}".strip()]
            there = "it is" if size.most else "there"
            lines += [f"{there} {size.provided}"] if size.short else []
            look = "sizes" if len(lines) > 1 else look
        letters = [LETTERS * scale * share for share in line_sizes(look, len(lines))]
        wide = max(map(setting.measure, lines, letters))
        sign = Sign(
            one.anchor,
            wide + 2 * PAD * scale,
            sum(letters) * _LINE + PAD * scale,
            near=10.0 * scale,
            far=420.0 * scale,
            must=size.short or own,
        )
        on = one.rule is not None and _holds(one.rule, sign)
        middle = _middle(size.start, size.end)
        items = (size.item,) if size.item else ()
        yield Wish(look, tuple(lines), replace(sign, on=on), middle, items)


def _holds(rule: RuledSize, sign: Sign) -> bool:
    """Tell whether a text may break a line, as draughtsmen write it.

    Enough of the line is left on either side, and no other line lies beside it.
    """
    (a, b), (c, d) = rule.line
    length = math.hypot(c - a, d - b)
    across, down = abs(c - a) / length, abs(d - b) / length
    hidden = min(
        sign.width / across if across else math.inf,
        sign.height / down if down else math.inf,
    )
    return rule.reached is None and length > _LEFT * hidden


def _names(labels: Sequence[Label], stage: Stage, setting: SignRoom) -> Iterator[Wish]:
    scale = setting.scale
    size = LETTERS * scale
    seen = in_sight(labels, stage, setting.projection.view)
    for was, label in zip(labels, seen, strict=True):
        look: Style = "faint-name" if label.ghost else "name"
        if not label.rank:
            look = "strong-name"
        wide = (
            setting.measure(label.text, size, bold=look == "strong-name")
            + 2 * PAD * scale
        )
        sign = Sign(
            setting.projection.pixel(label.anchor),
            wide,
            size * _LINE + 2.0 * scale,
            near=5.0 * scale,
            far=(140.0 if label.rank < 2 else 50.0) * scale,  # noqa: PLR2004 - gear
            # Beside the one part of a thing that is seen it would name another thing.
            on=label is not was,
        )
        yield Wish(look, (label.text,), sign, label.anchor, (label.item,))


def _middle(start: Point, end: Point) -> Point:
    x, y, z = ((one + other) / 2 for one, other in zip(start, end, strict=True))
    return x, y, z


def _precious(shapes: Iterable[Shape], projection: Projection) -> Iterator[Rectangle]:
    """Yield where things in the way are seen, and bands of a map: no name hides it."""
    for shape in shapes:
        if shape.role == "intrusion" or is_band(shape):
            points = projection.pixels(shape.vertices)
            points = points[np.isfinite(points).all(axis=1)]
            if len(points):
                (a, b), (c, d) = points.min(axis=0), points.max(axis=0)
                yield Rectangle(float(a), float(b), float(c), float(d))
