"""Required spaces, their footprints, and what stands in them, as shapes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.judging.results import ClearBox
from viewer.stage import palette
from viewer.stage.bodies.hung import round_mark
from viewer.stage.bodies.surfaces import (
    NO_EDGES,
    Surface,
    block,
    dashed,
    quad,
    sharp_edges,
)
from viewer.stage.drawn import Shape
from viewer.stage.layers import INTRUSIONS, SPACES, SPACES_MET, WORKING_MET
from viewer.wording.words import part_words, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.results import Intrusion, Judgement
    from viewer.stage.bodies.hung import Hung
    from viewer.stage.drawn import Point

_SHRINK: Final = 0.004
"""Metres. Taken off each side of a drawn space, so that its faces do not shimmer
through those of what it touches. The space that is checked keeps its size."""
_ABOVE: Final = 0.006
"""Metres. How far a footprint lies above the space's bottom."""
_FOR_WORK: Final = frozenset(
    {"working-space", "rear-access", "battery-gaps", "battery-top-clearance"}
)
"""Requirements whose spaces people want to see though they are met."""


@dataclass(frozen=True, slots=True)
class _Strength:
    """How a space is drawn.

    Attributes:
        edge: Colour of its edges.
        width: Of its edges, pixels.
        volume, footprint: Opacities.
    """

    edge: str
    width: float
    volume: float
    footprint: float


_STRONG: Final = _Strength(
    palette.SPACE_EDGE, 2.4, palette.SPACE_OPACITY, palette.FOOTPRINT_OPACITY
)
_QUIET: Final = _Strength(
    palette.CLEAR_EDGE, 1.1, palette.CLEAR_OPACITY, palette.CLEAR_FOOTPRINT_OPACITY
)
"""Of a space that is clear: it must not draw the eye from what is wrong."""


def space_shapes(judgement: Judgement, index: int, *, shown: bool) -> Iterator[Shape]:
    """Yield the spaces one judgement tested, each with its footprint.

    Args:
        judgement: What was tested.
        index: Index of its row.
        shown: In full, though it may be met.
    """
    layer = layer_of_space(judgement, shown=shown)
    for number, tested in enumerate(judgement.shapes):
        if isinstance(tested, ClearBox):
            body, foot = _box(tested)
        else:
            body, foot = _sector(tested)
        name = f"{key(judgement)}/{number}"
        space = _space(name, judgement, index, layer, body)
        yield space
        yield _footprint(space, foot)


def layer_of_space(judgement: Judgement, *, shown: bool) -> str:
    """Return the layer of the spaces of one judgement.

    Args:
        judgement: What was tested.
        shown: In full, though it may be met.
    """
    if shown:
        return SPACES
    return WORKING_MET if judgement.requirement in _FOR_WORK else SPACES_MET


def intrusion_shapes(
    judgement: Judgement,
    index: int,
    before: tuple[Judgement, Sequence[Shape]] | None = None,
) -> Iterator[Shape]:
    """Yield what stands in the spaces of one judgement.

    Args:
        judgement: What was tested.
        index: Of its row.
        before: The judgement of the same name before, and what was drawn of it: what
            has not moved in a space that has not changed is not cut out once more.
    """
    known = _known(*before) if before is not None else {}
    for number, hit in enumerate(judgement.intrusions):
        if hit.body is None:
            continue
        last = known.get(hit.item)
        if last is not None and hit.is_drawn_as(last[0]):
            yield _intrusion(judgement, index, number, hit.item, last[1])
        elif len(hit.body.faces):
            points, faces = hit.body.vertices, hit.body.faces
            made = Surface(points, faces, sharp_edges(points, faces))
            yield _intrusion(judgement, index, number, hit.item, made)


def _known(
    judgement: Judgement, drawn: Sequence[Shape]
) -> dict[str, tuple[Intrusion, Shape]]:
    """Return by item what was drawn of what stands in the way."""
    shapes = {shape.id: shape for shape in drawn}
    found: dict[str, tuple[Intrusion, Shape]] = {}
    for number, hit in enumerate(judgement.intrusions):
        shape = shapes.get(_id(judgement, number))
        if shape is not None:
            found[hit.item] = hit, shape
    return found


def _id(judgement: Judgement, number: int) -> str:
    return f"{key(judgement)}/in-the-way-{number}"


def key(judgement: Judgement) -> str:
    """Return the id of a judgement's shapes: the same whenever it is judged again."""
    parts = [judgement.subject, judgement.requirement]
    if judgement.leaf is not None:
        parts.append(f"leaf-{judgement.leaf}")
    if judgement.tier is not None:
        parts.append(f"tier-{judgement.tier}")
    if judgement.side is not None:
        parts.append(judgement.side)
    return "/".join(parts)


def _words(judgement: Judgement) -> str:
    part = part_words(judgement.leaf, judgement.tier, judgement.side)
    words = requirement_words(judgement.requirement).lower()
    return ", ".join(text for text in (words, part) if text)


def _box(tested: ClearBox) -> tuple[Surface, Surface]:
    low, high = _shrunk(tested.low, tested.high)
    level = low[2] + _ABOVE
    corners = [(low[0], low[1]), (high[0], low[1]), (high[0], high[1])]
    corners.append((low[0], high[1]))
    foot = quad(tested.frame, [(x, y, level) for x, y in corners])
    return block(tested.frame, low, high), foot


def _shrunk(low: Point, high: Point) -> tuple[Point, Point]:
    by = [min(_SHRINK, (b - a) / 4) for a, b in zip(low, high, strict=True)]
    return (
        (low[0] + by[0], low[1] + by[1], low[2] + by[2]),
        (high[0] - by[0], high[1] - by[1], high[2] - by[2]),
    )


def _sector(tested: Hung) -> tuple[Surface, Surface]:
    """Return the quarter of a round that a leaf sweeps, and its plan."""
    low, high = tested.bottom + _SHRINK, tested.top - _SHRINK
    count = 24
    angles = np.linspace(0.0, np.pi / 2, count + 1)
    arc = (tested.radius - _SHRINK) * np.column_stack([np.cos(angles), np.sin(angles)])
    plan = np.concatenate([np.zeros((1, 2)), arc])
    size = len(plan)
    here, after = np.arange(size), np.roll(np.arange(size), -1)
    points = np.concatenate(
        [np.column_stack([plan, np.full(size, level)]) for level in (low, high)]
    )
    fan = np.column_stack([np.zeros(count, int), np.arange(1, size - 1)])
    fan = np.column_stack([fan, np.arange(2, size)])
    sides = np.concatenate(
        [
            np.column_stack([here, after, after + size]),
            np.column_stack([here, after + size, here + size]),
        ]
    )
    world = tested.frame.world(points)
    faces = np.concatenate([fan[:, ::-1], fan + size, sides])
    edges = np.concatenate(
        [
            round_mark(tested.frame, tested.radius - _SHRINK, level, 90.0)
            for level in (low, high)
        ]
    )
    flat = plan_at(points[:size], low + _ABOVE)
    foot = Surface(tested.frame.world(flat), fan, NO_EDGES)
    return Surface(world, faces, edges), foot


def plan_at(points: np.ndarray, level: float) -> np.ndarray:
    """Return points at another height, shape (n, 3)."""
    return np.column_stack([points[:, :2], np.full(len(points), level)])


def _space(
    name: str, judgement: Judgement, index: int, layer: str, body: Surface
) -> Shape:
    look = _STRONG if layer == SPACES else _QUIET
    return Shape(
        id=name,
        item=judgement.subject,
        layer=layer,
        role="space",
        kind=judgement.requirement,
        about=_words(judgement),
        vertices=body.vertices,
        faces=body.faces,
        edges=dashed(body.edges) if judgement.verdict == "open" else body.edges,
        colour=palette.SPACE,
        edge_colour=look.edge,
        edge_width=look.width,
        opacity=look.volume,
        pickable=False,
        judgements=(index,),
    )


def _footprint(space: Shape, foot: Surface) -> Shape:
    look = _STRONG if space.layer == SPACES else _QUIET
    return replace(
        space,
        id=f"{space.id}/footprint",
        role="footprint",
        vertices=foot.vertices,
        faces=foot.faces,
        edges=NO_EDGES,
        opacity=look.footprint,
        lift=1,
    )


def _intrusion(
    judgement: Judgement, index: int, number: int, item: str, surface: Surface | Shape
) -> Shape:
    return Shape(
        id=_id(judgement, number),
        item=item,
        layer=INTRUSIONS,
        role="intrusion",
        kind=judgement.requirement,
        about=f"in {judgement.subject}, {_words(judgement)}",
        vertices=surface.vertices,
        faces=surface.faces,
        edges=surface.edges,
        colour=palette.INTRUSION,
        edge_colour=palette.INTRUSION_EDGE,
        edge_width=2.2,
        through=True,
        lift=2,
        judgements=(index,),
    )
