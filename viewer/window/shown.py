"""What the window draws of its state: shapes by layer."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from viewer.stage import palette
from viewer.stage.bodies.hatched import hatched
from viewer.stage.bodies.hung import opened
from viewer.stage.layers import SPACES, SPACES_MET, WORKING_MET
from viewer.stage.looking.cameras import suited
from viewer.stage.looking.views import seen_past

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.stage.drawn import Shape
    from viewer.window.state import State

PICKED: Final = "picked"
"""Beside the layers: what is picked, which changes more often than all else."""
_OF_ROWS: Final = frozenset({"space", "footprint", "intrusion"})
_BY_PICKED: Final = {SPACES_MET: SPACES, WORKING_MET: SPACES}
"""Layers of spaces that are clear, and drawn quietly, and as what they are shown while
their judgement is picked."""
_MARKED: Final = frozenset({"solid", "leaf"})
_SHARE: Final = 0.72
"""Share of the colour of what is picked in a thing that is."""
_NARROW: Final = 1.2
"""Width by height of the room's part of a window, at least."""
_STRONG_EDGE: Final = 2.4
"""Pixels, of a space that a picked judgement is about."""
_MOST_KEPT: Final = 1024
_FAINTEST: Final = 0.75
"""A thing that is picked is never fainter."""


def shapes_shown(state: State) -> dict[str, tuple[Shape, ...]]:
    """Return the shapes that are drawn by their layer, and those that are picked.

    A leaf is turned as far as it is shown. While a judgement is picked, only its own
    spaces are shown, those that are met too; what is picked is drawn over itself, so
    that its layer stays as it is.
    """
    stage, picked = state.stage, picked_items(state)
    own = None if state.picked is None else frozenset(state.picked.shapes)
    found: defaultdict[str, list[Shape]] = defaultdict(list)
    walls = {one.item: one.ahead for one in stage.shapes if one.one_sided}
    faint = dict(_in_the_sight(state))
    for shape in stage.shapes:
        layer = shape.layer
        drawn = faint.get(shape.id) or _plain(shape, walls.get(shape.item))
        if shape.role in _OF_ROWS and own is not None:
            # What is met may be hidden; a judgement that is picked shows it all the
            # same.
            if shape.id in own and _BY_PICKED.get(layer, layer) not in state.hidden:
                found[layer].append(_strong(drawn) if layer in _BY_PICKED else drawn)
                found[layer] += _hatching(drawn)
        elif layer not in state.hidden:
            found[layer].append(drawn)
            found[layer] += _hatching(drawn)
            if shape.role in _MARKED and shape.item in picked:
                found[PICKED].append(_marked(_plain(shape, None)))
    return {layer: tuple(shapes) for layer, shapes in found.items()}


def picked_items(state: State) -> frozenset[str]:
    """Return the ids of the things that are picked."""
    subject = state.picked.subject if state.picked else None
    return frozenset(name for name in (state.item, subject) if name is not None)


def _in_the_sight(state: State) -> Iterator[tuple[str, Shape]]:
    """Yield what stands before the picked judgement, drawn faintly, by its id."""
    stage, row = state.stage, state.picked
    if row is None:
        return
    own = frozenset(row.shapes)
    shapes = [one for one in stage.shapes if one.role not in _OF_ROWS or one.id in own]
    if not any(one.id in own or one.item == row.subject for one in shapes):
        return
    # A window is narrower than the picture the view is made for.
    view = suited(row.look, _NARROW)
    for was, now in zip(shapes, seen_past(shapes, view, row.subject), strict=True):
        if now is not was and was.item not in row.in_the_way:
            yield was.id, _plain(now, None)


# Kept, so that a layer in which nothing changes is known to be the same.
@lru_cache(maxsize=_MOST_KEPT)
def _hatching(shape: Shape) -> tuple[Shape, ...]:
    return tuple(hatched([shape]))[1:]


@lru_cache(maxsize=_MOST_KEPT)
def _plain(shape: Shape, ahead: tuple[float, float] | None) -> Shape:
    """Return a shape as it is drawn by itself.

    A faint thing lies behind what it touches; what a wall has in the way knows which
    way the wall faces.
    """
    if shape.role == "intrusion" and ahead:
        return replace(shape, ahead=ahead)
    turned = opened(shape) if shape.pivot else shape
    if shape.role in _MARKED and 0.0 < shape.opacity < 1.0:
        return replace(turned, lift=turned.lift - 1)
    return turned


@lru_cache(maxsize=_MOST_KEPT)
def _strong(shape: Shape) -> Shape:
    foot = shape.role == "footprint"
    return replace(
        shape,
        edge_colour=palette.SPACE_EDGE,
        edge_width=_STRONG_EDGE,
        opacity=palette.FOOTPRINT_OPACITY if foot else palette.SPACE_OPACITY,
    )


@lru_cache(maxsize=_MOST_KEPT)
def _marked(shape: Shape) -> Shape:
    return replace(
        shape,
        colour=palette.mixed(shape.colour, palette.SELECTION, _SHARE),
        edge_colour=palette.SELECTION_EDGE if shape.ghost else shape.edge_colour,
        edge_width=max(shape.edge_width, 2.2),
        opacity=max(shape.opacity, _FAINTEST) if shape.ghost else shape.opacity,
        edge_opacity=1.0,
        lift=shape.lift + 1,
    )
