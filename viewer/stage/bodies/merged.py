"""Spaces that several requirements ask for: one shape, which belongs to all of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import reduce
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.bodies.spaces import intrusion_shapes, key, space_shapes
from viewer.stage.bodies.ways import way_shapes
from viewer.stage.layers import LAYERS, WAYS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.judging.results import Judgement
    from viewer.stage.drawn import Shape
    from viewer.stage.kept import Kept

_Place = tuple[str, str, bytes]
"""What a shape is, of which item unless it is a way, and where its corners are."""

_RANKS: Final = {layer.id: rank for rank, layer in enumerate(LAYERS)}


def merged_spaces(
    judgements: Sequence[Judgement], of: str | None, kept: Kept
) -> list[Shape]:
    """Return spaces and what is in them; what several judgements share is one shape.

    Drawn several times it would be the darker the more rules ask for it. It is drawn
    as the judgement says that matters most: in the first of their layers.

    Args:
        judgements: In the order of their rows.
        of: An item whose spaces are shown in full even where they are met.
        kept: What was made for stages before.
    """
    shown = [one.verdict != "met" or one.subject == of for one in judgements]

    def make(index: int, last: _One | None) -> _One:
        return _made(judgements[index], shown[index], index, last)

    keys, numbers = [key(one) for one in judgements], range(len(judgements))
    found: dict[_Place, tuple[Shape, ...]] = {}
    for one in kept.each("spaces", keys, (judgements,), (shown, numbers), make):
        for place, shape in one.of_row:
            known = found.get(place)
            found[place] = shape if known is None else known + shape
    several = [one for one in found.items() if len(one[1]) > 1]

    def join(number: int, _last: object) -> tuple[Shape]:
        return (reduce(_both, several[number][1]),)

    places, parts = [place for place, _ in several], [some for _, some in several]
    # Shapes are alike only where they are the very same.
    joined = kept.each("merged spaces", places, (), (parts,), join)
    found.update(zip(places, joined, strict=True))
    return [shape for (shape,) in found.values()]


def _both(known: Shape, more: Shape) -> Shape:
    """Return the shape of two in the same place: as the more important one is drawn."""
    drawn = min(known, more, key=lambda shape: _RANKS[shape.layer])
    return replace(drawn, id=known.id, judgements=(*known.judgements, *more.judgements))


@dataclass(frozen=True, slots=True)
class _One:
    """The shapes of one judgement.

    Attributes:
        judgement, shown: What they were made from.
        drawn: The shapes, of no row yet.
        of_row: The same of a row, each by itself and with its place.
    """

    judgement: Judgement
    shown: bool
    drawn: tuple[Shape, ...]
    of_row: tuple[tuple[_Place, tuple[Shape]], ...]


def _made(judgement: Judgement, shown: bool, index: int, last: _One | None) -> _One:  # noqa: FBT001 - a part of the key
    # Rows come and go, and then all the others move on: the shapes stay what they are.
    if last is not None and last.judgement is judgement and last.shown == shown:
        drawn = last.drawn
    else:
        drawn = _drawn(judgement, last, shown=shown)
    return _One(judgement, shown, drawn, _of_row(drawn, index))


def _of_row(
    shapes: tuple[Shape, ...], index: int
) -> tuple[tuple[_Place, tuple[Shape]], ...]:
    return tuple(
        (
            (shape.role, _whose(shape), np.round(shape.vertices, 4).tobytes()),
            (replace(shape, judgements=(index,)),),
        )
        for shape in shapes
    )


def _whose(shape: Shape) -> str:
    """Return the item that a shape belongs to; sections of one piece share a way."""
    return "" if shape.layer == WAYS and len(shape.faces) else shape.item


def _drawn(
    judgement: Judgement, last: _One | None, *, shown: bool
) -> tuple[Shape, ...]:
    before = (last.judgement, last.drawn) if last is not None else None
    return (
        *space_shapes(judgement, 0, shown=shown),
        *intrusion_shapes(judgement, 0, before),
        *way_shapes(judgement, key(judgement)),
    )
