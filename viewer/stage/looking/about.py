"""What a picture about one item shows of a stage, and which sizes a picture shows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.wording.said import Named, parts_of
from viewer.stage import palette

if TYPE_CHECKING:
    from viewer.stage.drawn import Dimension, Point, Shape
    from viewer.stage.parts import Stage

OF_ROWS: Final = ("space", "footprint", "intrusion")
"""Roles of what belongs to judgements."""
_MOST_SIZES: Final = 10
"""Dimension lines in a picture of a whole place."""
_LIGHTER: Final = 0.5
"""Share of white in the item a picture is about: a strong colour would mix with the
blue of its spaces to one that means nothing."""
_OUTLINED: Final = 3.2
"""Pixels. Width of its edges."""


def about(stage: Stage, of: str) -> Stage:
    """Return the stage of a picture about one item: its spaces, sizes and numbers.

    The item is marked; the spaces of other items are left out, but for those that what
    is judged of it names, as a door's leaf that sweeps one.
    """
    told = _told_of(stage, of)
    return replace(
        stage,
        shapes=tuple(
            _picked(shape)
            if shape.item == of and _is_outside(shape)
            else _unmarked(shape, of)
            for shape in stage.shapes
            if shape.role not in OF_ROWS
            or _is_about(stage, shape, of)
            or (
                shape.item in told and shape.kind == "working-space" and _is_bare(shape)
            )
        ),
        badges=tuple(badge for badge in stage.badges if badge.item == of),
        dimensions=tuple(
            one
            for one in stage.dimensions
            if one.item == of and (one.short or tells(stage, one))
        ),
    )


def short_sizes(stage: Stage, item: str | None = None) -> tuple[Dimension, ...]:
    """Return the sizes that a picture of the whole place shows, of the first rows.

    More than a few would hide the room; the list beside it has them all. What several
    rows measure at the very same place, as sections of one piece of gear, is one size.

    Args:
        stage: What there is.
        item: Whose size that is then, if it is one of theirs; else the first row's.
    """
    places: dict[tuple[Point | str, ...], Dimension] = {}
    for one in stage.dimensions:
        if one.short:
            place = one.start, one.end, one.reached_start, one.reached_end, one.brief
            if place not in places or one.item == item:
                places[place] = one
    return tuple(places.values())[:_MOST_SIZES]


def sizes_about(stage: Stage, item: str | None) -> tuple[Dimension, ...]:
    """Return the sizes that a step shows: those that are short, and its item's own.

    Where one of the item's own is short, those that are met say nothing of why.

    Args:
        stage: After the step.
        item: What is looked at.
    """
    short = short_sizes(stage, item)
    if any(one.item == item for one in short):
        return short
    own = (one for one in stage.dimensions if one.item == item and tells(stage, one))
    return (*short, *(one for one in own if one not in short))


def _told_of(stage: Stage, of: str) -> set[str]:
    """Return what is named where an item without spaces of its own is judged."""
    if any(one.item == of and one.role in OF_ROWS for one in stage.shapes):
        return set()
    return {
        str(part)
        for row in stage.judgements
        if row.subject == of
        for part in parts_of(row.reason)
        if isinstance(part, Named)
    }


def _is_bare(shape: Shape) -> bool:
    """Tell whether a shape is a space itself, and nothing that stands in it."""
    return shape.role in {"space", "footprint"}


def _unmarked(shape: Shape, of: str) -> Shape:
    """Return a shape without the colour of a finding that is about something else."""
    if shape.item == of or shape.role in OF_ROWS:
        return shape
    if shape.edge_colour != palette.INTRUSION:
        return shape
    return replace(shape, edge_colour=palette.EDGE, through=False)


def _is_outside(shape: Shape) -> bool:
    """Tell whether a shape is what is seen of an item: its body, its closed leaves."""
    closed = shape.pivot is not None and not shape.pivot.shown
    return shape.role == "solid" or (shape.role == "leaf" and closed)


def _picked(shape: Shape) -> Shape:
    colour = palette.mixed(shape.colour, palette.PAPER, _LIGHTER)
    return replace(shape, colour=colour, edge_width=max(shape.edge_width, _OUTLINED))


def _is_about(stage: Stage, shape: Shape, of: str) -> bool:
    return any(stage.judgements[index].subject == of for index in shape.judgements)


def tells(stage: Stage, one: Dimension) -> bool:
    """Tell whether a size says something that the item's own size does not."""
    if one.judgement is None:
        return True
    requirement = stage.judgements[one.judgement].requirement
    return requirement == "working-space" or one.name in {"clearance", "gap", "spacing"}
