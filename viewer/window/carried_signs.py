"""Numbers, names and sizes over the room: placed at rest, carried along in motion."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final, TypeVar

import numpy as np
from PIL import Image

from viewer.picture.composition import draw_signs
from viewer.sheet.letters import FINE, WrittenPicture
from viewer.sheet.sign_places import Rectangle
from viewer.sheet.signage import SignRoom, Signs
from viewer.sheet.signs import arrange_signs
from viewer.stage import palette
from viewer.stage.layers import BADGES, DIMENSIONS, LABELS
from viewer.stage.looking.about import short_sizes
from viewer.stage.taught.lesson_progress import step_at
from viewer.window.shown import picked_items
from viewer.window.state import pick, pick_item

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from viewer.sheet.projection import Projection
    from viewer.sheet.sign_places import Spot
    from viewer.sheet.signage import PlacedSign
    from viewer.stage.drawn import Dimension, Point
    from viewer.window.keyboard import Change
    from viewer.window.state import State

_T = TypeVar("_T")

_RIM: Final = 6.0
"""Pixels kept free at the sides of the room."""
_WIDE: Final = WrittenPicture(Image.new("RGB", (1, 1))).wide
_CLEAR: Final = (*palette.channels(palette.PAPER), 0)


def placed(state: State, seen: Projection, scale: float) -> Signs:
    """Find a place for every sign of what the picture shows.

    While a judgement is picked, only what belongs to it is written, its sizes in both
    systems of units. Nothing is written about what is cut away.

    Args:
        state: Of the window.
        seen: The camera, and the room's part of the window.
        scale: Of letters.
    """
    stage, picked = state.stage, state.picked
    badges, labels, sizes = stage.badges, stage.labels, _sizes(state)
    if picked is not None:
        kept = {*picked.select, *picked_items(state)}
        badges = tuple(one for one in badges if one.judgement == state.judgement)
        labels = tuple(one for one in labels if one.item in kept)
        sizes = tuple(
            one for one in stage.dimensions if one.judgement == state.judgement
        )
    if state.is_withheld or DIMENSIONS in state.hidden:
        sizes = ()
    badges = () if BADGES in state.hidden else badges
    labels = () if LABELS in state.hidden else labels
    stage = replace(
        stage,
        badges=_in_sight(state, seen, badges, lambda one: [one.anchor]),
        labels=_in_sight(state, seen, labels, lambda one: [one.anchor]),
    )
    inner = Rectangle(0, 0, seen.width, seen.height).wider(-_RIM * scale)
    return arrange_signs(
        stage,
        SignRoom(seen, inner, _WIDE, scale),
        sizes=_in_sight(state, seen, sizes, lambda one: [one.start, one.end]),
        in_full=picked is not None,
    )


def _sizes(state: State) -> tuple[Dimension, ...]:
    """Return the sizes that are written while nothing is picked."""
    step = step_at(state.start, state.place)
    return short_sizes(state.stage) if step is None else step.sizes


def _in_sight(
    state: State,
    seen: Projection,
    signs: Sequence[_T],
    points: Callable[[_T], Sequence[Point]],
) -> tuple[_T, ...]:
    """Return the signs about what the picture shows: no leader goes out of it."""
    if not signs:
        return ()
    at = np.array([points(one) for one in signs])
    spots = seen.pixels(at).reshape(*at.shape[:2], 2)
    inside = np.all((spots >= 0) & (spots < (seen.width, seen.height)), axis=2)
    shown = np.any(inside, axis=1)
    if state.section is not None:
        shown &= np.all(state.section.cut(seen.view.eye).heights(at) <= 0.0, axis=1)
    return tuple(one for one, here in zip(signs, shown.tolist(), strict=True) if here)


def carried(signs: Signs, seen: Projection) -> Signs:
    """Return signs moved along with their points; sizes' lines wait until it rests."""
    points = np.array([one.point for one in signs.marks]).reshape(-1, 3)
    spots = zip(signs.marks, seen.pixels(points).tolist(), strict=True)
    moved = (
        _moved(one, x, y) if one.aims else one
        for one, (x, y) in spots
        if math.isfinite(x + y)
    )
    return Signs(tuple(moved), ())


def _moved(mark: PlacedSign, x: float, y: float) -> PlacedSign:
    box, across, down = mark.box, x - mark.anchor[0], y - mark.anchor[1]
    left, right = box.left + across, box.right + across
    there = Rectangle(left, box.top + down, right, box.bottom + down)
    return replace(mark, anchor=(x, y), box=there)


def drawn(
    signs: Signs, size: tuple[int, int], scale: float, *, fine: bool
) -> NDArray[np.uint8]:
    """Draw signs on clear ground, shape (height, width, 4); fine takes longer."""
    times = FINE if fine else 1
    image = Image.new("RGBA", (size[0] * times, size[1] * times), _CLEAR)
    draw_signs(WrittenPicture(image, times), signs, scale)
    if fine:
        # With colours weighed by how solid they are, lest rims turn dark.
        image = image.convert("RGBa").reduce(FINE).convert("RGBA")
    return np.asarray(image, dtype=np.uint8)


def asked_at(signs: Signs, spot: Spot) -> Change | None:
    """Return what a press on a sign asks for; None beside all of them.

    Args:
        signs: As they are drawn.
        spot: Pixel of the room's part of the window.
    """
    x, y = spot
    for mark in signs.marks:
        box = mark.box
        if box.left <= x < box.right and box.top <= y < box.bottom:
            if mark.judgements:
                return partial(pick, number=mark.judgements[0])
            return partial(pick_item, item=mark.items[0]) if mark.items else None
    return None
