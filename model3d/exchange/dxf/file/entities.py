"""Entities of a DXF file as lines: what they are in the world, seen from above.

Sources: the DXF reference (object coordinate systems, bulges, the corners of SOLID in
their order of a bow tie) and the documentation of ezdxf, which reads the file.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.dxf.file.curve import CurvePiece, EllipseArc, along, bulged
from model3d.exchange.dxf.file.loops import joined
from model3d.units import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ezdxf.math import OCS, Vec3

    from model3d.geometry.frame import Corner

LINES: Final = frozenset(
    {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "HATCH"}
    | {"MPOLYGON", "SOLID", "TRACE"}
)
"""What is read as lines."""
HATCHES: Final = frozenset({"HATCH", "MPOLYGON"})
ASIDE: Final = frozenset(
    {"DIMENSION", "ARC_DIMENSION", "LEADER", "MULTILEADER", "MLEADER", "TEXT", "MTEXT"}
    | {"ATTDEF", "ATTRIB", "POINT", "VIEWPORT", "IMAGE", "WIPEOUT", "TOLERANCE"}
    | {"OLE2FRAME", "XLINE", "RAY", "LIGHT", "ACAD_TABLE", "PDFUNDERLAY"}
)
"""What stands for no thing in the room."""
_LEVEL: Final = 0.001
"""Metres by which a line's points may differ in height and be flat."""
_UPRIGHT: Final = 1e-9
_CONTROL: Final = 16
"""Flag of a vertex that holds a curve and is not on it."""


class LeftOutError(ValueError):
    """An entity that is not read: its name in the singular, and which of them."""

    def __init__(self, what: str, which: str = "") -> None:
        super().__init__(what, which)
        self.what, self.which = what, which


class NoNumberError(ValueError):
    """A coordinate that is no finite number."""


class World:
    """Points of an entity in the world, metres."""

    def __init__(self, ocs: OCS, metres: float) -> None:
        self.metres, self.ocs = metres, ocs
        self.tilted = ocs.transform and abs(abs(ocs.uz.z) - 1) > _UPRIGHT
        self.mirrored = ocs.uz.z < 0

    def own(self, points: Sequence[Vec3], height: float = 0.0) -> list[Corner]:
        """Return points given in the entity's own system."""
        if self.tilted:
            what = "tilted outline"
            raise LeftOutError(what)
        flat = (self.ocs.to_wcs((one[0], one[1], height)) for one in points)
        return self.world([*flat])

    def world(self, points: Sequence[Vec3]) -> list[Corner]:
        """Return points given in the world's system, which lie at one height."""
        values = [value for one in points for value in (one[0], one[1], one[2])]
        if not all(map(math.isfinite, values)):
            raise NoNumberError
        if any(abs(value) * self.metres > FARTHEST for value in values):
            what = "line"
            raise LeftOutError(what, "farther than 10000 km away")
        heights = [one[2] * self.metres for one in points]
        if heights and max(heights) - min(heights) > _LEVEL:
            what = "line"
            raise LeftOutError(what, "not level")
        return [
            (float(one[0]) * self.metres, float(one[1]) * self.metres) for one in points
        ]


def chains_of(
    entity: Any, metres: float
) -> Iterator[tuple[tuple[CurvePiece, ...], bool]]:
    """Yield the lines of an entity, each with whether it closes.

    Args:
        entity: One of those whose type is in ``LINES``.
        metres: In one unit of the plan.

    Raises:
        LeftOutError: It is not read.
        NoNumberError: A coordinate is none.
    """
    kind = entity.dxftype()
    world = World(entity.ocs(), metres)
    if kind == "LINE":
        start, end = world.world([entity.dxf.start, entity.dxf.end])
        if start != end:
            yield (CurvePiece(start, end),), False
    elif kind in {"ARC", "CIRCLE", "ELLIPSE"}:
        yield (_arc(entity, world),), kind == "CIRCLE"
    elif kind == "LWPOLYLINE":
        corners = [(x, y) for x, y, *_ in entity.get_points("xy")]
        bulges = [one for (one,) in entity.get_points("b")]
        points = world.own(corners, entity.dxf.get("elevation", 0.0))
        yield from _polyline(points, bulges, world, closes=entity.closed)
    elif kind == "POLYLINE":
        yield from _old_polyline(entity, world)
    elif kind in {"SOLID", "TRACE"}:
        four = [entity.dxf.get(f"vtx{n}") for n in (0, 1, 3, 2)]
        found = [one for one in four if one is not None]
        points = world.own(found, found[0][2] if found else 0.0)
        yield from _polyline(points, [0.0] * len(points), world, closes=True)
    else:
        yield from _hatch(entity, world)


def width_of(entity: Any, metres: float) -> float:
    """Return how wide a polyline is drawn where it is widest, metres; 0 for thin."""
    dxf = entity.dxf
    match entity.dxftype():
        case "LWPOLYLINE" if dxf.hasattr("const_width"):
            widths = [dxf.const_width]
        case "LWPOLYLINE":
            widths = [one for both in entity.get_points("se") for one in both]
        case "POLYLINE" if entity.is_2d_polyline:
            own = dxf.get("default_start_width", 0.0), dxf.get("default_end_width", 0.0)
            widths = [
                one.dxf.get(key, other)
                for one in entity.vertices
                for key, other in zip(("start_width", "end_width"), own, strict=True)
            ]
        case _:
            return 0.0
    if not all(math.isfinite(one) for one in widths):
        raise NoNumberError
    return max((float(one) * metres for one in widths), default=0.0)


def _polyline(
    points: Sequence[Corner], bulges: Sequence[float], world: World, *, closes: bool
) -> Iterator[tuple[tuple[CurvePiece, ...], bool]]:
    if not all(map(math.isfinite, bulges)):
        raise NoNumberError
    hand = -1 if world.mirrored else 1
    ends = [*points[1:], *(points[:1] if closes else ())]
    edges = tuple(
        bulged(one, other, hand * float(bulge))
        for one, other, bulge in zip(points, ends, bulges, strict=False)
        if one != other
    )
    if edges:
        yield edges, closes


def _old_polyline(
    entity: Any, world: World
) -> Iterator[tuple[tuple[CurvePiece, ...], bool]]:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        what = "mesh"
        raise LeftOutError(what)
    vertices = [one for one in entity.vertices if not one.dxf.flags & _CONTROL]
    corners = [one.dxf.location for one in vertices]
    if entity.is_3d_polyline:
        points = world.world(corners)
        bulges = [0.0] * len(points)
    else:
        height = entity.dxf.elevation[2] if entity.dxf.hasattr("elevation") else 0.0
        points = world.own(corners, height)
        bulges = [one.dxf.get("bulge", 0.0) for one in vertices]
    yield from _polyline(points, bulges, world, closes=entity.is_closed)


def _arc(entity: Any, world: World) -> CurvePiece:
    dxf = entity.dxf
    if entity.dxftype() == "ELLIPSE":
        start, end = dxf.start_param, dxf.end_param
        if world.tilted:
            what = "tilted outline"
            raise LeftOutError(what)
        centre, major = dxf.center, dxf.major_axis
        points = [centre, centre + major, centre + entity.minor_axis]
        origin, one, other = world.world(points)
    else:
        start, end = 0.0, math.tau
        if entity.dxftype() == "ARC":
            start, end = math.radians(dxf.start_angle), math.radians(dxf.end_angle)
        x, y, z = dxf.center
        points = [(x, y), (x + dxf.radius, y), (x, y + dxf.radius)]
        origin, one, other = world.own(points, z)
    return _turned(origin, one, other, start, end)


def _turned(
    origin: Corner, one: Corner, other: Corner, start: float, end: float
) -> CurvePiece:
    if not (math.isfinite(start) and math.isfinite(end)):
        raise NoNumberError
    sweep = (end - start) % math.tau
    u = one[0] - origin[0], one[1] - origin[1]
    v = other[0] - origin[0], other[1] - origin[1]
    if sweep < _UPRIGHT:
        sweep = math.tau
    return along(EllipseArc(origin, u, v, start, start + sweep))


def _hatch(entity: Any, world: World) -> Iterator[tuple[tuple[CurvePiece, ...], bool]]:
    height = entity.dxf.elevation[2] if entity.dxf.hasattr("elevation") else 0.0
    for path in entity.paths.paths:
        if hasattr(path, "vertices"):
            points = world.own([one[:2] for one in path.vertices], height)
            bulges = [float(one[2]) for one in path.vertices]
            yield from _polyline(points, bulges, world, closes=True)
            continue
        edges = [_hatch_edge(edge, world, height) for edge in path.edges]
        # They come one behind the other, but some programs turn single ones around.
        loops, left = joined([(edge,) for edge in edges])
        if left:
            what = "hatch"
            raise LeftOutError(what, "whose edge does not close")
        for loop in loops:
            yield loop.edges, True


def _hatch_edge(edge: Any, world: World, height: float) -> CurvePiece:
    match edge.EDGE_TYPE:
        case "LineEdge":
            start, end = world.own([edge.start, edge.end], height)
            return CurvePiece(start, end)
        case "ArcEdge":
            x, y = edge.center
            points = [(x, y), (x + edge.radius, y), (x, y + edge.radius)]
            angles = math.radians(edge.start_angle), math.radians(edge.end_angle)
        case "EllipseEdge":
            x, y = edge.center
            a, b = edge.major_axis
            points = [(x, y), (x + a, y + b), (x - b * edge.ratio, y + a * edge.ratio)]
            angles = edge.start_param, edge.end_param
        case _:
            what = "hatch"
            raise LeftOutError(what, "with a free curve")
    origin, one, other = world.own(points, height)
    return _turned(origin, one, other, *angles)
