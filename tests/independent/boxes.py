"""Judge a room of upright boxes a second time, by interval arithmetic alone.

Written from requirements.md and rules.md, in whole millimetres, without any of the
engine: a box is three intervals, a place is tried at every millimetre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
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
        plan = ((mx - width / 2, mx + width / 2), (my - depth / 2, my + depth / 2))
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
        start, sure, worst: From where to where it must keep out; ``worst`` if what is
            not said is the worse.
        faces: It is live and faces the item.
    """

    thing: Thing
    across: Interval
    ahead: Interval
    up: Interval
    start: float
    sure: float
    worst: float
    faces: bool

    def counts(self, up: Interval, depth: float = FAR, *, worst: bool) -> bool:
        """Tell whether it is in the way of a space that is as wide as the room."""
        end = max(self.worst, self.sure) if worst else self.sure
        return (
            overlap(self.up, up) > CONTACT
            and overlap(self.ahead, (self.start, min(end, depth))) > CONTACT
        )


@dataclass(frozen=True)
class Answer:
    """What the second method says of one working space.

    Attributes:
        verdict: met, not-met or open.
        places: Every place, in millimetres, that would do best.
        width, height, depths: As required; depth by condition.
        floor: Height of the floor in front.
        blockers: Everything that may be in the way.
    """

    verdict: str
    places: list[float]
    width: float
    height: float
    depths: tuple[float, float, float]
    floor: float
    blockers: list[Blocker]

    @property
    def up(self) -> Interval:
        """From the floor in front to the top of the space."""
        return self.floor, self.floor + self.height

    def face(self, place: float) -> Interval:
        """Return the width of the space at a place."""
        return place, place + self.width

    def hits(self, place: float, *, worst: bool = True) -> list[Blocker]:
        """Return everything in the way at a place."""
        return [
            one
            for one in self.blockers
            if overlap(one.across, self.face(place)) > CONTACT
            and one.counts(self.up, worst=worst)
        ]


def volts(gear: Thing) -> float | None:
    supply = gear.written.get("supply")
    if supply is None:
        return None
    if "to_ground" in supply:
        return float(supply["to_ground"])
    return {"208Y/120": 120, "480Y/277": 277, "480 delta": 480, "48 dc": 48}.get(
        supply["system"], 120
    )


def judge(gear: Thing, room: list[Thing], scene: Plain) -> Answer:
    """Judge one working space."""
    voltage = volts(gear)
    either = scene["measures"] == "either"
    depths, width, height, reach = _figures(voltage, either=either)
    (left, right), top = _across(gear), gear.box[2][1]
    own = right - left
    width = max(width, own)
    stated = gear.written.get("condition")
    floor = _floor(gear, room, own, depths[0])
    tall = height if voltage and voltage > 1000 else max(height, top - floor)
    kept = (depths[stated - 1],) * 3 if stated else depths
    blockers = [
        blocker
        for thing in room
        if thing is not gear
        for blocker in _blockers(thing, gear, kept, reach, floor, scene)
    ]
    answer = Answer("", [], width, tall, depths, floor, blockers)
    free, unsure = _places(answer, own)
    if free:
        verdict = "open" if voltage is None else "met"
    elif unsure:
        verdict = "open"
    else:
        # 48 V dc may have a smaller space by special permission (60 V dc).
        verdict = "open" if voltage == 48 else "not-met"
    return Answer(verdict, free or unsure, width, tall, depths, floor, blockers)


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
    # 110.34(A), first row; 110.32: 914 (3 ft is 914.4), and no reach past the front.
    return (900, 1200, 1500), 914, height, 0.0


def _across(gear: Thing) -> Interval:
    return seen(gear.box, gear)[0]


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
            and ahead[1] >= depth - CONTACT
            and thing.box[2][0] < gear.box[2][1]
        ):
            tops.append(top)
    return max(tops)


def _blockers(
    thing: Thing,
    gear: Thing,
    depths: tuple[float, ...],
    reach: float,
    floor: float,
    scene: Plain,
) -> Iterator[Blocker]:
    if thing.kind == "meter":
        return
    low, high = thing.box[2]
    if thing.kind in STRUCTURE and low > floor + CONTACT and _is_excepted(gear, scene):
        return
    apart = low >= gear.box[2][1] or high <= gear.box[2][0]
    start = reach if thing.associated and apart else 0.0
    faces = thing.kind in GEAR and _faces(thing, gear)
    one, two, three = depths
    sure = worst = one
    if faces:
        sure = worst = three
        if _may_keep_two(thing, gear, scene):
            sure = two
    elif thing.grounded is None:
        worst = two
    elif thing.grounded:
        sure = worst = two
    yield Blocker(thing, *seen(thing.box, gear), start, sure, worst, faces)


def _faces(thing: Thing, gear: Thing) -> bool:
    if thing.facing != OPPOSITE[gear.facing]:
        return False
    # Its front is the near side, seen from the gear; the gear must be before it.
    return seen(thing.box, gear)[1][0] > CONTACT


def _may_keep_two(thing: Thing, gear: Thing, scene: Plain) -> bool:
    return scene["premises"] == "existing" and all(
        one.kind in ZONES and one.written.get("dead_front") is True
        for one in (thing, gear)
    )


def _is_excepted(gear: Thing, scene: Plain) -> bool:
    small = gear.written.get("supply", {}).get("amps", FAR) <= 200
    right = gear.kind == "panelboard" or gear.written["service"]
    return scene["premises"] == "existing-dwelling" and small and right


def _places(answer: Answer, own: float) -> tuple[list[float], list[float]]:
    """Return every place without intruders, and every one without sure intruders."""
    first, last = sorted((own - answer.width, 0.0))
    tried = [first + step for step in range(int(last - first) + 1)]
    tried.append((first + last) / 2)

    def free(*, worst: bool) -> list[float]:
        shut = [
            one.across for one in answer.blockers if one.counts(answer.up, worst=worst)
        ]
        return [
            place
            for place in tried
            if not any(overlap(one, answer.face(place)) > CONTACT for one in shut)
        ]

    return free(worst=True), free(worst=False)


def condition(gear: Thing, answer: Answer, place: float) -> int:
    """Return the condition that what is opposite makes, from one place."""
    stated = gear.written.get("condition")
    if stated:
        return int(stated)
    face = answer.face(place)
    opposite = [
        one
        for one in answer.blockers
        if overlap(one.across, face) > CONTACT
        and overlap(one.up, answer.up) > CONTACT
        and overlap(one.ahead, (one.start, FAR)) > CONTACT
        # What comes from the item's own wall, above or below it, is not opposite.
        and (one.start == 0 or one.ahead[0] > one.start + CONTACT)
    ]
    if any(one.faces for one in opposite):
        return 3
    is_ground = any(
        one.thing.grounded or (one.thing.kind == "wall" and one.thing.grounded is None)
        for one in opposite
    )
    return 2 if is_ground else 1


def provided(gear: Thing, answer: Answer, place: float, depth: float) -> Plain:
    """Return what the room gives, each size with the others at full."""
    up, sizes = answer.up, _run(gear, answer, place, depth)
    hits = answer.hits(place)
    if hits:
        ahead = min(max(one.ahead[0], one.start) for one in hits)
        above = min(max(one.up[0], up[0]) for one in hits) - answer.floor
        return {"depth": ahead, "height": above, **sizes}
    column = [
        one
        for one in answer.blockers
        if overlap(one.across, answer.face(place)) > CONTACT
    ]
    ahead = min(
        (
            max(one.ahead[0], one.start, depth)
            for one in column
            if overlap(one.up, up) > CONTACT
            and overlap(one.ahead, (max(one.start, depth), FAR)) > CONTACT
        ),
        default=FAR,
    )
    above = min(
        (
            max(one.up[0], up[1]) - answer.floor
            for one in column
            if one.counts((up[1], FAR), depth, worst=True)
        ),
        default=FAR,
    )
    found = {"depth": ahead, "height": above, **sizes}
    return {name: size for name, size in found.items() if size < FAR}


def _run(gear: Thing, answer: Answer, place: float, depth: float) -> Plain:
    """Return the widest clear run that still covers the item, at full depth."""
    own = gear.written["size"][0]
    cover = (0.0, own)
    if any(overlap(one.across, cover) > CONTACT for one in answer.hits(place)):
        return {"width": 0.0}
    shut = [
        one.across
        for one in answer.blockers
        if one.counts(answer.up, depth, worst=True)
    ]
    left = max((one[1] for one in shut if one[1] <= CONTACT), default=-FAR)
    right = min((one[0] for one in shut if one[0] >= own - CONTACT), default=FAR)
    return {"width": min(right, FAR) - max(left, -FAR)}


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
