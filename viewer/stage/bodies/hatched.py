"""Hatching on the faces of a body: it tells what is in the way without colour."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.bodies.surfaces import NO_EDGES, NO_FACES
from viewer.stage.kept import Kept

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from viewer.stage.drawn import Faces, Points, Shape

_ACROSS: Final = np.array([1.0, 0.62, 1.37])
"""Planes across this way cut the faces: no upright or level face lies along them, and
no two walls of a box are hatched alike."""
_WIDE: Final = 0.09
"""Metres between two lines of a large body."""
_LINES: Final = 9
"""A small body has about so many."""
_SLENDER: Final = 0.45
"""Share of the thickness of a pipe or a bar: else it has too few to be seen as such."""
_LEAST: Final = 0.012
_SLAB: Final = 0.12
"""Metres. A body is a slab that is thinner, and not slender."""
_LEVEL: Final = 0.7
"""A face looks up whose normal goes up by so much of its length."""
_STROKE: Final = 1.7
"""Width of a line: in grey print it is all that tells what is in the way."""
_MOST: Final = 90
"""Lines across a body: a long one has them farther apart."""


def hatched(shapes: Iterable[Shape], kept: Kept | None = None) -> Iterator[Shape]:
    """Yield shapes, and after each that is in the way the hatching on its faces.

    Args:
        shapes: What is drawn.
        kept: Of the pictures before: what is as it was in them is not made again.
    """
    for shape in shapes:
        yield shape
        if shape.role == "intrusion" and len(shape.faces):
            lines = lines_on(shape, kept=kept)
            yield lines
            if not lines.through:
                yield from _on_top(shape, kept)


def _on_top(shape: Shape, kept: Kept | None) -> Iterator[Shape]:
    """Yield the hatching on what faces up, which shines through what hides it.

    Seen from above no line of another face lies behind it, so none crosses it.
    """
    first, second, third = (shape.vertices[corner] for corner in shape.faces.T)
    ways = np.cross(second - first, third - first)
    steep = ways[:, 2] > _LEVEL * np.linalg.norm(ways, axis=1)
    if steep.any():
        top = replace(shape, id=f"{shape.id}/top", faces=shape.faces[steep])
        yield replace(lines_on(top, kept=kept), through=True)


def lines_on(shape: Shape, across: Points = _ACROSS, kept: Kept | None = None) -> Shape:
    """Return hatching on the faces of a shape.

    Args:
        shape: It has faces.
        across: Which way the planes face that cut them.
        kept: Of the pictures before, as ``hatched`` takes it.
    """
    lines = (kept or Kept()).again(
        ("hatching", shape.id),
        (shape.vertices, shape.faces, across),
        lambda: hatching(shape.vertices, shape.faces, across),
    )
    return replace(
        shape,
        id=f"{shape.id}/hatch",
        vertices=lines.reshape(-1, 3),
        faces=NO_FACES,
        edges=lines,
        edge_width=_STROKE,
        through=_is_slab(shape),
        pickable=False,
        lift=shape.lift + 1,
    )


def _is_slab(shape: Shape) -> bool:
    """Tell whether a body is so thin that it may lie hidden at the back of a thing.

    Its hatching shines through, as its edges do: in grey print an outline alone is not
    seen. Of a thick body the lines of the far side would cross those of the near one.
    """
    thin, middle, _ = np.sort(np.ptp(shape.vertices, axis=0))
    return bool(thin < _SLAB < middle)


def hatching(vertices: Points, faces: Faces, across: Points = _ACROSS) -> Points:
    """Return lines on the faces of a body, shape (k, 2, 3)."""
    if not len(faces):
        return NO_EDGES
    levels = vertices @ (across / np.linalg.norm(across))
    low, high = float(levels.min()), float(levels.max())
    _, thick, _ = np.sort(np.ptp(vertices, axis=0))
    widest = min(_WIDE, (high - low) / _LINES, _SLENDER * float(thick))
    step = max(widest, (high - low) / _MOST, _LEAST)
    corners, heights = vertices[faces], levels[faces]
    found = []
    for level in np.arange(np.ceil(low / step) * step, high, step):
        above = heights > level
        cut = above.any(axis=1) & ~above.all(axis=1)
        if cut.any():
            found.append(_cut(corners[cut], heights[cut], float(level)))
    return np.concatenate(found) if found else NO_EDGES


def _cut(corners: Points, heights: Points, level: float) -> Points:
    """Return where a plane crosses triangles that it crosses, shape (n, 2, 3)."""
    above = heights > level
    # The corner that is alone on its side comes first.
    alone = np.where(above.sum(axis=1) == 1, above.argmax(axis=1), above.argmin(axis=1))
    rows = np.arange(len(corners))
    tip, tip_at = corners[rows, alone], heights[rows, alone]
    ends = []
    for turn in (1, 2):
        other = (alone + turn) % 3
        foot, foot_at = corners[rows, other], heights[rows, other]
        share = (level - tip_at) / (foot_at - tip_at)
        ends.append(tip + share[:, None] * (foot - tip))
    return np.stack(ends, axis=1)
