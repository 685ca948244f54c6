"""Judge a room of upright boxes a second time, by interval arithmetic alone.

Written from requirements.md and rules.md, in whole millimetres, without any of the
engine: a box is three intervals, a place is tried at every millimetre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

Plain = dict[str, Any]
Interval = tuple[float, float]
Intervals = tuple[Interval, Interval, Interval]

CONTACT: Final = 0.1
"""Millimetres; requirements.md: an intersection thinner than that is none."""
FAR: Final = 1e9
THICK: Final = 4000
GEAR: Final = {"panelboard", "switchboard", "disconnect", "transformer", "ups"}
PARTS: Final = {"wireway", "pull-box", "cable-tray", "conduit", "meter"}
FOREIGN: Final = {
    *("pipe", "duct", "shelf", "storage", "furniture", "machine", "leak-guard"),
}
STRUCTURE: Final = {"column", "beam", "wall", "platform", "ceiling"}
GROUNDED: Final = {*GEAR, *PARTS, "pipe", "duct", "machine", "column", "beam"}
UNKNOWN: Final = {"wall", "obstacle"}
MASONRY: Final = {"concrete", "brick", "tile", "metal"}
ZONES: Final = {"panelboard", "switchboard"}
OUT: Final = {"north": (0, 1), "east": (1, 0), "south": (0, -1), "west": (-1, 0)}
OPPOSITE: Final = {"north": "south", "south": "north", "east": "west", "west": "east"}


@dataclass(frozen=True)
class Thing:
    """A box of the room.

    Attributes:
        name: Its id.
        kind: Its kind; "floor" and "ceiling" for the room's own.
        box: x, y and z.
        facing: Where its front points.
        written: As the scene has it.
        grounded: None where nothing tells.
    """

    name: str
    kind: str
    box: Intervals
    facing: str = "south"
    written: Plain = field(default_factory=dict)
    grounded: bool | None = False

    @property
    def associated(self) -> bool:
        """Whether it belongs to the installation."""
        own = self.written.get("associated")
        return self.kind in GEAR | PARTS if own is None else bool(own)

    @property
    def foreign(self) -> bool | None:
        """Whether it does not; None where nothing tells."""
        if "associated" in self.written:
            return self.kind in FOREIGN and not self.associated
        return None if self.kind == "obstacle" else self.kind in FOREIGN


def things(scene: Plain) -> list[Thing]:
    """Return everything in a room: items, walls, ceiling."""
    room = scene["room"]
    (x, y), height = room["size"], room["height"]
    found = [_item(item, x, y) for item in scene["items"]]
    up = (-THICK, height + THICK)
    plans: dict[str, tuple[Interval, Interval]] = {
        "north": ((-THICK, x + THICK), (y, y + THICK)),
        "south": ((-THICK, x + THICK), (-THICK, 0)),
        "east": ((x, x + THICK), (0, y)),
        "west": ((-THICK, 0), (0, y)),
    }
    for side, (across, along) in plans.items():
        word = room.get("walls", {}).get(side)
        grounded = None if word is None else word in MASONRY
        box = (across, along, up)
        found.append(Thing(f"wall-{side}", "wall", box, side, {}, grounded))
    above = ((-THICK, x + THICK), (-THICK, y + THICK), (height, height + THICK))
    found.append(Thing("ceiling", "ceiling", above))
    return found


def _item(item: Plain, x: float, y: float) -> Thing:
    width, depth, height = item["size"]
    place = item["place"]
    bottom = place.get("bottom", 0)
    if "at" in place:
        facing = place.get("facing", "south")
        (mx, my) = place["at"]
        wide, deep = (width, depth)[:: -1 if facing in {"east", "west"} else 1]
        plan = ((mx - wide / 2, mx + wide / 2), (my - deep / 2, my + deep / 2))
    else:
        facing = OPPOSITE[place["wall"]]
        left, gap = place["along"], place.get("gap", 0)
        near, far = gap, gap + depth
        plan = {
            "north": ((left, left + width), (y - far, y - near)),
            "south": ((x - left - width, x - left), (near, far)),
            "east": ((x - far, x - near), (y - left - width, y - left)),
            "west": ((near, far), (left, left + width)),
        }[place["wall"]]
    grounded = item.get("grounded")
    if grounded is None:
        kind = item["kind"]
        grounded = None if kind in UNKNOWN else kind in GROUNDED
    box = (*plan, (bottom, bottom + height))
    return Thing(item["id"], item["kind"], box, facing, item, grounded)


def seen(box: Intervals, gear: Thing) -> Intervals:
    """Return a box as right, out of the front, and up, from the front's left end."""
    (gx, gy, _), (xs, ys, zs) = gear.box, box
    match gear.facing:
        case "south":
            return (xs[0] - gx[0], xs[1] - gx[0]), (gy[0] - ys[1], gy[0] - ys[0]), zs
        case "north":
            return (gx[1] - xs[1], gx[1] - xs[0]), (ys[0] - gy[1], ys[1] - gy[1]), zs
        case "east":
            return (ys[0] - gy[0], ys[1] - gy[0]), (xs[0] - gx[1], xs[1] - gx[1]), zs
        case _:
            return (gy[1] - ys[1], gy[1] - ys[0]), (gx[0] - xs[1], gx[0] - xs[0]), zs


def overlap(one: Interval, other: Interval) -> float:
    return min(one[1], other[1]) - max(one[0], other[0])


@dataclass(frozen=True)
class Blocker:
    """What a thing blocks of one item's working space.

    Attributes:
        thing: Which one.
        across, ahead, up: Where it is, seen from the front.
        sure: From where to where it must keep out.
        worst: The same if what is not said is the worse.
        condition: Of the depth table, that it makes where it is opposite.
    """

    thing: Thing
    across: Interval
    ahead: Interval
    up: Interval
    sure: Interval
    worst: Interval
    condition: int

    def counts(self, up: Interval, *, worst: bool) -> bool:
        """Tell whether it is in the way of a space that is as wide as the room."""
        part = self.worst if worst else self.sure
        return overlap(self.up, up) > CONTACT and overlap(self.ahead, part) > CONTACT

    @property
    def stands_out(self) -> bool:
        """Whether it comes from the item's own wall, above or below the item."""
        return self.sure[0] > 0 and self.ahead[0] < self.sure[0] - CONTACT

    @property
    def distance(self) -> float:
        """How far ahead it begins."""
        return max(self.ahead[0], self.sure[0], 0.0)

    @property
    def may_close(self) -> bool:
        """Whether it is structure or gear, which end the view where they close it."""
        return self.thing.kind in STRUCTURE | GEAR | PARTS or self.thing.kind == "wall"


@dataclass(frozen=True)
class Answer:
    """What the second method says of one working space.

    Attributes:
        verdict: met, not-met or open.
        places: Every place, in millimetres, that would do best.
        width, height, depths: As required; depth by condition.
        reach: How far what is above or below may reach.
        floor: Height of the floor in front.
        blockers: Everything that may be in the way.
        let_be: Structure overhead, as low as it is, in a dwelling.
    """

    verdict: str
    places: list[float]
    width: float
    height: float
    depths: tuple[float, float, float]
    reach: float
    floor: float
    blockers: list[Blocker]
    let_be: list[Blocker]

    @property
    def up(self) -> Interval:
        """From the floor in front to the top of the space."""
        return self.floor, self.floor + self.height

    def face(self, place: float) -> Interval:
        """Return the width of the space at a place."""
        return place, place + self.width

    def opposite(self, place: float) -> list[Blocker]:
        """Return what is seen from the face, until structure or gear closes it."""
        face = self.face(place)
        ahead = sorted(
            (
                one
                for one in self.blockers
                if overlap(one.across, face) > CONTACT
                and overlap(one.up, self.up) > CONTACT
                and overlap(one.ahead, (one.sure[0], FAR)) > CONTACT
                and not one.stands_out
                and max(one.sure[1], one.worst[1]) > one.sure[0]
            ),
            key=lambda one: one.distance,
        )
        closing: list[Blocker] = []
        for number, one in enumerate(ahead):
            if one.may_close:
                closing.append(one)
                if _is_hidden(closing, face, self.up):
                    near = one.distance + CONTACT
                    more = (two for two in ahead[number:] if two.distance <= near)
                    return [*ahead[:number], *more]
        return ahead

    def hits(self, place: float, *, worst: bool = True) -> list[Blocker]:
        """Return everything in the way at a place."""
        found = [
            one
            for one in self.blockers
            if overlap(one.across, self.face(place)) > CONTACT
            and one.counts(self.up, worst=worst)
        ]
        if not any(one.distance > 0 for one in found):
            return found
        seen = {one.thing.name for one in self.opposite(place)}
        return [one for one in found if one.stands_out or one.thing.name in seen]

    def missing(self, place: float) -> float:
        """Return the least gain of depth or of height that would clear a place."""
        hits = self.hits(place, worst=False)
        deep = [one.sure[1] - one.distance for one in hits]
        high = [self.up[1] - max(one.up[0], self.up[0]) for one in hits]
        return min(max(deep, default=0.0), max(high, default=0.0))

    def told(self, place: float) -> tuple[int, float]:
        """Return the condition that leaves least over, and what is nearest of it."""
        left = [
            (round(one.distance - self.depths[one.condition - 1], 6), -one.condition)
            for one in self.opposite(place)
        ]
        if not left:
            return 1, FAR
        condition = -min(left)[1]
        return condition, min(
            one.distance for one in self.opposite(place) if one.condition >= condition
        )


def _is_hidden(closing: list[Blocker], face: Interval, up: Interval) -> bool:
    """Tell whether rectangles hide a face, looked at between all their edges."""
    xs = sorted({*face, *(x for one in closing for x in one.across)})
    zs = sorted({*up, *(z for one in closing for z in one.up)})
    return all(
        any(
            one.across[0] <= (x + y) / 2 <= one.across[1]
            and one.up[0] <= (z + t) / 2 <= one.up[1]
            for one in closing
        )
        for x, y in pairwise(xs)
        for z, t in pairwise(zs)
        if x >= face[0] and y <= face[1] and y - x > CONTACT
        if z >= up[0] and t <= up[1] and t - z > CONTACT
    )


def volts(gear: Thing) -> float | None:
    supply = gear.written.get("supply")
    if supply is None:
        return None
    if "to_ground" in supply:
        return float(supply["to_ground"])
    return {"208Y/120": 120, "480Y/277": 277, "480 delta": 480, "48 dc": 48}.get(
        supply["system"], 120
    )


def judge(gear: Thing, room: list[Thing], scene: Plain, *, either: bool) -> Answer:
    """Judge one working space by the SI figures, or by the lesser of either system."""
    voltage = volts(gear)
    depths, width, height, reach = _figures(voltage, either=either)
    (left, right), top = _across(gear), gear.box[2][1]
    own = right - left
    width = max(width, own)
    stated = gear.written.get("condition")
    floor = _floor(gear, room, own, depths[0])
    tall = height if voltage and voltage > 1000 else max(height, top - floor)
    kept = (depths[stated - 1],) * 3 if stated else depths
    space = Space(gear, kept, width, tall, reach, floor)
    blockers = [
        blocker
        for thing in room
        if thing is not gear
        for blocker in _blockers(thing, space, room, scene)
    ]
    let_be = [one for one in blockers if _is_let_be(one.thing, space, scene)]
    blockers = [one for one in blockers if one not in let_be]
    answer = Answer("", [], width, tall, depths, reach, floor, blockers, let_be)
    free, unsure = _places(answer, own)
    if free:
        verdict = "open" if voltage is None else "met"
        whole = [place for place in free if not drops(gear, answer, place, room)]
        if space.is_high_voltage and not whole:
            # 110.26(A)(6) speaks of the floor up to 1000 V only.
            verdict = "open"
        free = whole or free
    elif unsure:
        verdict = "open"
    else:
        # 48 V dc may have a smaller space by special permission (60 V dc).
        verdict = "open" if voltage == 48 else "not-met"
    return replace(answer, verdict=verdict, places=free or unsure)


@dataclass(frozen=True)
class Space:
    """What is asked for in front of some gear, in millimetres."""

    gear: Thing
    depths: tuple[float, float, float]
    width: float
    height: float
    reach: float
    floor: float

    @property
    def is_high_voltage(self) -> bool:
        """Whether 110.32 holds, which is believed to allow a reach."""
        return (volts(self.gear) or 0) > 1000


def _figures(
    voltage: float | None, *, either: bool
) -> tuple[tuple[float, float, float], float, float, float]:
    # By either measure the smaller figure of a limit counts: 6 1/2 ft is 1981.2.
    height, reach = (1981.2, 152.4) if either else (2000.0, 150.0)
    if voltage is None or voltage <= 150:
        return (900, 900, 900), 762, height, reach
    if voltage <= 600:
        return (900, 1000, 1200), 762, height, reach
    if voltage <= 1000:
        return (900, 1200, 1500), 762, height, reach
    # 110.34(A), first row; 110.32: 914 (3 ft is 914.4).
    return (900, 1200, 1500), 914, height, reach


def _across(gear: Thing) -> Interval:
    return seen(gear.box, gear)[0]


FOOTHOLD: Final = 200
"""Millimetres: nobody stands on less of a platform (common practice)."""


def _floor(gear: Thing, room: list[Thing], own: float, depth: float) -> float:
    tops = [0.0]
    for thing in room:
        across, ahead, (_, top) = seen(thing.box, gear)
        if (
            thing.kind == "platform"
            and top < gear.box[2][1]
            and top > 0
            and across[0] <= CONTACT
            and across[1] >= own - CONTACT
            and ahead[0] <= CONTACT
            and ahead[1] >= min(depth, FOOTHOLD) - CONTACT
            and thing.box[2][0] < gear.box[2][1]
        ):
            tops.append(top)
    return max(tops)


def drops(gear: Thing, answer: Answer, place: float, room: list[Thing]) -> bool:
    """Tell whether a raised floor ends anywhere in the space at a place."""
    if answer.floor == 0:
        return False
    condition = gear.written.get("condition") or answer.told(place)[0]
    depth = answer.depths[condition - 1]
    plans = [
        seen(one.box, gear)[:2]
        for one in room
        if one.kind == "platform" and one.box[2][1] == answer.floor
    ]
    xs = sorted({*answer.face(place), *(x for plan in plans for x in plan[0])})
    ys = sorted({0.0, depth, *(y for plan in plans for y in plan[1])})
    return any(
        not any(
            plan[0][0] <= (x + t) / 2 <= plan[0][1]
            and plan[1][0] <= (y + v) / 2 <= plan[1][1]
            for plan in plans
        )
        for x, t in pairwise(xs)
        for y, v in pairwise(ys)
        if x >= answer.face(place)[0] and t <= answer.face(place)[1]
        if y >= 0 and v <= depth and t - x > CONTACT and v - y > CONTACT
    )


def _blockers(
    thing: Thing, space: Space, room: list[Thing], scene: Plain
) -> Iterator[Blocker]:
    gear = space.gear
    low, high = thing.box[2]
    apart = low >= gear.box[2][1] or high <= gear.box[2][0]
    start = space.reach if thing.associated and apart else 0.0
    condition, sure, worst = _depth_of(thing, space, scene)
    low_voltage = not space.is_high_voltage
    if thing.kind == "meter" and low_voltage:
        return
    overhead = low > space.floor + CONTACT
    # The exceptions are those of 110.26, which holds up to 1000 V.
    dwelling = low_voltage and _is_excepted(gear, scene)
    hangs_low = low >= gear.box[2][1] and _is_low(space, room)
    if overhead and dwelling and (thing.kind in STRUCTURE or hangs_low):
        sure = start
    first = 0.0 if start and space.is_high_voltage else start
    yield Blocker(
        thing, *seen(thing.box, gear), (start, sure), (first, worst), condition
    )


def _is_let_be(thing: Thing, space: Space, scene: Plain) -> bool:
    """Tell whether how low it comes is excepted: structure over gear in a dwelling."""
    low, top = thing.box[2][0], space.gear.box[2][1]
    may_be = thing.kind in STRUCTURE and not space.is_high_voltage
    over = low > space.floor + CONTACT and low >= top
    return may_be and over and _is_excepted(space.gear, scene)


def _depth_of(thing: Thing, space: Space, scene: Plain) -> tuple[int, float, float]:
    """Return the condition a thing makes, its depth for certain and at worst."""
    one, two, three = space.depths
    if thing.kind in GEAR and _faces(thing, space.gear):
        keeps = not space.is_high_voltage and _may_keep_two(thing, space.gear, scene)
        return 3, (two if keeps else three), three
    if thing.grounded is None:
        return (2 if thing.kind == "wall" else 1), one, two
    return (2, two, two) if thing.grounded else (1, one, one)


def _faces(thing: Thing, gear: Thing) -> bool:
    if thing.facing != OPPOSITE[gear.facing]:
        return False
    # Its front is the near side, seen from the gear; the gear must be before it.
    return seen(thing.box, gear)[1][0] > CONTACT


def _may_keep_two(thing: Thing, gear: Thing, scene: Plain) -> bool:
    """Tell whether facing gear may keep condition 2, which is asked for at best.

    No random scene says written_procedures.
    """
    return scene["premises"] == "existing" and all(
        one.kind in ZONES and one.written.get("dead_front") is not False
        for one in (thing, gear)
    )


def _is_excepted(gear: Thing, scene: Plain) -> bool:
    small = gear.written.get("supply", {}).get("amps", FAR) <= 200
    right = gear.kind == "panelboard" or gear.written["service"]
    return scene["premises"] == "existing-dwelling" and small and right


def _is_low(space: Space, room: list[Thing]) -> bool:
    """Tell whether structure overhead is lower than the space, anywhere it may be."""
    own = _across(space.gear)[1]
    first, last = sorted((own - space.width, 0.0))
    whole = (
        (first, last + space.width),
        (0, max(space.depths)),
        (space.floor, space.floor + space.height),
    )
    return any(
        thing.kind in STRUCTURE
        and thing.box[2][0] > space.floor + CONTACT
        and all(
            overlap(one, other) > CONTACT
            for one, other in zip(seen(thing.box, space.gear), whole, strict=True)
        )
        for thing in room
    )


def _places(answer: Answer, own: float) -> tuple[list[float], list[float]]:
    """Return every place without intruders, and every one without sure intruders."""
    first, last = sorted((own - answer.width, 0.0))
    tried = [first + step for step in range(int(last - first) + 1)]
    tried.append((first + last) / 2)
    tried = [place for place in tried if _is_worth_a_try(place, tried, answer)]
    free = [place for place in tried if not answer.hits(place)]
    if free:
        return free, []
    return [], [place for place in tried if not answer.hits(place, worst=False)]


def _is_worth_a_try(place: float, tried: list[float], answer: Answer) -> bool:
    """Tell whether anything begins or ends within a millimetre of a side there."""
    if place in {tried[0], tried[-1], tried[-2]} or place % 20 == 0:
        return True
    face = answer.face(place)
    return any(
        abs(end - side) <= 1
        for one in answer.blockers
        for end in one.across
        for side in face
    )


def provided(gear: Thing, answer: Answer, place: float) -> Plain:
    """Return what the room gives, each size with the others at full."""
    condition, distance = answer.told(place)
    stated = gear.written.get("condition")
    if stated:
        distance = min((one.distance for one in answer.opposite(place)), default=FAR)
    depth = answer.depths[(stated or condition) - 1]
    hits = answer.hits(place)
    if hits and all(one.stands_out for one in hits):
        return {"reach": max(one.ahead[1] for one in hits)}
    near = [one for one in hits if one in answer.hits(place, worst=False)] + [
        one
        for one in hits
        if one not in answer.hits(place, worst=False)
        and max(one.ahead[0], one.worst[0]) < depth
    ]
    found = {"depth": distance, "width": _run(gear, answer, place, near, depth)}
    if hits and near:
        found["height"] = (
            min(max(one.up[0], answer.up[0]) for one in near) - answer.floor
        )
    elif not hits and any(
        one.counts(answer.up, worst=True)
        and overlap(one.across, answer.face(place)) > CONTACT
        for one in answer.let_be
    ):
        pass  # how high the space is, an exception lets be
    else:
        over = answer.blockers if hits else [*answer.blockers, *answer.let_be]
        found["height"] = _above(answer, over, place, depth) - answer.floor
    return {name: size for name, size in found.items() if CONTACT < size < FAR}


def _above(answer: Answer, over: list[Blocker], place: float, depth: float) -> float:
    """Return the height of the first of some things above the space."""
    return min(
        (
            max(one.up[0], answer.up[1])
            for one in over
            if overlap(one.across, answer.face(place)) > CONTACT
            and overlap(one.up, (answer.up[1], FAR)) > CONTACT
            and overlap(one.ahead, (one.worst[0], min(one.worst[1], depth))) > CONTACT
        ),
        default=FAR,
    )


def _run(
    gear: Thing, answer: Answer, place: float, near: list[Blocker], depth: float
) -> float:
    """Return the widest clear run at full depth that covers the item.

    Where none does, the widest one before its front.
    """
    own = gear.written["size"][0]
    cover = (0.0, own)
    before = [one.across for one in near if overlap(one.across, cover) > CONTACT]
    if before:
        ends = sorted({0.0, own, *(x for one in before for x in one if 0 < x < own)})
        widest = here = 0.0
        for a, b in pairwise(ends):
            taken = any(one[0] < (a + b) / 2 < one[1] for one in before)
            here = 0.0 if taken else here + b - a
            widest = max(widest, here)
        return widest
    seen_names = {one.thing.name for one in answer.opposite(place)}
    shut = [
        one.across
        for one in answer.blockers
        if overlap(one.up, answer.up) > CONTACT
        and overlap(one.ahead, (one.worst[0], min(one.worst[1], depth))) > CONTACT
        and (
            overlap(one.across, answer.face(place)) <= CONTACT
            or one.stands_out
            or one.thing.name in seen_names
        )
    ]
    left = max((one[1] for one in shut if one[1] <= CONTACT), default=-FAR)
    right = min((one[0] for one in shut if one[0] >= own - CONTACT), default=FAR)
    return min(right, FAR) - max(left, -FAR)


def swing(gear: Thing, room: list[Thing], hinge: str, leaf: Interval) -> float:
    """Return how far a leaf opens, in degrees; ``leaf`` is where it is on the front."""
    radius = leaf[1] - leaf[0]
    least = 90.0
    for thing in room:
        if thing is gear:
            continue
        across, ahead, up = seen(thing.box, gear)
        if hinge == "left":
            near, far = across[0] - leaf[0], across[1] - leaf[0]
        else:
            near, far = leaf[1] - across[1], leaf[1] - across[0]
        if overlap(up, gear.box[2]) > CONTACT:
            least = min(least, _stop((near, far), ahead, radius))
    return least


def _stop(across: Interval, ahead: Interval, radius: float) -> float:
    near, low = max(across[0], 0.0), max(ahead[0], 0.0)
    far, high = min(across[1], radius), min(ahead[1], radius)
    # Contact: what is thinner than the tolerance inside the square of the round, or
    # does not come that far inside the round.
    if far <= CONTACT or high <= CONTACT or far - near <= 0 or high - low <= 0:
        return 90.0
    if math.hypot(max(near, CONTACT), max(low, CONTACT)) >= radius - CONTACT:
        return 90.0
    corner = far if math.hypot(far, low) <= radius else math.sqrt(radius**2 - low**2)
    return min(math.degrees(math.atan2(low, corner)), 90.0)


def zone(gear: Thing, room: list[Thing], ceiling: float) -> str | None:
    """Return the verdict on the dedicated space, or None where there is none."""
    if (volts(gear) or 0) > 1000:
        return None
    if gear.kind not in ZONES and not gear.written["service"]:
        return None
    top = max(min(gear.box[2][1] + 1800, ceiling), gear.box[2][1])
    verdicts = {"met"}
    for thing in room:
        if thing is gear or any(
            overlap(one, other) <= CONTACT
            for one, other in zip(thing.box[:2], gear.box[:2], strict=True)
        ):
            continue
        inside = overlap(thing.box[2], (0, top)) > CONTACT
        above = overlap(thing.box[2], (top, ceiling)) > CONTACT
        if thing.foreign is None and (inside or above):
            verdicts.add("open")
        elif thing.foreign and inside:
            verdicts.add("not-met")
        elif thing.foreign and above and not thing.written.get("protected"):
            verdicts.add("open")
    return max(verdicts, key=("met", "open", "not-met").index)
