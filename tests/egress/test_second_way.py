"""Relations that must hold of the second way out, whatever the room.

Source: NEC 110.26(C)(2) as requirements.md reads it: more room never makes a verdict
worse, a mirrored room answers the same, and a board answers the same whether it is
drawn in one piece or in sections of one line-up. That a way is straight and outside the
working space is looked up a second time, in samples.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene
from model3d.check import situate
from model3d.egress.large.straight import Sight
from model3d.judging.systems import answers
from model3d.rules import second_entrance

if TYPE_CHECKING:
    from model3d.judging.results import Judgement

pytestmark = pytest.mark.many

Plain = dict[str, Any]
Box = tuple[int, int, int, int]

DEEP, DEPTH, WAY = 600, 900, 610
"""Of the board, of its working space and of the way, millimetres."""
WORST_FIRST = ("not-met", "open", "met")
TALL = 2150


@dataclass(frozen=True)
class Plan:
    """A room with a board at its north wall, in millimetres.

    Attributes:
        length, aisle: Of the room east to west, and from the front to the south wall.
        left, width: Of the board, from the west wall.
        doors: Wall, from which end of it (west or north), and width each.
        boxes: What stands about: from the west wall, ahead of the front, sizes.
        cuts: Where the board is cut into sections, from its left end.
    """

    length: int
    aisle: int
    left: int
    width: int
    doors: tuple[tuple[str, int, int], ...]
    boxes: tuple[Box, ...] = ()
    cuts: tuple[int, ...] = ()

    @property
    def mirrored(self) -> Plan:
        """The same with east and west exchanged."""
        other = {"east": "west", "west": "east"}
        doors = tuple(
            (other[wall], start, width)
            if wall in other
            else (wall, self.length - start - width, width)
            for wall, start, width in self.doors
        )
        boxes = tuple(
            (self.length - x - wide, v, wide, deep) for x, v, wide, deep in self.boxes
        )
        left = self.length - self.left - self.width
        cuts = tuple(sorted(self.width - cut for cut in self.cuts))
        return replace(self, left=left, doors=doors, boxes=boxes, cuts=cuts)

    def scene(self) -> Scene:
        """Return the scene."""
        size = [self.length, DEEP + self.aisle]
        shape = {"size": size, "height": 3000, "walls": "gypsum"}
        content = {
            "title": "Second way",
            "units": "mm",
            "rules": "nec-2023",
            "measures": "si",
            "room": shape | {"doors": [*map(self._door, enumerate(self.doors))]},
            "items": [*self._sections(), *map(self._box, enumerate(self.boxes))],
        }
        return Scene.model_validate(content)

    def _door(self, numbered: tuple[int, tuple[str, int, int]]) -> Plain:
        number, (wall, start, width) = numbered
        whole = {"south": self.length, "west": DEEP + self.aisle}.get(wall)
        along = start if whole is None else whole - start - width
        place = {"id": f"D{number}", "wall": wall, "along": along}
        return place | {"width": width, "height": 2100, "opens": "out"}

    def _sections(self) -> list[Plain]:
        edges = (0, *self.cuts, self.width)
        return [
            {
                "id": f"S{number}",
                "kind": "switchboard",
                "size": [end - start, DEEP, TALL],
                "place": {"wall": "north", "along": self.left + start},
                "supply": {"system": "480Y/277", "amps": 400 if number else 1600},
                "door": "bolted",
                "rear": "bolted",
                "line_up": "S",
            }
            for number, (start, end) in enumerate(pairwise(edges))
        ]

    def _box(self, numbered: tuple[int, Box]) -> Plain:
        number, (x, v, wide, deep) = numbered
        middle = [x + wide / 2, self.aisle - v - deep / 2]
        place = {"at": middle, "facing": "south"}
        size = [wide, deep, 2000]
        return {"id": f"B{number}", "kind": "furniture", "size": size, "place": place}


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Return a plan with one or two doors and up to two boxes in front of the board."""

    def number(low: int, high: int) -> int:
        return draw(st.integers(low // 50, high // 50)) * 50

    width, aisle = number(1900, 3500), number(900, 2600)
    left, right = number(0, 2500), number(0, 2500)
    length, walls = left + width + right, ["north", "south", "east", "west"]
    doors = []
    for wall in draw(st.lists(st.sampled_from(walls), min_size=1, max_size=2)):
        wide = number(600, 1000)
        whole = length if wall in {"north", "south"} else DEEP + aisle
        doors.append((wall, number(0, whole - wide), wide))
    boxes = []
    for _ in range(draw(st.integers(0, 2))):
        wide, deep = number(50, 600), number(50, 600)
        boxes.append((number(0, length - wide), number(0, aisle - deep), wide, deep))
    return Plan(length, aisle, left, width, tuple(doors), tuple(boxes))


def judged(plan: Plan) -> list[Judgement]:
    situation = situate(plan.scene())
    return [
        one
        for item in situation.live
        for one in answers(partial(second_entrance.claims, item), situation)
    ]


def verdict(plan: Plan) -> str:
    """Return the verdict that is told of every section."""
    (found,) = {one.verdict for one in judged(plan)}
    return found


@settings(max_examples=60)
@given(plans(), st.integers(1, 1500))
def test_a_deeper_aisle_is_never_worse(plan: Plan, more: int) -> None:
    deeper = replace(plan, aisle=plan.aisle + more)
    ranks = [WORST_FIRST.index(verdict(one)) for one in (plan, deeper)]
    assert ranks[0] <= ranks[1]


@settings(max_examples=60)
@given(plans())
def test_less_on_the_floor_is_never_worse(plan: Plan) -> None:
    cleared = replace(plan, boxes=plan.boxes[1:])
    ranks = [WORST_FIRST.index(verdict(one)) for one in (plan, cleared)]
    assert ranks[0] <= ranks[1]


@settings(max_examples=60)
@given(plans())
def test_a_mirrored_room_answers_the_same(plan: Plan) -> None:
    assert verdict(plan.mirrored) == verdict(plan)


@settings(max_examples=60)
@given(plans(), st.data())
def test_a_board_in_sections_answers_the_same(plan: Plan, data: st.DataObject) -> None:
    cuts = data.draw(st.sets(st.integers(1, plan.width // 100 - 1), max_size=3))
    cut = replace(plan, cuts=tuple(sorted(at * 100 for at in cuts)))
    found = judged(cut)
    assert len(found) == len(cut.cuts) + 1
    assert {one.verdict for one in found} == {verdict(plan)}


@settings(max_examples=60)
@given(plans())
def test_what_is_told_quickly_is_what_is_judged(plan: Plan) -> None:
    situation = situate(plan.scene())
    told = verdict(plan)
    for item in situation.live:
        assert second_entrance.is_breach(item, situation) == (told == "not-met")
        assert told == "met" or not second_entrance.is_met(item, situation)


@settings(max_examples=80)
@given(plans())
def test_what_is_seen_at_a_look_is_what_is_seen_by_looking_all_over(plan: Plan) -> None:
    def never(_: Sight, __: shapely.Point) -> bool:
        return False

    found = judged(plan)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Sight, "_nearest_is_seen", never)
        assert judged(plan) == found


@settings(max_examples=80)
@given(plans())
def test_one_way_that_is_met_is_left_straight_away_and_outside(plan: Plan) -> None:
    """Where (C)(2)(a) is cited as met, samples of people get out as it says."""
    (found,) = judged(plan)
    if found.verdict != "met" or not found.citation.endswith("(a)"):
        return
    radius = WAY / 2 - 0.2
    room = shapely.box(0, -DEEP, plan.length, plan.aisle)
    board = shapely.box(plan.left, -DEEP, plan.left + plan.width, 0)
    boxes = [shapely.box(x, v, x + wide, v + deep) for x, v, wide, deep in plan.boxes]
    passages = [passage(door, plan) for door in plan.doors]
    floor = shapely.union_all([room, *passages]).difference(
        shapely.union_all([board, *boxes])
    )
    free = floor.buffer(-radius, quad_segs=64)
    space = shapely.box(plan.left, 0, plan.left + plan.width, DEPTH)
    outside = floor.difference(space).buffer(-radius, quad_segs=64)
    beyond = DEPTH + WAY / 2
    reached = [
        part
        for part in shapely.get_parts(outside)
        if any(part.intersects(shapely.Point(goal(one, plan))) for one in plan.doors)
    ]
    for n in range(20):
        x = plan.left + WAY / 2 + n * (plan.width - WAY) / 19
        for v in (WAY / 2, DEPTH / 2, DEPTH - 10):
            at = shapely.Point(x, v)
            if free.intersects(at):
                way = shapely.LineString([at, (x, beyond)])
                assert free.buffer(0.01).covers(way)
        assert any(part.intersects(shapely.Point(x, beyond)) for part in reached)


def test_what_the_book_prints_stands_beside_what_is_required() -> None:
    plan = Plan(8000, 1000, 2500, 3000, (("east", 700, 900),))
    (found,) = judged(plan)
    assert found.required == {"width": 0.61, "height": 2.0}
    assert found.printed == {
        "width": ("610 mm", "24 in"),
        "height": ("2.0 m", "6 1/2 ft"),
    }
    assert found.missing.startswith("The authority having jurisdiction decides")
    assert found.reason.endswith(found.missing)
    assert not found.unread


def passage(door: tuple[str, int, int], plan: Plan) -> shapely.Polygon:
    """Return the floor beyond a door; y points away from the board's front."""
    wall, start, wide = door
    end, far = start + wide, 2000
    match wall:
        case "north":
            return shapely.box(start, -DEEP - far, end, -DEEP)
        case "south":
            return shapely.box(start, plan.aisle, end, plan.aisle + far)
        case "west":
            return shapely.box(-far, start - DEEP, 0, end - DEEP)
    return shapely.box(plan.length, start - DEEP, plan.length + far, end - DEEP)


def goal(door: tuple[str, int, int], plan: Plan) -> tuple[float, float]:
    """Return a place in the middle of what is beyond a door."""
    middle = passage(door, plan).centroid
    return middle.x, middle.y
