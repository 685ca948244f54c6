"""What the window draws of its state: shapes by layer, and the signs about them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Final, TypeVar

import numpy as np

from viewer.stage import palette
from viewer.stage.cameras import suited
from viewer.stage.hung import opened
from viewer.stage.layers import (
    BADGES,
    DIMENSIONS,
    INTRUSIONS,
    LABELS,
    SPACES,
    SPACES_MET,
    WORKING_MET,
)
from viewer.stage.views import seen_past, short_sizes

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.stage.parts import (
        Badge,
        Dimension,
        Label,
        ListedJudgement,
        Point,
        Shape,
        Stage,
    )
    from viewer.window.state import WindowState

_T = TypeVar("_T")

PICKED: Final = "picked"
"""Beside the layers: what is picked, which changes more often than all else."""
_OF_ROWS: Final = frozenset({"space", "footprint", "intrusion"})
_MET: Final = frozenset({SPACES_MET, WORKING_MET})
"""Layers of spaces that are clear, and drawn quietly."""
_MARKED: Final = frozenset({"solid", "leaf"})
_SHARE: Final = 0.72
"""Share of the colour of what is picked in a thing that is."""
_NARROW: Final = 1.2
"""Width by height of the room's part of a window, at least."""
_STRONG_EDGE: Final = 2.4
"""Pixels, of a space that a picked row is about."""
_MOST_KEPT: Final = 1024
_FAINTEST: Final = 0.75
"""A thing that is picked is never fainter."""


@dataclass(frozen=True, slots=True)
class SignsShown:
    """What is written into the picture.

    Attributes:
        badges: Numbers of findings.
        labels: Names of things.
        sizes: What is required and what is there.
        in_full: In both systems of units.
    """

    badges: tuple[Badge, ...]
    labels: tuple[Label, ...]
    sizes: tuple[Dimension, ...]
    in_full: bool


def shapes_shown(state: WindowState) -> dict[str, tuple[Shape, ...]]:
    """Return the shapes that are drawn by their layer, and those that are picked.

    A leaf is turned as far as it is shown. While a row is picked, only its own spaces
    are shown, those that are met too.
    """
    stage, hidden, picked = state.stage, state.hidden, picked_items(state)
    finding = focus(state)
    own = None if finding is None else frozenset(finding.shapes)
    found: defaultdict[str, list[Shape]] = defaultdict(list)
    walls = {one.item: one.ahead for one in stage.shapes if one.one_sided}
    faint = state.past.of(stage, state.finding) if finding is not None else {}
    for plain in stage.shapes:
        ahead = walls.get(plain.item) if plain.role == "intrusion" else None
        shape = _in_wall(plain, ahead) if ahead else plain
        layer = shape.layer
        if shape.role in _OF_ROWS and own is not None:
            if shape.id in own and not _is_off(layer, hidden):
                found[layer].append(_strong(shape) if layer in _MET else shape)
            continue
        if layer in hidden:
            continue
        turned = _turned(shape) if shape.pivot else shape
        if shape.role in _MARKED and shape.item in picked:
            found[PICKED].append(_marked(turned))
        else:
            found[layer].append(faint.get(shape.id, turned))
    return {layer: tuple(shapes) for layer, shapes in found.items()}


class Past:
    """Remembers what stands between the eye and the row that is picked."""

    def __init__(self) -> None:
        """Start with nothing."""
        self._stage: Stage | None = None
        self._number: int | None = None
        self._found: dict[str, Shape] = {}

    def of(self, stage: Stage, number: int | None) -> dict[str, Shape]:
        """Return the shapes that are drawn faintly for a row, by their ids.

        Args:
            stage: What there is.
            number: Of the row in its list.
        """
        if stage is not self._stage or number != self._number:
            self._stage, self._number = stage, number
            row = None if number is None else stage.judgements[number]
            self._found = {} if row is None else dict(_before(stage, row))
        return self._found


def _before(stage: Stage, row: ListedJudgement) -> Iterator[tuple[str, Shape]]:
    own = frozenset(row.shapes)
    shapes = [one for one in stage.shapes if one.role not in _OF_ROWS or one.id in own]
    if not any(one.id in own or one.item == row.subject for one in shapes):
        return
    # A window is narrower than the picture the view is made for.
    view = suited(row.look, _NARROW)
    for was, now in zip(shapes, seen_past(shapes, view, row.subject), strict=True):
        if now is not was and was.item not in row.in_the_way:
            yield was.id, opened(now) if now.pivot else now


def focus(state: WindowState) -> ListedJudgement | None:
    """Return the row that alone is shown; none while something can be moved.

    What moves may come into the way of anything.
    """
    return None if state.form else state.picked


def picked_items(state: WindowState) -> frozenset[str]:
    """Return the ids of the things that are picked."""
    finding = state.picked
    names = {state.item, finding.subject if finding else None}
    return frozenset(name for name in names if name is not None)


def signs_shown(state: WindowState, eye: Point) -> SignsShown:
    """Return what is written into the picture; nothing about what is cut away.

    Args:
        state: Of the window.
        eye: Where the camera is.
    """
    stage, finding = state.stage, focus(state)
    badges, labels, sizes = stage.badges, stage.labels, short_sizes(stage)
    if finding is not None:
        kept = {*finding.select, *picked_items(state)}
        badges = tuple(one for one in badges if one.judgement == state.finding)
        labels = tuple(one for one in labels if one.item in kept)
        sizes = tuple(one for one in stage.dimensions if one.judgement == state.finding)
    if BADGES in state.hidden:
        badges = ()
    if LABELS in state.hidden:
        labels = ()
    if DIMENSIONS in state.hidden or state.is_withheld:
        sizes = ()
    if state.section is not None:
        badges = _left(state, badges, [one.anchor for one in badges], eye)
        labels = _left(state, labels, [one.anchor for one in labels], eye)
        for at in ("start", "end"):
            sizes = _left(state, sizes, [getattr(one, at) for one in sizes], eye)
    return SignsShown(badges, labels, sizes, in_full=finding is not None)


def with_signs(stage: Stage, signs: SignsShown) -> Stage:
    """Return a stage with these signs only."""
    return replace(
        stage, badges=signs.badges, labels=signs.labels, dimensions=signs.sizes
    )


def _is_off(layer: str, hidden: set[str]) -> bool:
    # What is met may be hidden; a row that is picked shows it all the same.
    if layer in _MET:
        return SPACES in hidden
    return layer in hidden and layer in {SPACES, INTRUSIONS}


# Kept, so that a layer in which nothing changes is known to be the same.
@lru_cache(maxsize=_MOST_KEPT)
def _turned(shape: Shape) -> Shape:
    return opened(shape)


@lru_cache(maxsize=_MOST_KEPT)
def _in_wall(shape: Shape, ahead: tuple[float, float]) -> Shape:
    """Return what a wall has in the way; it knows which way the wall faces."""
    return replace(shape, ahead=ahead)


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
    )


def _left(
    state: WindowState, signs: tuple[_T, ...], anchors: list[Point], eye: Point
) -> tuple[_T, ...]:
    if not signs:
        return signs
    gone = state.is_cut_away(np.array(anchors), eye)
    return tuple(one for one, cut in zip(signs, gone, strict=True) if not cut)
