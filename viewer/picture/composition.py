"""A finished picture: the drawn room, its signs, and what stands about it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image

from viewer.picture.inset import draw_inset, inset_of
from viewer.picture.rims import rimmed
from viewer.sheet.badges import badge
from viewer.sheet.captions import write_captions
from viewer.sheet.letters import FINE, WrittenPicture
from viewer.sheet.projection import Projection
from viewer.sheet.sign_places import Rectangle
from viewer.sheet.signage import LETTERS, SignRoom
from viewer.sheet.signs import arrange_signs, line_sizes
from viewer.stage import palette
from viewer.stage.layers import BADGES, DIMENSIONS, LABELS
from viewer.stage.looking.about import short_sizes
from viewer.stage.looking.views import seen_past, visible

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.picture.drawing.canvas import Studio
    from viewer.sheet.layout import Layout
    from viewer.sheet.sign_places import Spot
    from viewer.sheet.signage import Measure, PlacedSign, PointText, RuledSize, Signs
    from viewer.stage.drawn import Dimension, Points, View
    from viewer.stage.parts import Stage


_LEAST: Final = 0.5
"""Pixels of 50 mm in the middle of the picture."""


def compose_picture(
    studio: Studio,
    stage: Stage,
    plan: Layout,
    view: View,
    *,
    names: bool = True,
    notes: Sequence[PointText] = (),
    sizes: Sequence[Dimension] | None = None,
) -> Image.Image:
    """Draw a picture with everything that is written on it and about it.

    Args:
        studio: It has the size of the part the room is drawn in.
        stage: What is drawn.
        plan: How the picture is divided.
        view: The camera.
        names: Write the ids of things.
        notes: Texts of this picture only.
        sizes: Dimension lines; left out, those that are short, or where none is and
            the picture is about one item all of its own.
    """
    shapes = list(visible(stage, view))
    if plan.of is not None and studio.cut is None:
        lines = _sizes_in(stage, plan, sizes)
        shapes = list(seen_past(shapes, view, plan.of, lines))
    studio.show(rimmed(shapes, view))
    drawn = studio.shoot(view)
    top = round(plan.room.top)
    whole = Image.new("RGB", (plan.width * FINE, plan.height * FINE), palette.PAPER)
    whole.paste(drawn, (0, top * FINE))
    sheet = WrittenPicture(whole)
    signs = signs_in(
        stage, plan, view, sheet.wide, names=names, notes=notes, sizes=sizes
    )
    draw_signs(sheet, signs, plan.scale)
    inset = inset_of(stage, plan, projection_of(plan, view))
    if inset is not None:
        draw_inset(whole, list(visible(stage, view)), inset, sheet, plan.scale)
    _compass(sheet, projection_of(plan, view), compass_box(plan))
    write_captions(sheet, stage, plan)
    return sheet.finished()


def signs_in(
    stage: Stage,
    plan: Layout,
    view: View,
    measure: Measure,
    *,
    names: bool = True,
    notes: Sequence[PointText] = (),
    sizes: Sequence[Dimension] | None = None,
) -> Signs:
    """Return all that is written into the room of a picture, in its place.

    Args:
        stage: What is drawn.
        plan: How the picture is divided.
        view: The camera.
        measure: Tells how wide a text is.
        names: Write the ids of things.
        notes: Texts of this picture only.
        sizes: Dimension lines, as ``compose_picture`` takes them.
    """
    projection = projection_of(plan, view)
    inset = inset_of(stage, plan, projection)
    shown = {layer.id for layer in stage.layers if layer.shown}
    stage = replace(
        stage,
        badges=stage.badges if BADGES in shown else (),
        labels=stage.labels if LABELS in shown else (),
    )
    frame = plan.room.wider(-6.0 * plan.scale)
    return arrange_signs(
        stage,
        SignRoom(projection, frame, measure, plan.scale),
        sizes=_sizes_in(stage, plan, sizes),
        names=None if names else (),
        notes=notes,
        in_full=plan.of is not None,
        taken=[compass_box(plan), *([] if inset is None else [inset.box])],
    )


def _sizes_in(
    stage: Stage, plan: Layout, sizes: Sequence[Dimension] | None
) -> Sequence[Dimension]:
    """Return the dimension lines of a picture, given or of the stage."""
    if not any(layer.shown for layer in stage.layers if layer.id == DIMENSIONS):
        return ()
    if sizes is not None:
        return sizes
    short = short_sizes(stage)
    # About one item what decides comes first; what is met only where nothing does.
    return short if plan.of is None or short else stage.dimensions


def projection_of(plan: Layout, view: View) -> Projection:
    """Return how a camera fills the room of a picture."""
    return Projection(view, *plan.room_size, 0, round(plan.room.top))


def draw_signs(sheet: WrittenPicture, signs: Signs, scale: float) -> None:
    """Draw sizes, names and numbers, each with a line to what it is about."""
    for rule in signs.rules:
        _draw_rule(sheet, rule, scale)
    for mark in signs.marks:
        _leader(sheet, mark, scale)
    for mark in reversed(signs.marks):
        _draw_mark(sheet, mark, scale)


def _draw_rule(sheet: WrittenPicture, rule: RuledSize, scale: float) -> None:
    for end, off in zip(rule.ends, rule.line, strict=True):
        sheet.line([end, off], palette.SPACE_EDGE, 1.0 * scale, solid=0.6)
    _ticked(sheet, rule.line, palette.INK if rule.own else palette.SPACE_EDGE, scale)
    if rule.reached is not None:
        _ticked(sheet, rule.reached, palette.INTRUSION, scale)


def _ticked(
    sheet: WrittenPicture, line: tuple[Spot, Spot], colour: str, scale: float
) -> None:
    sheet.line(line, palette.PAPER, 4.0 * scale, solid=0.8)
    sheet.line(line, colour, 2.0 * scale)
    half = 4.5 * scale
    for x, y in line:
        tick = [(x - half, y + half), (x + half, y - half)]
        sheet.line(tick, colour, 2.0 * scale)


def _leader(sheet: WrittenPicture, mark: PlacedSign, scale: float) -> None:
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


def _draw_mark(sheet: WrittenPicture, mark: PlacedSign, scale: float) -> None:
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
    shares = line_sizes(mark.look, len(mark.lines))
    row = (box.bottom - box.top) / sum(shares)
    level = box.top
    for n, (line, share) in enumerate(zip(mark.lines, shares, strict=True)):
        sheet.text(
            (box.middle[0], level + 0.5 * row * share + 0.36 * size * share),
            line,
            size * share,
            colour=colours[min(n, len(colours) - 1)],
            bold=mark.look == "strong-name",
            place="ms",
        )
        level += row * share


def compass_box(plan: Layout) -> Rectangle:
    """Return where the arrow to the north goes."""
    side, gap = 46.0 * plan.scale, 12.0 * plan.scale
    right, bottom = plan.room.right - gap, plan.room.bottom - gap
    return Rectangle(right - side, bottom - side, right, bottom)


def _compass(sheet: WrittenPicture, projection: Projection, box: Rectangle) -> None:
    """Draw an arrow to the north, as it lies on the floor."""
    target = np.array(projection.view.target)
    points: Points = np.stack([target, target + np.array([0.0, 0.05, 0.0])])
    (a, b), (c, d) = projection.pixels(points)
    length = float(np.hypot(c - a, d - b))
    if length < _LEAST:  # it points into the picture, and no arrow tells that
        return
    along = np.array([c - a, d - b]) / length
    aside = np.array([-along[1], along[0]])
    half = (box.right - box.left) / 2
    sheet.disc(box.middle, half, palette.PAPER, edge=palette.GRID, width=1.0)
    middle = np.array(box.middle)
    tip, tail = middle + along * half * 0.22, middle - along * half * 0.72
    wings = [tail + aside * half * 0.28, tail - aside * half * 0.28]
    notch = tail + along * half * 0.28
    arrow = [tip, wings[0], notch, wings[1]]
    sheet.patch([(float(p[0]), float(p[1])) for p in arrow], palette.FAINT_INK)
    x, y = tip + along * half * 0.36
    size = half * 0.5
    sheet.text(
        (float(x), float(y) + 0.36 * size),
        "N",
        size,
        colour=palette.FAINT_INK,
        bold=True,
        place="ms",
    )
