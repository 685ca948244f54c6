"""What stands in the room as outlines and edges, what is hidden left out."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.standing.racks import cell_rows
from viewer.figure.drafting.hidden_lines import hull, outside, shifted

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from model3d.scene.scene import Scene
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.stage.drawn import Faces

_BOX: Final = 8
"""Corners of a box; it is convex, and seen along an axis only its outline shows."""
_SHARP: Final = 0.87
"""Cosine of the angle from which an edge between two faces is drawn."""
_MOST_FACES: Final = 4000
"""Of a mesh whose edges are looked for; a finer one is drawn by its outline."""
_LARGE: Final = 2000
"""Corners of a thing from where on it takes long to see it from somewhere."""
_SAME: Final = 1e-6
_ARM: Final = 0.006
"""Metres from the middle of a scanned point's cross to the ends of its arms."""
_MOST_CELLS: Final = 60
"""Of a row of cells that are drawn one by one."""
_NO_LINES: Final = np.empty((0, 2, 2))


@dataclass(frozen=True, eq=False)
class SceneryPiece:
    """A thing as a view shows it, metres of the view.

    Attributes:
        placed: The thing.
        outline: Convex, shape (k, 2).
        far, near: How far it comes towards the reader, at least and at most.
        edges: What is drawn of it, shape (n, 2, 2).
        fine: What is drawn in it in fine lines: cells and their shelves.
        whole: It fills its outline, so that it hides what is behind it.
    """

    placed: Placed
    outline: Points
    far: float
    near: float
    edges: Points
    fine: Points
    whole: bool

    @cached_property
    def low(self) -> Points:
        """Lowest right and up, shape (2,)."""
        return np.asarray(self.outline.min(axis=0))

    @cached_property
    def high(self) -> Points:
        """Highest right and up, shape (2,)."""
        return np.asarray(self.outline.max(axis=0))


def pieces(
    arrangement: Arrangement,
    axes: Axes,
    window: tuple[tuple[float, float], tuple[float, float]],
    but: str = "",
    span: tuple[float, float] = (-np.inf, np.inf),
) -> list[SceneryPiece]:
    """Return the things of a room that reach into a window, as a view shows them.

    Args:
        arrangement: The room.
        axes: From where it looks.
        window: Lowest and highest right and up, metres of the view.
        but: Id of a thing that is left out.
        span: From where to where towards the reader things are looked for, metres.
    """
    stock = _stock(_Arranged(arrangement))
    low, high = np.array(window)
    near = [
        place
        for place in _near(stock, axes, window, span)
        if stock.things[place].id != but
    ]
    upright = _upright([stock.corners(place) for place in near], axes)
    found = (
        known or stock.piece(place, axes, arrangement.scene)
        for place, known in zip(near, _rectangles(stock, near, upright), strict=True)
    )
    return [one for one in found if (one.high > low).all() and (one.low < high).all()]


class _Arranged:
    """An arrangement that is told by being the same."""

    def __init__(self, arrangement: Arrangement) -> None:
        self.arrangement = arrangement

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Arranged) and other.arrangement is self.arrangement

    def __hash__(self) -> int:
        return id(self.arrangement)


@dataclass(frozen=True, eq=False)
class _Stock:
    """What views of a room are made from, view after view.

    Attributes:
        things: All but walls, floor and ceiling.
        bounds: Lowest and highest corner of each, shape (n, 2, 3).
        known: Corners that were asked for.
        pieces: How things of very many corners are seen, by what is looked along.
    """

    things: tuple[Placed, ...]
    bounds: Points
    known: dict[int, Points] = field(default_factory=dict)
    pieces: dict[tuple[int, Axes], SceneryPiece] = field(default_factory=dict)

    def piece(self, place: int, axes: Axes, scene: Scene) -> SceneryPiece:
        """Return one thing as a view shows it; a scan takes long, and is kept.

        A drawing is laid out several times, and several look the same way.
        """
        key = place, axes
        found = self.pieces.get(key) or piece(self.things[place], axes, scene)
        if len(self.corners(place)) > _LARGE:
            self.pieces[key] = found
        return found

    def corners(self, place: int) -> Points:
        """Return the corners of a thing, shape (n, 3); those of a box are kept."""
        found = self.known.get(place)
        if found is None:
            found, _ = self.things[place].solid.mesh
            if len(found) == _BOX:
                self.known[place] = found
        return found


@lru_cache(maxsize=2)
def _stock(room: _Arranged) -> _Stock:
    items = room.arrangement.items.values()
    things = tuple(one for one in items if not one.of_room)
    bounds = np.array([one.solid.bounds for one in things]).reshape(-1, 2, 3)
    return _Stock(things, bounds)


def _near(
    stock: _Stock,
    axes: Axes,
    window: tuple[tuple[float, float], tuple[float, float]],
    span: tuple[float, float],
) -> list[int]:
    """Return which things may reach into a window, by their bounds alone."""
    turn = np.array([axes.right, axes.up, axes.towards])
    middle = (stock.bounds.mean(axis=1) - np.array(axes.origin)) @ turn.T
    half = (stock.bounds[:, 1] - stock.bounds[:, 0]) / 2 @ np.abs(turn).T
    low, high = (np.array([*end, far]) for end, far in zip(window, span, strict=True))
    near = ((middle + half > low) & (middle - half < high)).all(axis=1)
    return [int(place) for place in np.flatnonzero(near)]


def _upright(corners: Sequence[Points], axes: Axes) -> dict[int, Points]:
    """Return boxes that are seen along their sides: lowest and highest, shape (2, 3).

    Most things are boxes and stand along the walls: they are turned all at once.

    Args:
        corners: Of each thing.
        axes: From where it is looked.
    """
    boxes = [place for place, one in enumerate(corners) if len(one) == _BOX]
    if not boxes:
        return {}
    seen = axes.seen(np.concatenate([corners[place] for place in boxes]))
    seen = seen.reshape(-1, _BOX, 3)
    flat = np.round(seen[..., :2], 7) + 0.0
    low, high = flat.min(axis=1), flat.max(axis=1)
    ends = (flat == low[:, None]) | (flat == high[:, None])
    along = ends.all(axis=(1, 2)) & (high > low).all(axis=1)
    depth = np.stack([seen[..., 2].min(axis=1), seen[..., 2].max(axis=1)], axis=1)
    spans = np.concatenate([np.stack([low, high], axis=1), depth[..., None]], axis=2)
    return {
        place: span
        for place, span, whole in zip(boxes, spans, along.tolist(), strict=True)
        if whole
    }


def _rectangles(
    stock: _Stock, near: Sequence[int], upright: dict[int, Points]
) -> Iterator[SceneryPiece | None]:
    """Yield each thing that is a plain box along the axes as a piece, else None."""
    for number, place in enumerate(near):
        placed, span = stock.things[place], upright.get(number)
        if span is None or (placed.item is not None and placed.item.tiers):
            yield None
            continue
        (left, bottom, far), (right, top, close) = span.tolist()
        ends = (left, bottom), (right, bottom), (right, top), (left, top)
        outline = np.array(ends)
        yield SceneryPiece(
            placed, outline, far, close, loop(outline), _NO_LINES, whole=True
        )


def piece(placed: Placed, axes: Axes, scene: Scene) -> SceneryPiece:
    """Return one thing as a view shows it."""
    if placed.drawn is not None and placed.surveyed is placed.solid:
        return _scan(placed, placed.drawn.mesh[0], axes)
    vertices, faces = placed.solid.mesh
    seen = axes.seen(vertices)
    outline = hull(seen[:, :2])
    sides = loop(outline)
    whole = len(vertices) == _BOX or placed.item is None or placed.item.mesh is None
    if len(vertices) != _BOX or len(outline) != 4:  # noqa: PLR2004 - a rectangle
        sides = _edges(seen, faces) if len(faces) <= _MOST_FACES else sides
    fine = _NO_LINES
    if placed.item is not None and placed.item.tiers:
        fine = np.concatenate(_cells(placed, axes, scene))
    far, near = float(seen[:, 2].min()), float(seen[:, 2].max())
    return SceneryPiece(placed, outline, far, near, sides, fine, whole)


def _scan(placed: Placed, corners: Points, axes: Axes) -> SceneryPiece:
    """Return a scan as crosses at the points that are drawn of it."""
    seen = axes.seen(corners.reshape(-1, 4, 3).mean(axis=1))
    arms = np.array([[(-_ARM, 0.0), (_ARM, 0.0)], [(0.0, -_ARM), (0.0, _ARM)]])
    crosses = (seen[:, None, None, :2] + arms).reshape(-1, 2, 2)
    outline = hull(crosses.reshape(-1, 2))
    far, near = float(seen[:, 2].min()), float(seen[:, 2].max())
    fine = np.empty((0, 2, 2))
    return SceneryPiece(placed, outline, far, near, crosses, fine, whole=False)


def loop(outline: Points) -> Points:
    """Return the sides of an outline, shape (k, 2, 2)."""
    return np.stack([outline, shifted(outline)], axis=1)


def box_outline(points: Points, axes: Axes) -> Points:
    """Return the convex outline of world points, shape (n, 3), in a view."""
    return hull(axes.seen(points)[:, :2])


def visible(
    found: Iterable[SceneryPiece], hiding: Iterable[Points] = ()
) -> Iterator[tuple[SceneryPiece, Points]]:
    """Yield each thing with the edges that nothing before it hides, nearest first.

    Args:
        found: The things.
        hiding: Convex outlines that hide all of them.
    """
    order = sorted(found, key=lambda one: (-one.near, -one.far, one.placed.id))
    over = [*hiding]
    before = [*over, *(one.outline for one in order)]
    boxes = np.array([(*one.min(axis=0), *one.max(axis=0)) for one in before])
    hides = np.array([*(True for _ in over), *(one.whole for one in order)], dtype=bool)
    for number, one in enumerate(order, start=len(over)):
        low, high = boxes[number, :2], boxes[number, 2:]
        near = hides[:number] & (boxes[:number, :2] <= high).all(axis=1)
        near &= (boxes[:number, 2:] >= low).all(axis=1)
        edges = np.concatenate([one.edges, one.fine])
        for place in np.flatnonzero(near).tolist():
            edges = outside(edges, before[place])
        yield one, edges


def _edges(seen: Points, faces: Faces) -> Points:
    """Return where a surface bends sharply or turns away from the reader."""
    places, of = np.unique(np.round(seen, 5), axis=0, return_inverse=True)
    corners = of.reshape(-1)[faces]
    triangles = places[corners]
    normals = np.cross(
        triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    )
    length = np.linalg.norm(normals, axis=1)
    whole = length > 0
    corners, normals = corners[whole], normals[whole] / length[whole, None]
    ends = np.sort(corners[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    owner = np.repeat(np.arange(len(corners)), 3)
    keys = ends[:, 0] * len(places) + ends[:, 1]
    order = np.argsort(keys, kind="stable")
    _, first, count = np.unique(keys[order], return_index=True, return_counts=True)
    one = owner[order[first]]
    last = np.minimum(first + 1, len(order) - 1)
    other = owner[order[last]]
    ahead = normals[:, 2] > _SAME  # it looks at the reader
    turns = ahead[one] != ahead[other]
    bends = np.einsum("ij,ij->i", normals[one], normals[other]) < _SHARP
    drawn = (count == 1) | turns | (bends & (ahead[one] | ahead[other]))
    lines: Points = places[ends[order[first]][drawn]][:, :, :2]
    long = np.abs(lines[:, 0] - lines[:, 1]).max(axis=1) > _SAME
    return np.asarray(lines[long])


def _cells(placed: Placed, axes: Axes, scene: Scene) -> Sequence[Points]:
    found = []
    for row in cell_rows(placed, scene):
        count = row.cells if row.cells <= _MOST_CELLS else 1
        step = row.width / count
        for number in range(count):
            ends = np.array(
                [
                    (x, y, z)
                    for x in (number * step, (number + 1) * step)
                    for y in (0.0, row.depth)
                    for z in (row.shelf, row.top)
                ]
            )
            found.append(loop(box_outline(row.frame.world(ends), axes)))
        shelf = np.array(
            [(0.0, 0.0, row.shelf), (row.width, row.depth, row.shelf)], dtype=float
        )
        ends = axes.seen(row.frame.world(shelf))[:, :2]
        if abs(ends[0, 1] - ends[1, 1]) < _SAME:  # an elevation
            found.append(ends.reshape(1, 2, 2))
    return found or [np.empty((0, 2, 2))]
