"""Items as shapes: bodies, marks on their fronts, door leaves, battery cells."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.standing.leaves import stated_leaves
from model3d.standing.racks import cell_rows, shelf_end
from viewer.stage import palette
from viewer.stage.bodies.hung import leaf_shape, pivot_of
from viewer.stage.bodies.surfaces import (
    NO_FACES,
    NO_POINTS,
    Surface,
    block,
    lines,
    one_surface,
    sharp_edges,
)
from viewer.stage.drawn import Shape
from viewer.stage.layers import LEAVES, layer_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d.scene.scene import Scene
    from model3d.standing.placed import Front, Placed
    from model3d.standing.racks import CellRow
    from viewer.stage.drawn import Point, Points

OVERHEAD: Final = 2.0
"""Metres. What hangs wholly higher is above people's heads and may be drawn faintly."""
_OVERHEAD_SHARE: Final = 0.6
"""Of the height of a low room, from where the same holds."""
_RIGHT_ANGLE: Final = 90.0
_POST: Final = 0.04
"""Metres. Side of a rack's upright."""
_SHELF: Final = 0.03
"""Metres. Thickness of a drawn shelf where none is stated."""
_OUTLINED: Final = 2.6
"""Pixels. Width of the edges of a finding's subject."""
_MOST_CELLS: Final = 200
"""Of a row; a longer row is drawn as one block."""


@dataclass(frozen=True, slots=True)
class LeafTurn:
    """How far a leaf must open, opens, and is drawn opened, in degrees."""

    shown: float
    reached: float
    required: float | None


_FREE: Final = LeafTurn(0.0, _RIGHT_ANGLE, None)
"""A leaf that no rule asks for."""


@dataclass(frozen=True, slots=True)
class Marked:
    """What the report says that bears on how items are drawn.

    Attributes:
        judgements: Indices of those an item is in, not met or open, by its id.
        wrong: Ids of items that are not met by themselves, without a space to show.
        leaves: By item id and leaf number.
        overhead: Metres; what hangs wholly higher may be drawn faintly.
    """

    judgements: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    wrong: frozenset[str] = frozenset()
    leaves: Mapping[tuple[str, int], LeafTurn] = field(default_factory=dict)
    overhead: float = OVERHEAD


def overhead_in(height: float | None) -> float:
    """Return how high something is overhead in a room of a height, metres."""
    return OVERHEAD if height is None else min(OVERHEAD, _OVERHEAD_SHARE * height)


def is_ghost(placed: Placed, marked: Marked) -> bool:
    """Tell whether an item is drawn faintly: overhead, and all is well with it."""
    if placed.id in marked.judgements or placed.of_room:
        return False
    return placed.bottom >= marked.overhead and not placed.live


def item_shapes(placed: Placed, scene: Scene, marked: Marked) -> Iterator[Shape]:
    """Yield the shapes of one item that is no part of the room's own shell."""
    ghost = is_ghost(placed, marked)
    item = placed.item
    rows = cell_rows(placed, scene) if placed.front else ()
    if rows and placed.front and item:
        thick = item.shelf_thickness
        shelf = _SHELF if thick is None else scene.metres(thick)
        surface = _rack(placed.front, rows, shelf)
        # Every post of it outlined would read as a rack that is in the way.
        plain = replace(marked, wrong=frozenset())
        yield _solid(placed, plain, surface, ghost=ghost)
        yield _cells(placed, marked, rows)
        around = _envelope(placed, marked, placed.front)
        if not placed.kind.rack or item.open is False:
            yield around
        if placed.id in marked.wrong:
            yield _outline(around)
    else:
        yield _solid(placed, marked, _body(placed), ghost=ghost)
    if placed.front is None or item is None or item.size is None:
        return
    leaves = stated_leaves(placed, scene)
    if not leaves and (placed.live or placed.kind.needs_working_space) and not rows:
        yield _front_marks(placed, placed.front, ghost=ghost)
    grip = None
    if item.handle is not None and leaves and len(leaves) == 1:
        # Of several leaves it is not said which has the highest handle.
        grip = placed.front.bottom + scene.metres(item.handle)
    for number, leaf in enumerate(leaves or ()):
        turned = marked.leaves.get((placed.id, number), _FREE)
        pivot = pivot_of(leaf, turned.shown, turned.reached, turned.required)
        name = f"{placed.id}/leaf-{number}"
        about = f"door leaf {number + 1}"
        yield leaf_shape(name, placed.id, LEAVES, about, leaf, pivot, grip)


def words_for(placed: Placed) -> str:
    """Return what an item is, and its name, for people."""
    name = placed.item.name if placed.item else None
    size = "how large is not known" if placed.uncertain else ""
    about = placed.kind.about
    if name and name.lower().startswith(about.lower()):
        about = ""  # the name says it
    return ", ".join(part for part in (about, name, size) if part)


def _body(placed: Placed) -> Surface:
    vertices, faces = (placed.drawn or placed.solid).mesh
    if placed.surveyed is not None:
        # Points have no edges; those of the box that is judged, where there is one.
        is_box = placed.surveyed is not placed.solid
        edges = sharp_edges(*placed.solid.mesh) if is_box else np.empty((0, 2, 3))
        return Surface(vertices, faces, edges)
    return Surface(vertices, faces, sharp_edges(vertices, faces))


def _solid(placed: Placed, marked: Marked, surface: Surface, *, ghost: bool) -> Shape:
    kind = placed.kind
    wrong = placed.id in marked.wrong
    colour = palette.neutral(
        kind.name, associated=placed.associated, structure=kind.structure
    )
    return Shape(
        id=placed.id,
        item=placed.id,
        layer=layer_of(placed, ghost=ghost),
        role="solid",
        kind=kind.name,
        about=words_for(placed),
        vertices=surface.vertices,
        faces=surface.faces,
        edges=surface.edges,
        # The subject of a finding is not in the way: it is outlined, not painted.
        colour=colour,
        edge_colour=palette.INTRUSION if wrong else palette.EDGE,
        opacity=palette.GHOST_OPACITY if ghost else _density(placed),
        edge_opacity=palette.GHOST_EDGE_OPACITY if ghost else 1.0,
        edge_width=_OUTLINED if wrong else 1.0 if ghost else 1.5,
        ghost=ghost,
        through=wrong,
        judgements=marked.judgements.get(placed.id, ()),
        ahead=None if placed.front is None else placed.front.frame.out,
    )


def _density(placed: Placed) -> float:
    """Return how dense an item is drawn: one sees through what may not be there."""
    return palette.GLASS_OPACITY if placed.uncertain else 1.0


def _rack(front: Front, rows: tuple[CellRow, ...], shelf: float) -> Surface:
    """Return uprights and shelves of a rack."""
    frame, width, back = front.frame, front.width, -front.depth
    side = min(_POST, width / 4, front.depth / 4)
    parts = [
        block(frame, (x, y, front.bottom), (x + side, y + side, front.top))
        for x in (0.0, width - side)
        for y in (back, -side)
    ]
    for row in rows:
        low = max(row.shelf - shelf, front.bottom)
        if row.shelf > low:
            end = back + shelf_end(row, rows, shelf)
            parts.append(block(frame, (0.0, end, low), (width, -row.edge, row.shelf)))
    return one_surface(parts)


def _cells(placed: Placed, marked: Marked, rows: tuple[CellRow, ...]) -> Shape:
    surface = one_surface([part for row in rows for part in _row(row)])
    return Shape(
        id=f"{placed.id}/cells",
        item=placed.id,
        layer=layer_of(placed, ghost=False),
        role="solid",
        kind=placed.kind.name,
        about="cells",
        vertices=surface.vertices,
        faces=surface.faces,
        edges=surface.edges,
        colour=palette.CELL,
        edge_colour=palette.EDGE,
        edge_width=1.0,
        judgements=marked.judgements.get(placed.id, ()),
    )


def _row(row: CellRow) -> Iterator[Surface]:
    count = row.cells if row.cells <= _MOST_CELLS else 1
    step = row.width / count
    gap = min(0.004, step / 10)
    deep = row.depth / row.rows
    post = min(0.03, step / 4, deep / 5)
    for cell, behind in product(range(count), range(row.rows)):
        left, back = cell * step, behind * deep
        low = (left + gap, back, row.shelf)
        yield block(row.frame, low, (left + step - gap, back + deep, row.top))
        for y in (back + deep * 0.2, back + deep * 0.8 - post):
            middle = left + (step - post) / 2
            if row.highest > row.top:
                high = (middle + post, y + post, row.highest)
                yield block(row.frame, (middle, y, row.top), high)


def _envelope(placed: Placed, marked: Marked, front: Front) -> Shape:
    """Return the outside of a closed rack or cabinet, so faint that cells show."""
    high = (front.width, 0.0, front.top)
    surface = block(front.frame, (0.0, -front.depth, front.bottom), high)
    return Shape(
        id=f"{placed.id}/envelope",
        item=placed.id,
        layer=layer_of(placed, ghost=False),
        role="solid",
        kind=placed.kind.name,
        about=words_for(placed),
        vertices=surface.vertices,
        faces=surface.faces,
        edges=surface.edges,
        colour=palette.neutral(placed.kind.name),
        edge_colour=palette.EDGE,
        opacity=palette.ENVELOPE_OPACITY,
        judgements=marked.judgements.get(placed.id, ()),
    )


def _outline(envelope: Shape) -> Shape:
    """Return the edges of a box as those of the subject of a finding."""
    return replace(
        envelope,
        id=f"{envelope.item}/outline",
        role="mark",
        vertices=NO_POINTS,
        faces=NO_FACES,
        edge_colour=palette.INTRUSION,
        edge_width=_OUTLINED,
        opacity=1.0,
        through=True,
    )


def _front_marks(placed: Placed, front: Front, *, ghost: bool) -> Shape:
    """Return lines that tell the front from the other sides."""
    width, height = front.width, front.top - front.bottom
    inset = min(0.04, width / 8, height / 8)
    out = 0.003
    left, right = inset, width - inset
    low, high = front.bottom + inset, front.top - inset
    frame = front.frame
    drawn = [
        lines(
            frame,
            [
                (left, out, low),
                (right, out, low),
                (right, out, high),
                (left, out, high),
            ],
            closed=True,
        )
    ]
    if placed.kind.transformer:
        for n in range(1, 6):
            level = low + n * (high - low) * 0.06
            ends = [(left * 2, out, level), (width - left * 2, out, level)]
            drawn.append(lines(frame, ends))
    if placed.kind.holds_meter:
        drawn.append(_round(front, 0.3 * min(width, height), out))
    return Shape(
        id=f"{placed.id}/front",
        item=placed.id,
        layer=layer_of(placed, ghost=ghost),
        role="mark",
        kind=placed.kind.name,
        about=words_for(placed),
        vertices=NO_POINTS,
        faces=NO_FACES,
        edges=np.concatenate(drawn),
        colour=palette.EDGE,
        edge_colour=palette.EDGE,
        edge_width=1.0,
        edge_opacity=palette.GHOST_EDGE_OPACITY if ghost else 0.7,
        ghost=ghost,
        pickable=False,
    )


def _round(front: Front, radius: float, out: float) -> Points:
    middle, level = front.width / 2, (front.bottom + front.top) / 2
    angles = (2 * math.pi * n / 32 for n in range(32))
    points: list[Point] = [
        (middle + radius * math.cos(a), out, level + radius * math.sin(a))
        for a in angles
    ]
    return lines(front.frame, points, closed=True)
