"""A finished picture: the drawn room, its signs, and what stands about it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image

from viewer import palette
from viewer.captions import badge, write_captions
from viewer.lettering import FINE, Sheet
from viewer.placing import Box
from viewer.projecting import Projection
from viewer.signs import LETTERS, Setting, arrange_signs
from viewer.stage.cameras import BEARINGS, direction, framed
from viewer.stage.hung import opened
from viewer.stage.layers import INTRUSIONS, SPACES
from viewer.stage.sights import best_corner, best_view, sampled, screens

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.captions import Layout
    from viewer.drawing import Studio
    from viewer.placing import Spot
    from viewer.signs import Mark, Ruled, Signs
    from viewer.stage.parts import Dimension, Point, Points, Shape, Stage, View

_GRAZING: Final = -0.3
"""A wall turned away by less may be seen by a camera that stands near."""
_OF_ONE: Final = ("space", "footprint", "intrusion")


def room_size(plan: Layout) -> tuple[int, int]:
    """Return the size of the part of a picture the room is drawn in, pixels."""
    room = plan.room
    return round(room.right - room.left), round(room.bottom) - round(room.top)


def view_of(
    stage: Stage,
    plan: Layout,
    *,
    of: str | None = None,
    looking_from: str | None = None,
) -> View:
    """Return the camera that fills the picture with the room, or with one item.

    Raises:
        ValueError: There is no view of that name.
    """
    width, height = room_size(plan)
    aspect = width / height
    if of is None:
        names = tuple(BEARINGS) if looking_from is None else (looking_from,)
        name, rise = best_corner(_important(stage), screens(stage.shapes), names)
        towards = direction(name, rise)
        return framed(_room(stage, towards), towards, aspect=aspect, name=name)
    shapes = focused(stage, of)
    points = _extent(shapes)
    if looking_from is not None:
        towards = direction(looking_from)
        return framed(points, towards, aspect=aspect, name=looking_from, margin=0.1)
    ahead = next((shape.ahead for shape in shapes if shape.ahead), None)
    return best_view(points, ahead, screens(stage.shapes), aspect=aspect)


def _room(stage: Stage, towards: Point) -> Points:
    """Return the points that a picture of the whole place must hold, shape (n, 3).

    Indoors the floor is one of them; outdoors the ground may run out of the picture.
    """
    walls = sum(one.kind == "wall" and one.role == "surface" for one in stage.shapes)
    outdoors = walls < len(stage.outline) or not stage.outline
    held = [
        shape
        for shape in visible(stage, towards)
        if not outdoors or (shape.item not in {"", "floor"} and shape.role != "cut")
    ]
    return _extent(held or visible(stage, towards))


def _important(stage: Stage) -> Points:
    """Return points on what is in the way, and in spaces that are not met or open."""
    parts = [np.empty((0, 3))]
    for shape in stage.shapes:
        if shape.role in {"space", "intrusion"} and shape.layer in {SPACES, INTRUSIONS}:
            parts.append(sampled(shape.vertices))
    return np.concatenate(parts)


def _extent(shapes: Iterable[Shape]) -> Points:
    """Return all points of shapes that must be in the picture, shape (n, 3)."""
    parts = [
        points
        for shape in shapes
        for points in (shape.vertices, shape.edges.reshape(-1, 3))
    ]
    return np.concatenate(parts)


def focused(stage: Stage, of: str) -> list[Shape]:
    """Return the shapes of an item, of its spaces, and of what is in them."""
    return [
        shape
        for shape in stage.shapes
        if shape.item == of or (shape.role in _OF_ONE and _subject(stage, shape) == of)
    ]


def visible(
    stage: Stage, looked_from: Point | View, of: str | None = None
) -> Iterator[Shape]:
    """Yield the shapes a picture shows, leaves turned as far as they are shown.

    A wall that is seen from behind is left out, with its edges. A picture of one item
    shows the spaces of that item only, and marks the item.

    Args:
        stage: What there is.
        looked_from: The camera; or only the way to it, as long as it is not placed.
        of: The item, if the picture is about one.
    """
    shown = {layer.id for layer in stage.layers if layer.shown}
    for shape in stage.shapes:
        if shape.layer not in shown or _turned_away(shape, looked_from):
            continue
        if of is not None and shape.role in _OF_ONE and _subject(stage, shape) != of:
            continue
        turned = opened(shape)
        if of is not None and shape.item == of and shape.role in {"solid", "leaf"}:
            marked = palette.mixed(shape.colour, palette.SELECTION, 0.6)
            turned = replace(turned, colour=marked)
        yield turned


def _turned_away(shape: Shape, looked_from: Point | View) -> bool:
    if not shape.one_sided or shape.ahead is None:
        return False
    if isinstance(looked_from, tuple):
        east, north, _ = looked_from
        least = _GRAZING
    else:
        place = (shape.edges if len(shape.edges) else shape.vertices).reshape(-1, 3)[0]
        east, north = np.subtract(looked_from.eye, place)[:2]
        least = 0.0
    return bool(shape.ahead[0] * east + shape.ahead[1] * north < least)


def compose(
    studio: Studio, stage: Stage, plan: Layout, view: View, *, of: str | None = None
) -> Image.Image:
    """Draw a picture with everything that is written on it and about it."""
    studio.show(visible(stage, view, of))
    drawn = Image.fromarray(studio.shoot(view))
    width, height = room_size(plan)
    top = round(plan.room.top)
    whole = Image.new("RGB", (plan.width * FINE, plan.height * FINE), palette.PAPER)
    whole.paste(drawn, (0, top * FINE))
    sheet = Sheet(whole)
    projection = Projection(view, width, height, 0, top)
    compass = _compass_box(plan)
    signs = arrange_signs(
        stage if of is None else _about(stage, of),
        Setting(projection, plan.room.wider(-6.0 * plan.scale), sheet.wide, plan.scale),
        sizes=_sizes(stage, of),
        in_full=of is not None,
        taken=[compass],
    )
    draw_signs(sheet, signs, plan.scale)
    _compass(sheet, projection, compass)
    write_captions(sheet, stage, plan)
    return sheet.finished()


def draw_signs(sheet: Sheet, signs: Signs, scale: float) -> None:
    """Draw sizes, names and numbers, each with a line to what it is about."""
    for rule in signs.rules:
        _draw_rule(sheet, rule, scale)
    for mark in signs.marks:
        _leader(sheet, mark, scale)
    for mark in reversed(signs.marks):
        _draw_mark(sheet, mark, scale)


def _about(stage: Stage, of: str) -> Stage:
    """Return the stage with the numbers of one item only."""
    return replace(stage, badges=tuple(b for b in stage.badges if b.item == of))


def _sizes(stage: Stage, of: str | None) -> tuple[Dimension, ...]:
    if of is None:
        return tuple(one for one in stage.dimensions if one.short)
    return tuple(one for one in stage.dimensions if one.item == of)


def _subject(stage: Stage, shape: Shape) -> str:
    return stage.findings[shape.findings[0]].subject


def _draw_rule(sheet: Sheet, rule: Ruled, scale: float) -> None:
    for end, off in zip(rule.ends, rule.line, strict=True):
        sheet.line([end, off], palette.SPACE_EDGE, 1.0 * scale, solid=0.6)
    _ticked(sheet, rule.line, palette.SPACE_EDGE, scale)
    if rule.reached is not None:
        _ticked(sheet, rule.reached, palette.INTRUSION, scale)


def _ticked(sheet: Sheet, line: tuple[Spot, Spot], colour: str, scale: float) -> None:
    sheet.line(line, palette.PAPER, 4.0 * scale, solid=0.8)
    sheet.line(line, colour, 2.0 * scale)
    half = 4.5 * scale
    for x, y in line:
        tick = [(x - half, y + half), (x + half, y - half)]
        sheet.line(tick, colour, 2.0 * scale)


def _leader(sheet: Sheet, mark: Mark, scale: float) -> None:
    x, y = mark.anchor
    box = mark.box
    end = (min(max(x, box.left), box.right), min(max(y, box.top), box.bottom))
    if mark.look in {"not-met", "open"}:
        end = box.middle
    length = float(np.hypot(end[0] - x, end[1] - y))
    if length < 7.0 * scale:
        return
    faint = mark.look == "faint-name"
    sheet.line([(x, y), end], palette.PAPER, 3.4 * scale, solid=0.75)
    colour = palette.FAINT_INK if faint else palette.INK
    sheet.line([(x, y), end], colour, 1.2 * scale, solid=0.6 if faint else 1.0)
    radius = 2.4 * scale
    sheet.disc((x, y), radius, colour, edge=palette.PAPER, width=0.8 * scale)


def _draw_mark(sheet: Sheet, mark: Mark, scale: float) -> None:
    box, size = mark.box, LETTERS * scale
    if mark.look in {"not-met", "open"}:
        badge(sheet, mark.look, box, mark.lines[0], size)
        return
    faint = mark.look == "faint-name"
    sheet.box(
        box,
        palette.PAPER,
        edge=None if faint else palette.GRID,
        radius=3.0 * scale,
        solid=0.55 if faint else 0.9,
    )
    colours = {
        "size": (palette.SPACE_EDGE,),
        "short-size": (palette.INTRUSION_TEXT,),
        "sizes": (palette.SPACE_EDGE, palette.INTRUSION_TEXT),
        "faint-name": (palette.FAINT_INK,),
    }.get(mark.look, (palette.INK,))
    row = (box.bottom - box.top) / len(mark.lines)
    for n, (line, colour) in enumerate(zip(mark.lines, colours, strict=False)):
        base = box.top + (n + 0.5) * row + 0.36 * size
        sheet.text(
            (box.middle[0], base),
            line,
            size,
            colour=colour,
            bold=mark.look == "strong-name",
            place="ms",
        )


def _compass_box(plan: Layout) -> Box:
    side, gap = 46.0 * plan.scale, 12.0 * plan.scale
    right, bottom = plan.room.right - gap, plan.room.bottom - gap
    return Box(right - side, bottom - side, right, bottom)


def _compass(sheet: Sheet, projection: Projection, box: Box) -> None:
    """Draw an arrow to the north, as it lies on the floor."""
    target = np.array(projection.view.target)
    points: Points = np.stack([target, target + np.array([0.0, 0.05, 0.0])])
    (a, b), (c, d) = projection.pixels(points)
    length = float(np.hypot(c - a, d - b)) or 1.0
    along = np.array([c - a, d - b]) / length
    aside = np.array([-along[1], along[0]])
    half = (box.right - box.left) / 2
    middle = np.array(box.middle)
    tip, tail = middle + along * half * 0.62, middle - along * half * 0.62
    wings = [tail + aside * half * 0.3, tail - aside * half * 0.3]
    notch = tail + along * half * 0.28
    arrow = [tip, wings[0], notch, wings[1]]
    sheet.patch([(float(p[0]), float(p[1])) for p in arrow], palette.FAINT_INK)
    x, y = tip + along * half * 0.34
    size = half * 0.56
    sheet.text(
        (float(x), float(y) + 0.36 * size),
        "N",
        size,
        colour=palette.FAINT_INK,
        bold=True,
        place="ms",
    )
