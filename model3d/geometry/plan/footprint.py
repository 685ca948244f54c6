"""What of a body is in somebody's way: its shadow on the floor between two heights."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from model3d.geometry.bodies.clipping import cut, whole_and_parted
from model3d.geometry.bodies.edges import edges_of
from model3d.geometry.bodies.extents import once
from model3d.geometry.bodies.self_crossing import is_tangle
from model3d.geometry.bodies.solid import Box, Mesh
from model3d.geometry.bodies.triangle_view import TriangleView
from model3d.geometry.clouds.body import Cloud
from model3d.geometry.plan.cover.cells import cells_of
from model3d.geometry.plan.cover.raster import cells_under, parted
from model3d.geometry.plan.cover.rims import closed_lines, rims
from model3d.geometry.plan.cover.sure_squares import sure_squares
from model3d.geometry.plan.union import covered, joined
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.bodies.solid import Solid

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

_FEW = 4
"""Sides of a quarter of the round about a line that is contact: it is a tenth of a
millimetre wide."""

SCAN = 20_000
"""Triangles in the way: an open mesh of more was measured, not drawn."""

_NARROW = 0.1
"""Metres. Half of a gap that nobody gets through."""

ABOUT_SCAN = 0.004
"""Metres about what a scan covers that count as covered too."""

_DIGITS = 8
"""Of metres, as decimal places: far finer than any tolerance."""

_FLAT = 1e-12
"""Square metres. A triangle whose shadow is smaller stands upright."""


def footprint(
    solid: Solid, low: float, high: float, *, convex: bool = False
) -> shapely.Geometry:
    """Return the plan of what a body has between two heights, empty where nothing.

    What reaches between them by no more than contact is left out.

    Args:
        solid: The body.
        low: World height, metres.
        high: World height, metres.
        convex: The body is known to be convex.
    """
    (_, _, bottom), (_, _, top) = solid.bounds
    if top <= low + TOUCH or bottom >= high - TOUCH:
        return _NOTHING
    if solid.closed and min(top, high) - max(bottom, low) <= TOUCH:
        return _NOTHING
    if isinstance(solid, Box):
        return once(solid.known, "ground", lambda: _ground(solid))
    if isinstance(solid, Cloud):
        return cells_of(solid.points, low + TOUCH, high - TOUCH)
    if not isinstance(solid, Mesh):
        return _shadow(solid, low, high, convex=convex)
    asked = ("footprint", low, high, convex)
    if asked not in solid.known:
        solid.known[asked] = _shadow(solid, low, high, convex=convex)
    return solid.known[asked]


def _shadow(solid: Solid, low: float, high: float, *, convex: bool) -> shapely.Geometry:
    vertices, faces = solid.mesh
    is_whole, pieces = _between(vertices, faces, low, high)
    if not is_whole.any() and not len(pieces):
        return _NOTHING
    plan = vertices[:, :2]
    if convex:
        corners = [plan[faces[is_whole]].reshape(-1, 2), pieces.reshape(-1, 2)]
        return shapely.MultiPoint(np.concatenate(corners)).convex_hull
    if is_whole.sum() + len(pieces) > SCAN and not _is_drawn(solid):
        found = _counted(_together(plan, faces[is_whole], pieces))
        if not solid.closed:
            return found
        return joined([found, _within(vertices, faces, (low + high) / 2)])
    flat = np.take(plan, faces, axis=0)
    uprights = [_upright(flat), _upright(pieces)]
    plans, lies = pieces[~uprights[1]], is_whole & ~uprights[0]
    edges, sure = edges_of(vertices, faces), np.array([], dtype=object)
    if solid.closed and lies.sum() > SCAN:
        (_, _, bottom), (_, _, top) = solid.bounds
        level = (max(low, bottom) + min(high, top)) / 2
        squares = sure_squares(vertices, faces, edges, is_whole, level)
        lies[lies] = ~squares.hide(np.compress(lies, flat, axis=0))
        plans, sure = plans[~squares.hide(plans)], squares.boxes
    lying = rims(plan, faces, edges, lies)
    polygons = np.concatenate([sure, shapely.polygons(plans)])
    if solid.closed:
        shadow = covered(polygons, lying)
        (_, _, bottom), (_, _, top) = solid.bounds
        # No place is inside the body all the way between heights beyond it.
        if bottom <= low and top >= high:
            shadow = joined([shadow, _section(solid, (low + high) / 2)])
        return shadow.simplify(TOUCH / 4)
    upright = np.concatenate([flat[is_whole & uprights[0]], pieces[uprights[1]]])
    lines = shapely.buffer(_sides(upright), TOUCH, quad_segs=_FEW)
    return covered(np.concatenate([polygons, lines]), lying).simplify(TOUCH / 4)


def _is_drawn(solid: Solid) -> bool:
    """Tell whether a body is closed, and no tangle of very many that overlap."""
    if not isinstance(solid, Mesh) or not solid.closed:
        return solid.closed
    return not once(solid.known, "tangle", lambda: is_tangle(*solid.mesh))


def _together(plan: Points, faces: Faces, pieces: Points) -> Points:
    """Return the corners of triangles and of pieces in plan, shape (n, 3, 2).

    Each coordinate of each corner lies side by side in memory: so they are counted.
    """
    found = np.empty((3, 2, len(faces) + len(pieces)))
    for axis in range(2):
        at = np.ascontiguousarray(plan[:, axis])
        for corner in range(3):
            found[corner, axis, : len(faces)] = at[faces[:, corner]]
            found[corner, axis, len(faces) :] = pieces[:, corner, axis]
    return found.transpose(2, 0, 1)


def _counted(plan: Points) -> shapely.Geometry:
    """Return what triangles in plan cover, and what nobody gets into between them."""
    fine, coarse = parted(plan)
    found = cells_under(fine)
    return joined([found, _smooth(_exact(coarse))]) if len(coarse) else found


def _within(vertices: Points, faces: Faces, level: float) -> shapely.Geometry:
    """Return where a level cuts a closed body whose shells may lie in one another."""
    crossed, above = _cut_by(vertices, faces, level)
    if not len(crossed):
        return _NOTHING
    # Neighbours have the same point where they meet, the one as its first.
    a, b, c = crossed.transpose(1, 0, 2)
    first, last = _crossing(c, a, level)[:, :2], _crossing(a, b, level)[:, :2]
    first[~above], last[~above] = last[~above], first[~above].copy()
    places, number = np.unique(
        np.concatenate([first, last]), axis=0, return_inverse=True
    )
    starts, ends = number.reshape(2, -1)
    lines = closed_lines(places, np.zeros(len(starts), dtype=np.int64), starts, ends)
    return covered(np.array([], dtype=object), lines)


def _exact(plan: Points) -> shapely.Geometry:
    """Return what triangles in plan cover, shape (n, 3, 2)."""
    upright = _upright(plan)
    lines = shapely.buffer(_sides(plan[upright]), TOUCH, quad_segs=_FEW)
    return covered(np.concatenate([shapely.polygons(plan[~upright]), lines]))


def _smooth(shadow: shapely.Geometry) -> shapely.Geometry:
    """Return the ragged shadow of a scan with what nobody gets into filled.

    It is covered, and no more than ``ABOUT_SCAN`` about it: ways out would be looked
    for between all its jags, which takes minutes.
    """
    closed = shadow.buffer(_NARROW, quad_segs=_FEW).buffer(ABOUT_SCAN - _NARROW, _FEW)
    smooth = closed.simplify(ABOUT_SCAN / 4)
    return smooth if smooth.covers(shadow) else joined([smooth, shadow])


def _ground(box: Box) -> shapely.Polygon:
    corners = (0.0, 0.0), (box.width, 0.0), (box.width, box.depth), (0.0, box.depth)
    return shapely.Polygon([box.frame.to_plan(u, v) for u, v in corners])


_NOTHING = shapely.Polygon()


def _between(
    vertices: Points, faces: Faces, low: float, high: float
) -> tuple[NDArray[np.bool_], Points]:
    """Return which triangles lie between two heights, and what does of others in plan.

    The pieces of the others have the shape (m, 3, 2).
    """
    low, high, far = low + TOUCH, high - TOUCH, float("inf")
    height = vertices[:, 2]
    # A bit for each of the heights: what has a corner beyond one is not whole, and what
    # has all of them there is nowhere between.
    under, over = (height < low).view(np.uint8), (height > high).view(np.uint8)
    beyond = under | over << np.uint8(1)
    is_whole, is_parted = whole_and_parted(beyond, faces)
    parted = np.take(vertices, np.compress(is_parted, faces, axis=0), axis=0)
    pieces = cut(parted, (-far, -far, low), (far, far, high))
    return is_whole, pieces[:, :, :2]


def _upright(plan: Points) -> NDArray[np.bool_]:
    """Tell the shadows of which triangles, shape (n, 3, 2), are but lines."""
    a, b, c = plan.transpose(1, 0, 2)
    one, other = b - a, c - a
    area = np.abs(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]) / 2
    return np.asarray(area <= _FLAT)


def _sides(plan: Points) -> NDArray[np.object_]:
    """Return the sides of triangles in plan, shape (n, 3, 2), as lines, each once.

    Those of a wall lie on one another by thousands, and would be put together in the
    square of the time.
    """
    sides = np.concatenate([plan[:, [i, (i + 1) % 3]] for i in range(3)])
    sides = sides.round(_DIGITS)
    (ax, ay), (bx, by) = sides[:, 0].T, sides[:, 1].T
    back = (ax > bx) | ((ax == bx) & (ay > by))
    sides[back] = sides[back][:, ::-1]
    once_each = np.unique(sides.reshape(-1, 4), axis=0).reshape(-1, 2, 2)
    return np.asarray(shapely.linestrings(once_each))


def _section(solid: Solid, level: float) -> shapely.Geometry:
    """Return where a closed body is cut by a level.

    A place that is inside the body all the way between two heights is inside at any
    level between them, so that one section and the shadow of the surface are enough.
    """
    vertices, faces = solid.mesh
    crossed, _ = _cut_by(vertices, faces, level)
    if not len(crossed):
        return _NOTHING
    a, b, c = crossed.transpose(1, 0, 2)
    ends = [_crossing(a, other, level) for other in (b, c)]
    lines = shapely.linestrings(np.stack(ends, axis=1)[:, :, :2])
    cells = shapely.get_parts(shapely.polygonize([shapely.union_all(lines)]))
    if not len(cells):
        return _NOTHING
    middle = shapely.get_coordinates(shapely.point_on_surface(cells))
    probes = np.column_stack([middle, np.full(len(middle), level)])
    view = TriangleView(vertices, faces, vertices[faces], solid.closed)
    return joined(cells[view.holds(probes)])


def _cut_by(
    vertices: Points, faces: Faces, level: float
) -> tuple[Points, NDArray[np.bool_]]:
    """Return the triangles that a level cuts, turned so that one corner is alone.

    It is the first, and it is told of each whether it lies above.
    """
    is_above = vertices[:, 2] >= level
    a, b, c = (is_above[faces[:, corner]] for corner in range(3))
    is_cut = (a | b | c) & ~(a & b & c)
    crossed = vertices[faces[is_cut]]
    above = crossed[:, :, 2] >= level
    odd = np.where(
        above.sum(axis=1) == 1, above.argmax(axis=1), (~above).argmax(axis=1)
    )
    turn = (odd[:, None] + np.arange(3)) % 3
    turned = np.take_along_axis(crossed, turn[:, :, None], axis=1)
    return turned, above.sum(axis=1) == 1


def _crossing(one: Points, other: Points, level: float) -> Points:
    """Return where sides pass a level, shape (n, 3).

    Always counted from the lower end: two triangles with a side in common must agree
    to the last digit, or the section is no closed line.
    """
    rising = (one[:, 2] < other[:, 2])[:, None]
    low, high = np.where(rising, one, other), np.where(rising, other, one)
    part: Points = (
        low + (high - low) * ((level - low[:, 2]) / (high[:, 2] - low[:, 2]))[:, None]
    )
    return part
