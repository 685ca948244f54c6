"""Numbers, sizes and names on a picture: what they say, and where each of them goes.

Nothing here draws in space; the places are computed, so they can be tested.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.judging.results import ROOM
from viewer.sheet.measured import along_lines, measured
from viewer.sheet.sign_places import Rectangle, Sign, place
from viewer.sheet.signage import PlacedSign, RuledSize, Signs
from viewer.stage.bodies.free import is_band
from viewer.stage.looking.names import in_sight
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.sheet.measured import Measured
    from viewer.sheet.projection import Projection
    from viewer.sheet.sign_places import Spot
    from viewer.sheet.signage import PointText, SignRoom, Style
    from viewer.stage.drawn import Badge, Dimension, Label, Point, Shape
    from viewer.stage.parts import Stage


BADGE: Final = 13.0
"""Pixels. Radius of a badge in a picture 1000 pixels high."""
LETTERS: Final = 13.5
"""Pixels. Size of names and sizes in a picture 1000 pixels high."""
SECOND: Final = 0.85
"""Size of the letters of a size in the other system of units, below the scene's own,
by those of the first line."""
_PAD: Final = 5.0
_LINE: Final = 1.36
"""Height of a line by the size of its letters."""
_MOST_NAMES: Final = 60
"""More names than this are no help."""
_CROWD: Final = 40
"""More badges than this share one an item."""
_MOST_BADGES: Final = 150
"""More badges than this hide the room."""
_LONGEST_THING: Final = 24
"""Letters of what is named in a badge."""
_LEFT: Final = 1.8
"""Times as long as the part its text hides must a dimension line be."""


@dataclass(frozen=True, slots=True)
class _Wish:
    look: Style
    lines: tuple[str, ...]
    sign: Sign
    point: Point
    items: tuple[str, ...] = ()
    judgements: tuple[int, ...] = ()
    aims: bool = True


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
        *_badges(stage, setting),
        *_sizes(drawn, setting, in_full=in_full),
        *_names([*labels][:_MOST_NAMES], stage, setting),
    ]
    wishes = [
        wish
        for wish in wishes
        if wish.sign.must or _inside(wish.sign.anchor, setting.frame)
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


def _notes(notes: Sequence[PointText], setting: SignRoom) -> Iterator[_Wish]:
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
            max(setting.measure(line, size) for line in note.lines) + 2 * _PAD * scale,
            len(note.lines) * size * _LINE + _PAD * scale,
            near=near,
            far=math.inf,
            must=True,
            towards=towards,
        )
        yield _Wish(note.look, note.lines, sign, note.anchor)


def _badges(stage: Stage, setting: SignRoom) -> Iterator[_Wish]:
    """Yield a badge for each number; open ones of one item share a badge.

    So do all that one thing is in the way of: it is named beside its numbers. In a
    crowd all of one item do. What is of the room as a whole points at nothing in it.
    What a picture cannot hold is in its list, and in the report.
    """
    scale = setting.scale
    groups: dict[tuple[str, str, str], list[Badge]] = {}
    crowded = len(stage.badges) > _CROWD
    for badge in stage.badges:
        row = stage.judgements[badge.judgement]
        thing = ", ".join(row.in_the_way)
        if badge.item == ROOM and not thing and not row.shapes:
            kin = badge.verdict, "", ROOM
        elif crowded or badge.verdict == "open":
            kin = badge.verdict, badge.item, ""
        elif thing:
            kin = badge.verdict, "", thing
        else:
            kin = badge.verdict, badge.item, str(badge.number)
        groups.setdefault(kin, []).append(badge)
    for (verdict, whose, thing), group in list(groups.items())[:_MOST_BADGES]:
        text = ranges([badge.number for badge in group])
        of_room = thing == ROOM
        if of_room or (len(group) > 1 and not whose):
            text = f"{text}  {clean(thing, _LONGEST_THING)}"
        items = tuple(dict.fromkeys(badge.item for badge in group))
        height = 2 * BADGE * scale
        wide = setting.measure(text, LETTERS * scale, bold=True) + 1.1 * BADGE * scale
        wide = max(height, wide)
        frame = setting.frame
        sign = Sign(
            (frame.left + wide / 2 + _PAD, frame.top + height / 2 + _PAD)
            if of_room
            else setting.projection.pixel(group[0].anchor),
            wide,
            height,
            near=16.0 * scale,
            far=math.inf,
            must=True,
            on=of_room,
        )
        yield _Wish(
            "not-met" if verdict == "not-met" else "open",
            (text,),
            sign,
            group[0].anchor,
            items,
            tuple(badge.judgement for badge in group),
            aims=not of_room,
        )


def ranges(numbers: Sequence[int]) -> str:
    """Write numbers as a short list.

    >>> ranges([4, 5, 6, 9]), ranges([2, 3]), ranges([7])
    ('4-6, 9', '2, 3', '7')
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    pair = 2
    return ", ".join(
        f"{run[0]}-{run[-1]}" if len(run) > pair else ", ".join(map(str, run))
        for run in runs
    )


def _sizes(
    drawn: Sequence[Measured], setting: SignRoom, *, in_full: bool
) -> Iterator[_Wish]:
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
            wide + 2 * _PAD * scale,
            sum(letters) * _LINE + _PAD * scale,
            near=10.0 * scale,
            far=420.0 * scale,
            must=size.short or own,
        )
        on = one.rule is not None and _holds(one.rule, sign)
        middle = _middle(size.start, size.end)
        items = (size.item,) if size.item else ()
        yield _Wish(look, tuple(lines), replace(sign, on=on), middle, items)


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


def _names(labels: Sequence[Label], stage: Stage, setting: SignRoom) -> Iterator[_Wish]:
    scale = setting.scale
    size = LETTERS * scale
    seen = in_sight(labels, stage, setting.projection.view)
    for was, label in zip(labels, seen, strict=True):
        look: Style = "faint-name" if label.ghost else "name"
        if not label.rank:
            look = "strong-name"
        wide = (
            setting.measure(label.text, size, bold=look == "strong-name")
            + 2 * _PAD * scale
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
        yield _Wish(look, (label.text,), sign, label.anchor, (label.item,))


def _middle(start: Point, end: Point) -> Point:
    x, y, z = ((one + other) / 2 for one, other in zip(start, end, strict=True))
    return x, y, z


def _inside(spot: Spot, frame: Rectangle) -> bool:
    x, y = spot
    return frame.left <= x <= frame.right and frame.top <= y <= frame.bottom


def _precious(shapes: Iterable[Shape], projection: Projection) -> Iterator[Rectangle]:
    """Yield where things in the way are seen, and bands of a map: no name hides it."""
    for shape in shapes:
        if shape.role == "intrusion" or is_band(shape):
            points = projection.pixels(shape.vertices)
            points = points[np.isfinite(points).all(axis=1)]
            if len(points):
                (a, b), (c, d) = points.min(axis=0), points.max(axis=0)
                yield Rectangle(float(a), float(b), float(c), float(d))
