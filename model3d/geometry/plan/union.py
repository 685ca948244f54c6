"""Put polygons together and take them away, and look whether that came out right.

The overlay of shapely is fast in floating point but may lose a piece where edges almost
lie on each other, as they do here: gear stands in line. So corners are rounded, and a
point of every piece is looked up in the answer; if one is not where it must be, the
overlay is made again on a fine grid, which is slow and safe.
"""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import manifold3d
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Points = NDArray[np.float64]
    Shapes = NDArray[np.object_]

GRID: Final = 1e-8
"""Metres. Far finer than any tolerance, far coarser than rounding."""

_MANY: Final = 5000
"""Polygons that are put together at once."""

_SQUARE: Final = 0.25
"""Metres."""

_MITRE: Final = 5.0
"""Of a corner's way out to a side's, the longest; that of shapely's buffer."""

_DIGITS: Final = 8
"""Of metres: the same, as decimal places."""


def joined(pieces: Iterable[shapely.Geometry]) -> shapely.Geometry:
    """Return all that any of some polygons covers."""
    rounded = _rounded(pieces)
    with suppress(shapely.GEOSException):
        found = shapely.union_all(rounded)
        shapely.prepare(found)
        # Of one polygon its union is itself, even where rounding has crossed its edges.
        whole = len(rounded) > 1 or found.is_valid
        if whole and shapely.covers(found, shapely.point_on_surface(rounded)).all():
            return found
    return _on_grid(rounded)


def joined_each(pieces: Shapes, of: Numbers) -> Shapes:
    """Return the same as ``joined`` for each of some groups.

    Args:
        pieces: The polygons of all groups.
        of: To which group each belongs, by number; every group has some.
    """
    rounded = _rounded(pieces)
    try:
        found = _unions(rounded, of)
    except shapely.GEOSException:
        return np.array([_on_grid(rounded[of == n]) for n in range(of.max() + 1)])
    shapely.prepare(found)
    missing = ~shapely.covers(found[of], shapely.point_on_surface(rounded))
    counts = np.bincount(of)
    wrong = (np.bincount(of, missing) > 0) | ((counts == 1) & ~shapely.is_valid(found))
    for number in wrong.nonzero()[0].tolist():
        found[number] = _on_grid(rounded[of == number])
    return found


def covered(
    polygons: NDArray[np.object_], rims: Sequence[Sequence[Points]] = ()
) -> shapely.Geometry:
    """Return all that any of very many polygons without holes covers.

    By the Clipper2 in manifold3d, which takes a tenth of the time where there are
    thousands; it works on the grid by itself.

    Args:
        polygons: The polygons.
        rims: Groups of closed lines that wind about more that is covered.
    """
    groups = [*rims, *_by_place(_rings(polygons))]
    return shapely.make_valid(polygons_of(_put_together(groups)))


def covered_within(polygons: NDArray[np.object_], by: float) -> shapely.Geometry:
    """Return what polygons cover but for a strip of a width at its edge.

    Where there are very many corners it takes a tenth of the time of shapely's buffer.
    """
    import manifold3d  # noqa: PLC0415 - only meshes need it

    whole = _put_together(_by_place(_rings(polygons)))
    return shapely.make_valid(
        polygons_of(whole.offset(-by, manifold3d.JoinType.Miter, _MITRE))
    )


def _put_together(groups: Sequence[Sequence[Points]]) -> manifold3d.CrossSection:
    import manifold3d  # noqa: PLC0415

    return manifold3d.CrossSection.batch_boolean(
        [manifold3d.CrossSection(few, manifold3d.FillRule.NonZero) for few in groups],
        manifold3d.OpType.Add,
    )


def polygons_of(section: manifold3d.CrossSection) -> shapely.MultiPolygon:
    """Return the polygons of a section of Clipper2."""
    found = (one.to_polygons() for one in section.decompose())
    return shapely.MultiPolygon([_polygon(rings) for rings in found if rings])


def _rings(polygons: NDArray[np.object_]) -> list[Points]:
    """Return the outsides of polygons, counter-clockwise."""
    if not len(polygons):
        return []
    points, owner = shapely.get_coordinates(
        shapely.orient_polygons(polygons), return_index=True
    )
    each = len(points) // len(polygons)
    if (np.bincount(owner) == each).all():  # triangles: a split takes much longer
        return list(points.reshape(-1, each, 2))
    return np.split(points, np.flatnonzero(np.diff(owner)) + 1)


def _by_place(rings: list[Points]) -> list[list[Points]]:
    """Return rings with those that lie near one another together, where they are many.

    A hundred thousand triangles that are put together square by square, and then the
    squares, take an eighth of the time.
    """
    if len(rings) <= _MANY:
        return [rings] if rings else []
    firsts = np.array([ring[0] for ring in rings])
    _, square = np.unique(np.floor(firsts / _SQUARE), axis=0, return_inverse=True)
    order = np.argsort(square.ravel(), kind="stable")
    ends = np.flatnonzero(np.diff(square.ravel()[order])) + 1
    return [[rings[n] for n in few] for few in np.split(order, ends)]


def _polygon(rings: Sequence[Points]) -> shapely.Polygon:
    """Return one polygon of its outside, which goes about all else, and its holes."""
    wide = [float(np.ptp(ring[:, 0])) for ring in rings]
    outside = rings[wide.index(max(wide))]
    return shapely.Polygon(outside, [ring for ring in rings if ring is not outside])


def less(
    whole: shapely.Geometry, pieces: Iterable[shapely.Geometry]
) -> shapely.Geometry:
    """Return what is left of a polygon where some pieces are taken away.

    What is not near it takes nothing away, and is not even put together.
    """
    given = [*pieces]
    rounded = _rounded(_near(whole, given)) if given else np.empty(0, dtype=object)
    if not len(rounded):
        return whole
    with suppress(shapely.GEOSException):
        found = shapely.difference(whole, shapely.union_all(rounded))
        shapely.prepare(found)
        if not shapely.contains(found, shapely.point_on_surface(rounded)).any():
            return found
    return _less_on_grid(whole, rounded)


def less_each(
    wholes: Sequence[shapely.Geometry] | Shapes, pieces: Shapes, of: Numbers
) -> Shapes:
    """Return the same as ``less`` for each of some polygons, in half the time.

    Args:
        wholes: The polygons.
        pieces: What is taken away, of each polygon one after another.
        of: Of which polygon each is, by number, rising.
    """
    left = np.array([*wholes], dtype=object)
    ends, around = shapely.bounds(pieces), shapely.bounds(left)[of]
    meet = (ends[:, :2] <= around[:, 2:] + GRID) & (ends[:, 2:] >= around[:, :2] - GRID)
    kept = (meet.all(axis=1) & ~shapely.is_empty(pieces)).nonzero()[0]
    if not len(kept):
        return left
    rounded, of = _rounded(pieces[kept]), of[kept]
    some, place = np.unique(of, return_inverse=True)
    try:
        found = shapely.difference(left[some], _unions(rounded, place))
    except shapely.GEOSException:
        wrong = np.ones(len(some), dtype=bool)
    else:
        shapely.prepare(found)
        inside = shapely.contains(found[place], shapely.point_on_surface(rounded))
        wrong = np.bincount(place, inside, len(some)) > 0
        left[some[~wrong]] = found[~wrong]
    for number in wrong.nonzero()[0].tolist():
        at = some[number]
        left[at] = _less_on_grid(left[at], rounded[place == number])
    return left


def _less_on_grid(whole: shapely.Geometry, rounded: Shapes) -> shapely.Geometry:
    taken, valid = _on_grid(rounded), _on_grid(np.array([whole], dtype=object))
    return shapely.difference(valid, taken, grid_size=GRID)


def _unions(pieces: Shapes, of: Numbers) -> Shapes:
    """Return the union of the pieces of each number, all of which have some."""
    counts = np.bincount(of)
    table = np.full((len(counts), counts.max()), None, dtype=object)
    table[of, np.arange(len(of)) - (np.cumsum(counts) - counts)[of]] = pieces
    unions: Shapes = shapely.union_all(table, axis=1)
    return unions


def _near(whole: shapely.Geometry, pieces: Sequence[shapely.Geometry]) -> Shapes:
    """Return the pieces whose bounds meet those of a shape."""
    given = np.array(pieces, dtype=object)
    (low, high), ends = shapely.bounds(whole).reshape(2, 2), shapely.bounds(given)
    meet = (ends[:, :2] <= high + GRID) & (ends[:, 2:] >= low - GRID)
    return np.asarray(given[meet.all(axis=1)])


def _on_grid(pieces: NDArray[np.object_]) -> shapely.Geometry:
    """Return the union of pieces on the grid, without what has no area."""
    parts = shapely.get_parts(shapely.get_parts(shapely.make_valid(pieces)))
    return shapely.union_all(parts[shapely.area(parts) > 0], grid_size=GRID)


def _rounded(pieces: Iterable[shapely.Geometry]) -> NDArray[np.object_]:
    kept = np.array([*pieces], dtype=object)
    kept = kept[~shapely.is_empty(kept)]
    # As shapely.transform does it, which looks at much besides: this is asked often.
    rounded: NDArray[np.object_] = shapely.set_coordinates(
        kept.copy(), shapely.get_coordinates(kept).round(_DIGITS)
    )
    return rounded
