"""How a personnel door hangs, how far its own leaf opens and what that leaves clear."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.geometry.frame import Frame
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.sweep import QUARTER, Sweep
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.leaf_stop import angle_of, stops_within
from model3d.wording.said import Named, in_degrees, joined, raised, say, thing

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.parts.room import RoomDoor

_HALVINGS: Final = 60
"""Times that an angle is halved: a right angle comes down to rounding."""

_STEP: Final = 5.0
"""Degrees. How far apart the angles are at which a leaf is held between."""

_THIN: Final = 1e-6
"""Metres. How thick a leaf is in plan, so that widths are those from face to face."""

_ROUNDING: Final = 1e-9
"""Metres, or degrees. What differs by less is the same."""


@dataclass(frozen=True, slots=True)
class RoomLeaf:
    """One leaf of a personnel door, as it hangs.

    Attributes:
        frame: Origin at the hinge; ``right`` along the shut leaf, ``out`` the way it
            opens.
        width: Metres.
        angle: How far it opens, degrees: as far as is said, a right angle where nothing
            is, or to what stops it sooner.
        stop: Id of what stops it; "" where nothing does.
    """

    frame: Frame
    width: float
    angle: float
    stop: str

    def clear(self, most: float) -> float:
        """Return the clear width where it is held at an angle, or as far as it goes."""
        angle = min(most, self.angle, QUARTER)
        return self.width * math.sin(math.radians(angle))

    def face(self, most: float) -> flat.LineString:
        """Return the side that a person passes, in plan."""
        return flat.LineString(self._corners(most)[:2])

    def plate(self, most: float, *, of_pair: bool = False) -> flat.Polygon:
        """Return it in plan, behind the face.

        The tip of a leaf that opens less than a right angle is nearer to the middle
        of its door than its clear width says. Where it is one of a pair it is drawn
        aside by that, so that what is between the two is what both leave clear.
        """
        angle = math.radians(min(self.angle, QUARTER))
        nearer = math.cos(angle) - 1.0 + math.sin(angle)
        shift = nearer * self.width if of_pair and most >= self.angle else 0.0
        return flat.Polygon(self._corners(most, -shift))

    def _corners(self, most: float, start: float = 0.0) -> list[tuple[float, float]]:
        angle = math.radians(min(most, self.angle))
        along, ahead = math.cos(angle), math.sin(angle)
        tip = start + self.width * along, self.width * ahead
        back = -_THIN * ahead, _THIN * along
        corners = (
            (start, 0.0),
            tip,
            (tip[0] + back[0], tip[1] + back[1]),
            (start + back[0], back[1]),
        )
        return [self.frame.to_plan(*corner) for corner in corners]


@dataclass(frozen=True, slots=True)
class Hanging:
    """One of the ways in which a personnel door may hang by what is said of it.

    Attributes:
        frame: Origin at the opening's left end, seen from inside; ``out`` points into
            the room.
        opens: Into the room or out of it: "in" or "out".
        hinge: "left", "right" or "pair", as seen from inside.
        width: Of the opening, metres.
        leaves: One, or two of a pair, the left one first.
    """

    frame: Frame
    opens: str
    hinge: str
    width: float
    leaves: tuple[RoomLeaf, ...]

    @property
    def clear(self) -> float:
        """Clear width with the leaf as far open as it goes, metres; of a pair both."""
        return sum(leaf.clear(QUARTER) for leaf in self.leaves)

    def held_clear(self, most: float) -> float:
        """Return the clear width with no leaf held open further than an angle, metres.

        Who holds the leaves of a pair goes between them: no more is clear than that.
        """
        total = sum(leaf.clear(most) for leaf in self.leaves)
        if len(self.leaves) == 1:
            return total
        one, other = (leaf.face(most) for leaf in self.leaves)
        return min(total, float(one.distance(other)))

    def stopped(self, door: str) -> str:
        """Tell what stops its leaves, and where."""
        told = [
            say(
                "{} stops {} of {} at {}",
                thing(leaf.stop),
                which,
                Named(door),
                in_degrees(f"{leaf.angle:.1f}"),
            )
            if leaf.stop
            else say(
                "{} of {} opens to {}",
                which,
                Named(door),
                in_degrees(f"{leaf.angle:g}"),
            )
            for leaf, which in zip(self.leaves, self._names, strict=True)
            if leaf.angle < QUARTER
        ]
        return raised(joined(" and ", told))

    @property
    def _names(self) -> tuple[str, ...]:
        one = len(self.leaves) == 1
        return ("the leaf",) if one else ("the left leaf", "the right leaf")

    @property
    def span(self) -> tuple[float, float]:
        """Between where the opening is clear, from its left end, metres."""
        clear = self.clear
        if self.hinge == "left":
            return self.width - clear, self.width
        if self.hinge == "right":
            return 0.0, clear
        left, right = (leaf.clear(QUARTER) for leaf in self.leaves)
        return self.width / 2 - left, self.width / 2 + right

    def plates(self, most: float) -> list[flat.Geometry]:
        """Return its leaves in plan with none open further than an angle, degrees."""
        of_pair = len(self.leaves) > 1
        return [leaf.plate(most, of_pair=of_pair) for leaf in self.leaves]

    def angles(self) -> tuple[float, ...]:
        """Return at which angles it may stand: a right angle, and as far as it goes.

        One that opens out stands in nobody's way.
        """
        widest = max(leaf.angle for leaf in self.leaves)
        if self.opens == "out" or widest <= QUARTER:
            return (QUARTER,)
        return QUARTER, widest

    def usual(self, width: float) -> tuple[float, ...]:
        """Return at which angles it is held first for a way of a width, metres.

        As it stands, and no further open than the way takes.
        """
        least = self.angle_for(width)
        return self.angles() if least is None else (*self.angles(), least)

    def between(self, width: float) -> tuple[float, ...]:
        """Return at which angles else it may be held for a way of a width, metres.

        What is beside the leaf may stand too near to it both at a right angle and where
        it is held no further open than that takes.
        """
        least = self.angle_for(width)
        if least is None:
            return ()
        most = min(QUARTER, max(leaf.angle for leaf in self.leaves))
        first, last = math.floor(least / _STEP) + 1, math.ceil(most / _STEP)
        return tuple(_STEP * step for step in reversed(range(first, last)))

    def angle_for(self, width: float) -> float | None:
        """Return the least angle that leaves a width clear; None where none does."""
        if self.opens == "out" or self.held_clear(QUARTER) < width:
            return None
        low, high = 0.0, QUARTER
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if self.held_clear(middle) < width:
                low = middle
            else:
                high = middle
        return high


def hangings(
    door: RoomDoor, frame: Frame, width: float, situation: Situation
) -> tuple[Hanging, ...]:
    """Return every way in which a door may hang, as far as nothing more is said.

    Ways that leave the same clear and stand in nobody's way are one.

    Args:
        door: As it is written.
        frame: Of the opening: its origin is the left end, seen from inside; ``out``
            points into the room.
        width: Of the opening, metres.
        situation: The room.
    """
    found: dict[object, Hanging] = {}
    for opens in (door.opens,) if door.opens else ("out", "in"):
        for hinge in (door.hinge,) if door.hinge else ("left", "right"):
            one = _hung(door, (opens, hinge), frame, width, situation)
            span = one.span if one.clear < width - _ROUNDING else (0.0, width)
            found.setdefault(span if opens == "out" else hinge, one)
    return tuple(found.values())


def _hung(
    door: RoomDoor,
    how: tuple[str, str],
    frame: Frame,
    width: float,
    situation: Situation,
) -> Hanging:
    opens, hinge = how
    x, y = frame.out
    ahead = (-x, -y) if opens == "out" else frame.out
    left = Frame(frame.x, frame.y, frame.right, ahead)
    hung = left, left.moved(width, 0.0).mirrored()
    wide = width / 2 if hinge == "pair" else width
    chosen = {"left": hung[:1], "right": hung[1:]}.get(hinge, hung)
    leaves = tuple(
        _leaf(door, one, wide, situation)
        if opens == "in"
        else RoomLeaf(one, wide, _most(door), "")
        for one in chosen
    )
    return Hanging(frame, opens, hinge, width, leaves)


def _most(door: RoomDoor) -> float:
    """Return how far a door opens by what is said, degrees."""
    return QUARTER if door.opens_to is None else float(door.opens_to)


def _leaf(door: RoomDoor, frame: Frame, width: float, situation: Situation) -> RoomLeaf:
    """Return a leaf that opens into the room, as far as it goes."""
    metres = situation.scene.metres
    sill, most = metres(door.sill), _most(door)
    top = sill + metres(door.height)
    bottom = max(sill, _floor_below(Sweep(frame, width, sill, top), situation))
    own = situation.arrangement.shell.line(door.wall).id
    # Beyond a right angle the leaf sweeps the quarter on the other side of its hinge.
    behind = Frame(frame.x, frame.y, frame.out, (-frame.right[0], -frame.right[1]))
    angle = 0.0
    for quarter in (frame, behind):
        sweep = Sweep(quarter, width, bottom, top)
        stops = stops_within(
            sweep, situation, lambda one: one.id == own or one.kind.hole
        )
        angle += angle_of(stops)
        if stops and angle < most:
            return RoomLeaf(frame, width, angle, stops[0][1].id)
        if stops or angle >= most:
            break
    return RoomLeaf(frame, width, min(angle, most), "")


def _floor_below(sweep: Sweep, situation: Situation) -> float:
    """Return the height of a platform that lies below all that a leaf sweeps, metres.

    Such a platform is the floor that the door was hung over; 0 where there is none.
    """
    far = sweep.radius
    corners = ((0.0, 0.0), (far, 0.0), (far, far), (0.0, far))
    reach = flat.Polygon([sweep.frame.to_plan(u, v) for u, v in corners])
    near = (situation.items[n] for n in situation.index.touching(*sweep.bounds))
    tops = [
        placed.top
        for placed in near
        if placed.kind.platform
        and placed.top < sweep.top
        and footprint(placed.solid, placed.bottom, placed.top)
        .buffer(TOUCH)
        .covers(reach)
    ]
    return max(tops, default=0.0)
