"""A still picture of a room with what is wrong in it: one PNG, whole or not at all."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.output.outlet import write_whole
from viewer.picture.composition import compose_picture
from viewer.picture.drawing.graphics import require_graphics
from viewer.picture.free import free_stage, free_words
from viewer.picture.lesson_step import step_words, view_of_step
from viewer.picture.person import peopled
from viewer.sheet.layout import layout
from viewer.stage import build_stage
from viewer.stage.layers import with_layers
from viewer.stage.looking.about import about, short_sizes
from viewer.stage.looking.cameras import ABOVE, framed
from viewer.stage.looking.views import view_of_item, view_of_place

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from PIL import Image

    from model3d.judging.report import Report
    from model3d.mending.placing.answer import PlaceAnswer
    from model3d.scene.scene import Scene
    from viewer.sheet.layout import Layout
    from viewer.sheet.signage import PointText
    from viewer.stage import Dimension, Stage, View
    from viewer.stage.looking.cuts import Cut

SIZE: Final = (1600, 1000)
"""Pixels, where nothing else is said."""
SMALLEST: Final = (480, 320)


_GREY: Final = (0.12, 0.68, 0.20, 0.0)
"""How much red, green and blue lighten a grey: red less than to the eye."""


@dataclass(frozen=True, slots=True)
class Looks:
    """How a picture is to look.

    Attributes:
        grey: In shades of grey, as many printers print it.
        person: A person stands in it, to show how much room there is.
        section: It is cut open through the item it is about, and seen from its side.
    """

    grey: bool = False
    person: bool = False
    section: bool = False


PLAIN: Final = Looks()
LARGEST: Final = (8000, 8000)
_AROUND: Final = 0.12
"""Share of the picture kept free about what a section shows."""
_WRITTEN: Final = 0.11
"""Share of the picture kept free about a map: there the lengths of walls stand."""


def picture(
    scene: Scene,
    report: Report,
    path: Path,
    *,
    of: str | None = None,
    looking_from: str | None = None,
    size: tuple[int, int] = SIZE,
    looks: Looks = PLAIN,
) -> None:
    """Write a picture of a room as PNG.

    Args:
        scene: What was checked.
        report: What the check answered.
        path: The file; it is written whole or not at all.
        of: An item: it is framed, with its spaces and their sizes.
        looking_from: Where the viewer stands, as ``cameras.DIRECTIONS`` lists it. Left
            out: where the least is hidden; for a room south-east if that is as good.
        size: Width and height, pixels.
        looks: Whether it is grey, cut open, and a person stands in it.

    Raises:
        ValueError: No such item or view, a size out of bounds, or a section through
            no item, or through one without a front.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    check_size(size)
    stage = build_stage(scene, report, of=of)
    if looks.section:
        if of is None:
            msg = "a section goes through an item: it needs --of ITEM"
            raise ValueError(msg)
        _section(about(stage, of), of, path, looking_from, size, looks)
        return
    plan = layout(stage, size, of=of)
    aspect = plan.aspect
    if of is None:
        view = view_of_place(stage, aspect, looking_from=looking_from)
    else:
        stage = about(stage, of)
        view = view_of_item(stage, of, aspect, looking_from=looking_from)
    if looks.person:
        stage = peopled(stage, view, of)
    _draw(_Shot(stage, plan, view), path, looks)


def free_picture(
    scene: Scene,
    report: Report,
    found: PlaceAnswer,
    path: Path,
    *,
    looking_from: str | None = None,
    size: tuple[int, int] = SIZE,
    looks: Looks = PLAIN,
) -> None:
    """Write a picture of where an item may be put as PNG.

    Args:
        scene: The room, the item in it where it is now.
        report: What the check answered.
        found: The item's places.
        path: The file; it is written whole or not at all.
        looking_from: Where the viewer stands; left out, above.
        size: Width and height, pixels.
        looks: Whether it is grey, and a person stands in it.

    Raises:
        ValueError: No such view, or a size out of bounds.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    check_size(size)
    stage, notes = free_stage(build_stage(scene, report), found)
    words = free_words(found, stage.units)
    title = f"Where {found.places.item} may stand"
    plan = layout(stage, size, words=words, title=title)
    view = view_of_place(
        stage, plan.aspect, looking_from=looking_from or ABOVE, margin=_WRITTEN
    )
    if looks.person:
        stage = peopled(stage, view, found.places.item)
    _draw(_Shot(stage, plan, view, notes=notes), path, looks)


def step_picture(
    stage: Stage,
    number: int,
    path: Path,
    *,
    looking_from: str | None = None,
    size: tuple[int, int] = SIZE,
    looks: Looks = PLAIN,
) -> None:
    """Write a picture of a step of a lesson as PNG, with what is said at it.

    Args:
        stage: With the steps of the lesson, as ``stage.lesson`` makes it.
        number: Of the step, from 1.
        path: The file; it is written whole or not at all.
        looking_from: Where the viewer stands instead, as ``cameras.DIRECTIONS`` lists
            it.
        size: Width and height, pixels.
        looks: Whether it is grey, and a person stands in it.

    Raises:
        ValueError: No such step or view, or a size out of bounds.
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    check_size(size)
    count = len(stage.steps)
    if not 1 <= number <= count:
        there = f"a step from 1 to {count}" if count > 1 else "step 1, the only one"
        msg = f"found step {number}, right is {there}"
        raise ValueError(msg)
    step = stage.steps[number - 1]
    words = step_words(stage, number)
    shown = with_layers(step.stage, step.layers)
    plan = layout(shown, size, words=words, title=stage.lesson)
    view = view_of_step(stage, number, plan.aspect, looking_from=looking_from)
    if looks.person:
        shown = peopled(shown, view, step.item)
    _draw(_Shot(shown, plan, view, step.sizes), path, looks)


def _section(
    stage: Stage,
    of: str,
    path: Path,
    looking_from: str | None,
    size: tuple[int, int],
    looks: Looks,
) -> None:
    require_graphics()
    from viewer.picture.section import cut_through, seen_sizes  # noqa: PLC0415 - as below

    cut = cut_through(stage, of, looking_from)
    plan = layout(stage, size, of=of, title=cut.words)
    # Straight from the side, where the item, its spaces and what is in them are seen.
    own = [s for s in stage.shapes if s.item == of or s.role in {"space", "intrusion"}]
    points = np.concatenate([s.vertices for s in own if len(s.vertices)])
    view = framed(points, cut.towards, aspect=plan.aspect, margin=_AROUND)
    short = short_sizes(stage)
    sizes = seen_sizes(short or stage.dimensions, cut)
    left = {
        one.item
        for one in stage.shapes
        if len(one.vertices) and cut.heights(one.vertices).min() < 0.0
    }
    labels = tuple(one for one in stage.labels if one.item in left)
    stage = replace(stage, labels=labels)
    if looks.person:
        stage = peopled(stage, view, of)
    _draw(_Shot(stage, plan, view, sizes, cut=cut), path, looks)


@dataclass(frozen=True, slots=True, eq=False)
class _Shot:
    """What is drawn: a stage as it is seen, with what is written into it."""

    stage: Stage
    plan: Layout
    view: View
    sizes: Sequence[Dimension] | None = None
    notes: Sequence[PointText] = ()
    cut: Cut | None = None


def _draw(shot: _Shot, path: Path, looks: Looks) -> None:
    require_graphics()
    from viewer.picture.drawing.canvas import Studio  # noqa: PLC0415 - only what draws loads graphics

    with Studio(shot.plan.room_size, cut=shot.cut) as studio:
        image = compose_picture(
            studio,
            shot.stage,
            shot.plan,
            shot.view,
            notes=shot.notes,
            sizes=shot.sizes,
        )
    stream = io.BytesIO()
    image = in_grey(image) if looks.grey else image.convert("RGB")
    image.save(stream, "PNG", compress_level=4)
    write_whole(path, stream.getvalue())


def in_grey(image: Image.Image) -> Image.Image:
    """Return a picture in shades of grey, what is short and in the way the darkest.

    By lightness alone the orange of what is there would be as grey as a citation.
    """
    return image.convert("RGB").convert("L", _GREY)


def check_size(size: tuple[int, int]) -> None:
    """Make sure that a picture of this size can be made.

    Raises:
        ValueError: It is too small to read, or too large to hold.
    """
    for one, least, most in zip(size, SMALLEST, LARGEST, strict=True):
        if not least <= one <= most:
            msg = (
                f"found a picture of {size[0]} x {size[1]} pixels, right is from "
                f"{SMALLEST[0]} x {SMALLEST[1]} to {LARGEST[0]} x {LARGEST[1]}"
            )
            raise ValueError(msg)
