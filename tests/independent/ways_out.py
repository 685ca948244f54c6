"""Ways out past open leaves, searched a second way: on a fine grid, by brute force.

Written from requirements.md ("entrance"), in millimetres, without any of the engine.
Everything in the way is a convex piece: boxes, lengths of wall, leaves. Where two
pieces are nearer to each other than a way is wide nobody of that width comes between
them: such gaps are drawn across the grid, and flood filling tells who is cut off from
outside. The gaps' widths are exact; only who is on which side of them is found on the
grid.

A gap that is no passage is not drawn: between two leaves of one front, and along a
front between a leaf and what stands beside that front and reaches back behind it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final

import numpy as np
import scipy.ndimage
from numpy.typing import NDArray

from tests.independent import boxes

Numbers = NDArray[np.float64]
Cells = NDArray[np.bool_]
Plain = dict[str, Any]
Point = tuple[float, float]

STEP: Final = {"si": 178.0, "inch-pound": 177.8, "either": 178.0}
WIDE: Final = {"si": 610.0, "inch-pound": 609.6, "either": 609.6}
HIGH: Final = {"si": 2000.0, "inch-pound": 1981.2, "either": 1981.2}
BEYOND: Final = 800.0
"""Millimetres of floor beyond a door: who is that far is outside."""
ALONG: Final = 0.1
"""Sine of the angle up to which a gap runs along a front."""
NO_PASSAGE: Final = 200.0
WITHIN: Final = 1.0
"""Millimetres. By how much the ways to both sides of a gap may be longer than it is
wide."""
HAND: Final = 80.0
"""Millimetres. Before less of a front nobody is who had no way in any case."""
AJAR: Final = 5.0
"""Degrees. A leaf that opens less leaves nobody room between itself and the front."""
LARGE: Final = 1200.0, 1829.0
"""Amperes, from which on, and width in millimetres, beyond which gear is large."""
ANGLES: Final = (90.0, 85.0, 80.0, 75.0, 70.0, 65.0, 60.0, 55.0, 50.0, 45.0, 40.0)


@dataclass(frozen=True)
class Piece:
    """A convex body in plan: its corners in order, two of a leaf or a wall."""

    corners: tuple[Point, ...]
    kind: str
    row: int = -1
    out: Point = (0.0, 0.0)

    def away(self, x: Numbers, y: Numbers) -> Numbers:
        """Return how far points are from it; 0 inside."""
        if self.kind == "box":
            (x0, y0), _, (x1, y1), _ = self.corners
            dx = np.maximum(np.maximum(x0 - x, x - x1), 0.0)
            dy = np.maximum(np.maximum(y0 - y, y - y1), 0.0)
            return np.hypot(dx, dy)
        (ax, ay), (bx, by) = self.corners
        sx, sy = bx - ax, by - ay
        t = np.clip(((x - ax) * sx + (y - ay) * sy) / (sx * sx + sy * sy), 0.0, 1.0)
        return np.hypot(x - ax - t * sx, y - ay - t * sy)

    @property
    def sides(self) -> list[tuple[Point, Point]]:
        """Return its sides; a leaf or a wall has one."""
        if self.kind != "box":
            return [(self.corners[0], self.corners[1])]
        return list(zip(self.corners, self.corners[1:] + self.corners[:1], strict=True))


def gap(one: Piece, other: Piece) -> tuple[float, list[tuple[Point, Point]]]:
    """Return how far two pieces are apart, and from where to where.

    Along sides that are parallel it is as narrow at both ends.
    """
    best, lines = math.inf, list[tuple[Point, Point]]()
    for first, second in ((one, other), (other, one)):
        for corner in first.corners:
            for a, b in second.sides:
                sx, sy = b[0] - a[0], b[1] - a[1]
                t = ((corner[0] - a[0]) * sx + (corner[1] - a[1]) * sy) / (
                    sx * sx + sy * sy
                )
                t = min(max(t, 0.0), 1.0)
                foot = a[0] + t * sx, a[1] + t * sy
                away = math.dist(corner, foot)
                if away < best - 1e-6:
                    best, lines = away, []
                if away < best + 1e-6:
                    lines.append((corner, foot))
            if second.kind == "box" and _inside(corner, second):
                return 0.0, []
    if any(_cross(a, b) for a in one.sides for b in other.sides):
        return 0.0, []
    return best, lines


def _inside(corner: Point, box: Piece) -> bool:
    (x0, y0), _, (x1, y1), _ = box.corners
    return x0 <= corner[0] <= x1 and y0 <= corner[1] <= y1


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    def turn(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return turn(a, b, c) * turn(a, b, d) < 0.0 and turn(c, d, a) * turn(c, d, b) < 0.0


def at(thing: boxes.Thing, right: float, out: float) -> Point:
    """Return a place in plan, from the left end of a thing's front."""
    (x, y, _) = thing.box
    return {
        "south": (x[0] + right, y[0] - out),
        "north": (x[1] - right, y[1] + out),
        "east": (x[1] + out, y[0] + right),
        "west": (x[0] - out, y[1] - right),
    }[thing.facing]


@dataclass(frozen=True)
class Leaf:
    """A leaf of gear: from where to where of the front, and how far it opens.

    One that stands at a right angle where something stops it ends there.
    """

    gear: boxes.Thing
    hinge: str
    span: tuple[float, float]
    angle: float
    end: float = math.inf

    @property
    def ends(self) -> tuple[Point, Point]:
        """Return its hinge and its edge in plan."""
        radius = min(self.span[1] - self.span[0], self.end)
        angle = math.radians(self.angle)
        along, ahead = radius * math.cos(angle), radius * math.sin(angle)
        foot, sign = (self.span[0], 1) if self.hinge == "left" else (self.span[1], -1)
        return at(self.gear, foot, 0.0), at(self.gear, foot + sign * along, ahead)


class Room:
    """A rectangular room with axis-parallel boxes in it, as points of a grid."""

    def __init__(
        self, scene: Plain, cell: float = 20.0, *, square: bool = False
    ) -> None:
        """Take a scene in the product's own format, in millimetres.

        Square: leaves stand at a right angle even where something stops them.
        """
        self.cell = cell
        room = scene["room"]
        self.size: tuple[float, float] = tuple(room["size"])
        self.rules = scene["rules"]
        measures = scene.get("measures", "either")
        self.step, self.wide = STEP[measures], WIDE[measures]
        self.high = HIGH[measures]
        plain = scene | {"room": room | {"walls": {}}}
        self.things = boxes.things(plain)
        self.items = {one.name: one for one in self.things if one.written}
        self.doors = [
            (one, boxes._item(_as_item(one), *self.size))  # noqa: SLF001
            for one in room["doors"]
            if one["height"] >= self.high
        ]
        self.rows = self._rows()
        self.leaves = [
            leaf
            for thing in self.items.values()
            for leaf in _leaves_of(thing, self.things)
        ]
        if square:
            self.leaves = [_squared(leaf, self.things) for leaf in self.leaves]
        low, far = -BEYOND - 2 * cell, BEYOND + 2 * cell
        self.x, self.y = np.meshgrid(
            np.arange(low, self.size[0] + far, cell) + cell / 2,
            np.arange(low, self.size[1] + far, cell) + cell / 2,
            indexing="ij",
        )
        self._away: dict[Piece, Numbers] = {}

    def _rows(self) -> dict[str, int]:
        """Number the fronts; those that touch in one plane have one number."""
        gear = [one for one in self.items.values() if "supply" in one.written]
        found = {one.name: number for number, one in enumerate(gear)}
        for _ in gear:
            for one in gear:
                for other in gear:
                    across, ahead, _up = boxes.seen(other.box, one)
                    if (
                        one.facing == other.facing
                        and abs(ahead[0] + other.written["size"][1]) <= 1.0
                        and boxes.overlap(across, (0.0, one.written["size"][0])) >= -1.0
                    ):
                        least = min(found[one.name], found[other.name])
                        found[one.name] = found[other.name] = least
        return found

    @cached_property
    def standing(self) -> list[Piece]:
        """Return what stands in the way of somebody of the full height."""
        found = []
        for one in self.items.values():
            low, high = one.box[2]
            if min(high, self.high) - max(low, self.step) > boxes.CONTACT:
                (x0, x1), (y0, y1), _ = one.box
                corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
                found.append(Piece(corners, "box"))
        return found

    @cached_property
    def hung(self) -> list[Piece]:
        """Return the open leaves that somebody of the full height meets."""
        found = []
        for leaf in self.leaves:
            low, high = leaf.gear.box[2]
            if min(high, self.high) - max(low, self.step) > boxes.CONTACT:
                out = boxes.OUT[leaf.gear.facing]
                row = self.rows.get(leaf.gear.name, -1)
                found.append(Piece(leaf.ends, "leaf", row, out))
        return found

    def exits(self, *, opened: bool) -> list[tuple[list[Piece], Cells, Cells]]:
        """Return each way to leave: what its walls are, the floor beyond, outside.

        Args:
            opened: Equipment leaves stand open, and may stop a door's own leaf.
        """
        found = []
        out = [
            (door, *_clear_part(written, float(written.get("opens_to", 90.0))))
            for written, door in self.doors
            if written["opens"] == "out"
        ]
        if out:
            found.append(self._shell(out, []))
        for written, door in self.doors:
            if written["opens"] == "out":
                continue
            most = self._door_angle(written, door, opened=opened)
            for angle in sorted({min(angle, most) for angle in ANGLES}):
                leaf = Piece(_own_leaf(written, door, angle), "own")
                part = _clear_part(written, angle)
                found.append(self._shell([(door, *part)], [leaf]))
        return found

    def _door_angle(self, written: Plain, door: boxes.Thing, *, opened: bool) -> float:
        wide, hinge = written["width"], written["hinge"]
        thing = boxes.Thing("", "door", door.box, door.facing, door.written)
        beside = [one for one in self.things if one.kind not in {"wall", "ceiling"}]
        most = boxes.swing(thing, beside, hinge, (0.0, wide))
        most = min(most, float(written.get("opens_to", 90.0)))
        for leaf in self.hung if opened else []:
            (ax, ay), (bx, by) = leaf.corners
            for t in np.linspace(0.0, 1.0, 201).tolist():
                x, y = ax + t * (bx - ax), ay + t * (by - ay)
                (u, _), (v, _), _ = boxes.seen(((x, x), (y, y), (0, 1)), door)
                u = u if hinge == "left" else wide - u
                if v > boxes.CONTACT and math.hypot(u, v) < wide - boxes.CONTACT:
                    most = min(most, math.degrees(math.atan2(v, u)))
        return most

    def _shell(
        self, openings: list[tuple[boxes.Thing, float, float]], own: list[Piece]
    ) -> tuple[list[Piece], Cells, Cells]:
        east, north = self.size
        walls: list[Piece] = list(own)
        beyond = np.zeros(self.x.shape, dtype=bool)
        outside = np.zeros(self.x.shape, dtype=bool)
        corners = {
            "south": ((0.0, north), (east, north)),
            "north": ((east, 0.0), (0.0, 0.0)),
            "east": ((0.0, 0.0), (0.0, north)),
            "west": ((east, north), (east, 0.0)),
        }
        for facing, (start, end) in corners.items():
            here = [one for one in openings if one[0].facing == facing]
            cuts = sorted(
                (_along(door) + left, _along(door) + right)
                for door, left, right in here
            )
            length = math.dist(start, end)
            last = 0.0
            for low, high in [*cuts, (length, length)]:
                if low - last > boxes.CONTACT:
                    walls.append(Piece(_between(start, end, last, low), "wall"))
                last = max(last, high)
            for door, left, right in here:
                far = BEYOND + 4 * self.cell
                for side in (left, right):
                    ends = at(door, side, 0.0), at(door, side, -far)
                    walls.append(Piece(ends, "wall"))
                one, other = at(door, left, self.cell), at(door, right, -far)
                x0, x1 = sorted((one[0], other[0]))
                y0, y1 = sorted((one[1], other[1]))
                inside = (self.x > x0) & (self.x < x1) & (self.y > y0) & (self.y < y1)
                beyond |= inside
                mid = at(door, left, -BEYOND)
                x, y = boxes.OUT[facing]
                outside |= inside & ((self.x - mid[0]) * x + (self.y - mid[1]) * y < 0)
        return walls, beyond, outside

    def away(self, piece: Piece) -> Numbers:
        """Return how far every point of the grid is from a piece."""
        if piece not in self._away:
            self._away[piece] = piece.away(self.x, self.y).astype(np.float32)
        return self._away[piece]

    def leads_out(self, *, opened: bool, keep: bool = False) -> tuple[Cells, Cells]:
        """Return who comes out through no gap that is too narrow; and the doubtful.

        Those stand just beside such a gap, on one side of it or the other.

        Args:
            opened: Equipment leaves stand open.
            keep: Pockets beside leaves count as gaps too.
        """
        found = np.zeros(self.x.shape, dtype=bool)
        doubtful = np.ones(self.x.shape, dtype=bool)
        bodies = [*self.standing, *(self.hung if opened else [])]
        fixed = np.ones(self.x.shape, dtype=bool)
        for body in bodies:
            fixed &= self.away(body) > (0.0 if body.kind == "box" else 0.75 * self.cell)
        inner, within = self._gaps(bodies, [], keep=keep)
        for walls, beyond, outside in self.exits(opened=opened):
            free = (self._floor | beyond) & fixed
            for wall in walls:
                if wall.kind == "own":
                    free &= self.away(wall) > 0.75 * self.cell
            outer, between = self._gaps(bodies, walls, keep=keep)
            gaps = inner | outer
            places, _ = scipy.ndimage.label(free & ~gaps)
            out = np.unique(places[outside & (places > 0)])
            found |= np.isin(places, out) & (places > 0)
            doubtful &= gaps & ~within & ~between
        return found, doubtful

    def _gaps(
        self, bodies: list[Piece], walls: list[Piece], *, keep: bool
    ) -> tuple[Cells, Cells]:
        """Return the points near gaps between bodies, or between them and walls.

        And those that are within such a gap for certain: in the strip between two
        sides, say.
        """
        near = np.zeros(self.x.shape, dtype=bool)
        within = near.copy()
        pairs = (
            [(a, b) for n, a in enumerate(walls) for b in (*walls[n + 1 :], *bodies)]
            if walls
            else [(a, b) for n, a in enumerate(bodies) for b in bodies[n + 1 :]]
        )
        for one, other in pairs:
            away, lines = gap(one, other)
            if not boxes.CONTACT < away < self.wide - 2 * boxes.CONTACT:
                continue
            if not keep and self._is_pocket(one, other, lines[0], walls):
                continue
            if any(not _is_taken(line, [*bodies, *walls]) for line in lines):
                both = self.away(one) + self.away(other)
                near |= both <= away + 1.5 * self.cell
                within |= both <= away + WITHIN
        return near, within

    def _is_pocket(
        self, one: Piece, other: Piece, line: tuple[Point, Point], walls: list[Piece]
    ) -> bool:
        if one.kind == other.kind == "leaf":
            return one.out == other.out
        if "leaf" not in {one.kind, other.kind}:
            return False
        leaf, beside = (one, other) if one.kind == "leaf" else (other, one)
        x, y = leaf.out
        (ax, ay), (bx, by) = line
        if abs((bx - ax) * x + (by - ay) * y) > ALONG * math.dist(*line):
            return False
        foot = leaf.corners[0]
        pieces = self._cluster(beside)
        if beside.kind == "wall":
            # A door's jamb is the end of a wall.
            pieces = [one for one in walls if _meet(one, beside)]
        corners = [c for piece in pieces for c in piece.corners]
        least = min((a - foot[0]) * x + (b - foot[1]) * y for a, b in corners)
        return least <= boxes.CONTACT

    def _cluster(self, piece: Piece) -> list[Piece]:
        """Return what a piece hangs together with; a wall is by itself."""
        if piece.kind != "box":
            return [piece]
        found, left = [piece], [one for one in self.standing if one is not piece]
        for one in found:
            near = [two for two in left if gap(one, two)[0] <= boxes.CONTACT]
            found.extend(near)
            left = [two for two in left if two not in near]
        return found

    def before(self, gear: boxes.Thing) -> list[tuple[float, Point]]:
        """Return the places right before a front, with how far along it they are."""
        wide = gear.written["size"][0]
        return [
            (along, at(gear, along, self.cell))
            for along in np.arange(self.cell, wide - self.cell / 2, self.cell).tolist()
        ]

    def cell_of(self, point: Point) -> tuple[int, int]:
        """Return the point of the grid that is nearest to a place."""
        x = round((point[0] - self.x[0, 0]) / self.cell)
        y = round((point[1] - self.y[0, 0]) / self.cell)
        return x, y

    def is_free(self, cell: tuple[int, int]) -> bool:
        """Tell whether nothing stands at a point of the grid, nor an open leaf."""
        return bool(self._floor[cell]) and all(
            self.away(one)[cell] > (0.0 if one.kind == "box" else 0.75 * self.cell)
            for one in (*self.standing, *self.hung)
        )

    def counts_leaves(self, gear: boxes.Thing) -> bool:
        """Tell whether open leaves count: NEC 2020 for large gear, then for all."""
        amps, wide = gear.written["supply"]["amps"], gear.written["size"][0]
        large = amps >= LARGE[0] and wide > LARGE[1]
        return bool(self.rules != "nec-2020" or large)

    @cached_property
    def _floor(self) -> Cells:
        east, north = self.size
        inside: Cells = (self.x > 0) & (self.x < east) & (self.y > 0) & (self.y < north)
        return inside

    @cached_property
    def shut(self) -> Cells:
        """Who comes out with all leaves shut."""
        return self.leads_out(opened=False)[0]

    @cached_property
    def opened(self) -> Cells:
        """Who comes out with all leaves open; pockets are no narrow places."""
        return self.leads_out(opened=True)[0]

    @cached_property
    def doubtful(self) -> Cells:
        """Who stands just beside a gap that is too narrow with all leaves open."""
        return self.leads_out(opened=True)[1]

    @cached_property
    def roomy(self) -> Cells:
        """Where somebody of the full width has room with all leaves open, for sure."""
        room = self._floor.copy()
        for one in (*self.standing, *self.hung):
            room &= self.away(one) >= self.wide / 2
        for x, far in ((self.x, self.size[0]), (self.y, self.size[1])):
            room &= (x >= self.wide / 2) & (x <= far - self.wide / 2)
        return room

    @cached_property
    def roomy_out(self) -> Cells:
        """Who comes out with all leaves open where pockets are narrow places too."""
        found, doubtful = self.leads_out(opened=True, keep=True)
        return found | doubtful

    def space(self, gear: boxes.Thing, place: float, wide: float, deep: float) -> Cells:
        """Return the points of a working space that hang together with the front."""
        one, other = at(gear, place, 0.0), at(gear, place + wide, deep)
        x0, x1 = sorted((one[0], other[0]))
        y0, y1 = sorted((one[1], other[1]))
        free = (self.x > x0) & (self.x < x1) & (self.y > y0) & (self.y < y1)
        free &= self._floor
        for body in self.standing:
            free &= self.away(body) > 0
        places, count = scipy.ndimage.label(free)
        x, y = boxes.OUT[gear.facing]
        ahead = (self.x - one[0]) * x + (self.y - one[1]) * y
        first = [float(ahead[places == n].min()) for n in range(1, count + 1)]
        least = min(first, default=0.0)
        near = [n + 1 for n, value in enumerate(first) if value <= least + 1.0]
        return np.isin(places, near)

    def stands(self, area: Cells, *, slack: float) -> bool:
        """Tell whether somebody of the full width stands in an area and comes out."""
        for walls, beyond, outside in self.exits(opened=False):
            clear = self._floor | beyond
            for body in [*self.standing, *walls]:
                clear &= self.away(body) >= self.wide / 2 - slack
            places, _ = scipy.ndimage.label(clear, structure=np.ones((3, 3)))
            out = np.unique(places[outside & (places > 0)])
            if np.isin(places[area & (places > 0)], out).any():
                return True
        return False


def _meet(one: Piece, other: Piece) -> bool:
    return any(
        math.dist(a, b) <= boxes.CONTACT for a in one.corners for b in other.corners
    )


def _is_taken(line: tuple[Point, Point], pieces: list[Piece]) -> bool:
    """Tell whether anything stands nearer to the middle of a gap than its two sides.

    Then it is no narrow place of its own: who comes through there is already between
    that thing and one of the sides.
    """
    (ax, ay), (bx, by) = line
    x, y = np.array((ax + bx) / 2), np.array((ay + by) / 2)
    radius = math.dist(*line) / 2 - boxes.CONTACT
    return any(float(one.away(x, y)) < radius for one in pieces)


def _between(start: Point, end: Point, low: float, high: float) -> tuple[Point, Point]:
    length = math.dist(start, end)
    x, y = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    return (
        (start[0] + low * x, start[1] + low * y),
        (start[0] + high * x, start[1] + high * y),
    )


def _along(door: boxes.Thing) -> float:
    return float(door.written["place"]["along"])


def _clear_part(door: Plain, angle: float) -> tuple[float, float]:
    """Return what a door's leaf leaves of its opening, from its left end."""
    wide = float(door["width"])
    clear = wide * math.sin(math.radians(min(angle, 90.0)))
    return (wide - clear, wide) if door.get("hinge") == "left" else (0.0, clear)


def _as_item(door: Plain) -> Plain:
    return {
        "id": door["id"],
        "kind": "door",
        "size": [door["width"], 0, door["height"]],
        "place": {"wall": door["wall"], "along": door["along"]},
    }


def _own_leaf(written: Plain, door: boxes.Thing, angle: float) -> tuple[Point, Point]:
    wide = float(written["width"])
    along = wide * math.cos(math.radians(angle))
    ahead = wide * math.sin(math.radians(angle))
    if written["hinge"] == "left":
        return at(door, 0.0, 0.0), at(door, along, ahead)
    return at(door, wide, 0.0), at(door, wide - along, ahead)


def _leaves_of(thing: boxes.Thing, room: list[boxes.Thing]) -> list[Leaf]:
    wide = thing.written["size"][0]
    spans = {
        "left": [("left", (0.0, wide))],
        "right": [("right", (0.0, wide))],
        "pair": [("left", (0.0, wide / 2)), ("right", (wide / 2, wide))],
    }.get(thing.written.get("door", ""), [])
    spans += [
        (one["hinge"], (one["offset"], one["offset"] + one["width"]))
        for one in thing.written.get("doors", [])
    ]
    return [
        Leaf(thing, hinge, span, boxes.swing(thing, room, hinge, span))
        for hinge, span in spans
    ]


def _squared(leaf: Leaf, room: list[boxes.Thing]) -> Leaf:
    """Return a leaf at a right angle, as far as nothing is straight ahead."""
    if leaf.angle >= ANGLES[0]:
        return leaf
    foot = leaf.span[0] if leaf.hinge == "left" else leaf.span[1]
    side = 1.0 if leaf.hinge == "left" else -1.0
    end = math.inf
    for thing in room:
        across, ahead, up = boxes.seen(thing.box, leaf.gear)
        low, high = sorted(side * (one - foot) for one in across)
        meets = boxes.overlap(up, leaf.gear.box[2]) > boxes.CONTACT
        is_ahead = low <= boxes.CONTACT < high and ahead[1] > boxes.CONTACT
        if thing is not leaf.gear and meets and is_ahead:
            end = min(end, max(ahead[0], 0.0))
    return leaf if end <= NO_PASSAGE else replace(leaf, angle=ANGLES[0], end=end)


@dataclass(frozen=True)
class Found:
    """What the second method says of one item's way out.

    Attributes:
        leaves: Somebody of the full size stands in the working space and comes out,
            with all leaves shut; None where the grid is too coarse to tell.
        taken: Places before the front that had a way of that width, which open leaves
            take.
        narrow: Places before a leaf that have none, whether leaves are open or shut.
    """

    leaves: bool | None
    taken: tuple[Point, ...]
    narrow: tuple[Point, ...]

    def and_(self, other: Found) -> Found:
        """Return what is found where the leaves may stand in either way."""
        taken, narrow = self.taken + other.taken, self.narrow + other.narrow
        return replace(self, taken=taken, narrow=narrow)

    @property
    def verdicts(self) -> set[str]:
        """Return the verdicts that are right.

        Where nobody of the full size comes out smaller ways decide, which are not
        looked for here.
        """
        if not self.leaves:
            every = {"met", "open", "not-met"}
            return every if self.leaves is None else every - {"met"}
        return {"not-met" if self.taken else "open" if self.narrow else "met"}


def judged(room: Room, name: str, space: Plain) -> Found:
    """Judge the way out of one item.

    Args:
        room: The room.
        name: Of the item.
        space: Where its working space was tested: ``place``, ``width``, ``depth``.
    """
    gear = room.items[name]
    area = room.space(gear, space["place"], space["width"], space["depth"])
    sure = room.stands(area, slack=0.0)
    leaves = sure if sure == room.stands(area, slack=0.75 * room.cell) else None
    if not leaves or not room.counts_leaves(gear):
        return Found(leaves, (), ())
    taken: list[Point] = []
    narrow: list[Point] = []
    row = [
        one for one in room.items.values() if room.rows.get(one.name) == room.rows[name]
    ]
    for one in row:
        spans = [
            leaf.span for leaf in room.leaves if leaf.gear is one and leaf.angle > AJAR
        ]
        run: list[Point] = []
        for along, point in room.before(one):
            cell = room.cell_of(point)
            is_asked = any(low < along < high for low, high in spans)
            leaves_by = room.opened[cell] or room.doubtful[cell]
            is_asked = is_asked and room.is_free(cell) and not leaves_by
            if is_asked and not room.shut[cell]:
                run.append(point)
                continue
            narrow += run if len(run) * room.cell >= HAND else []
            run = []
            if is_asked:
                taken.append(point)
        narrow += run if len(run) * room.cell >= HAND else []
        ahead = room.space(one, 0.0, one.written["size"][0], space["depth"])
        lost = ahead & room.shut & room.roomy & ~room.roomy_out
        taken += [
            (float(room.x[c]), float(room.y[c]))
            for c in zip(*np.nonzero(lost), strict=True)
        ]
    return Found(leaves, tuple(taken), tuple(narrow))
