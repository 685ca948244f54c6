"""Ways out on maps of free places, against a whole check with the item there."""

from __future__ import annotations

import math
import random
from collections import Counter
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, Final, cast

import numpy as np
import pytest

from model3d import Scene, check, read_scene
from model3d.geometry.plan import flat
from model3d.mending.map.leaving.cells import on_line
from model3d.mending.map.leaving.told import Purse
from model3d.mending.map.leaving.ways_asked import WaysAsked
from model3d.mending.map.leaving.without import room_without
from model3d.mending.map.places import WAYS, free_places
from model3d.mending.map.probe import key_of
from model3d.mending.placing.answer import answer
from tests.mending.crowded_rooms import crowded_room
from tests.mending.test_places import Plain, box, opens_out, room, switch
from tests.paths import SCENES

if TYPE_CHECKING:
    from model3d import Report
    from model3d.mending.map.free import Free

CLOSE: Final = 5e-4
"""Metres. Nearer to an edge of the map contact decides."""
STEP: Final = 0.08
"""Metres. As near to a place that is free one may be barred on the floor that a check
keeps: parts are halved down to less, and a turned one is as long as its corners."""


def behind_a_partition(place: Plain) -> Scene:
    """Return a room whose west half is left through a gap of 900 mm at the south."""
    return opens_out(
        room(
            switch({"wall": "north", "along": 300, "bottom": 900}),
            box("W1", [100, 2100, 3000], {"at": [2000, 1950]}, kind="wall"),
            box("B1", [600, 750, 2000], place, kind="storage"),
        )
    )


@pytest.mark.long
def test_a_crate_in_the_only_gap_is_barred_or_leaves_the_way_out_open() -> None:
    # The crate takes 750 of 900 mm between the wall and the partition's end, which is
    # 100 thick. Less than 200 is no way (common practice), and below 610 no size is
    # printed for ordinary equipment (NEC 2023 110.26(C)(1)): from corner to corner
    # that is 150 by 132.3 mm, and 150 by 591.3 mm.
    scene = behind_a_partition({"wall": "south", "along": 200})
    told = answer(free_places(scene, "B1", ways=3000)).document()
    assert {"by": "B1", "requirement": "entrance", "of": "DS1"} in told["barred"]
    south = next(one["along"] for one in told["walls"] if one["wall"] == "south")
    assert south == [
        [0.0, pytest.approx(1217.7, abs=0.3)],
        [pytest.approx(2182.3, abs=0.3), 3400.0],
    ]
    (opened,) = (
        one["along"]
        for one in told["open"]
        if (one["requirement"], one["of"], one["wall"]) == ("entrance", "DS1", "south")
    )
    assert opened[0][0] == pytest.approx(758.7, abs=0.3)
    assert opened[-1][1] == pytest.approx(2641.3, abs=0.3)


@pytest.mark.long
def test_on_the_floor_no_such_place_is_free_without_a_word() -> None:
    scene = behind_a_partition({"at": [3000, 2000]})
    (one,) = free_places(scene, "B1", ways=400).maps
    for at in ((2.0, 0.38), (2.0, 0.45), (2.0, 0.6)):
        assert _told(one, at) or not _is_free(one, at)
    assert _is_free(one, (1.0, 1.5))
    assert not _told(one, (1.0, 1.5))


def test_what_is_not_asked_is_left_open_and_says_so() -> None:
    scene = behind_a_partition({"at": [3000, 2000]})
    told = answer(free_places(scene, "B1", ways=1)).document()
    (one,) = [each for each in told["open"] if each.get("why") and "regions" in each]
    assert (one["requirement"], one["of"], one["by"]) == ("entrance", "B1", [])
    assert one["why"] == "the ways out were not asked here"
    assert one["regions"]


@pytest.mark.long
def test_the_same_scene_gives_the_same_map() -> None:
    scene = behind_a_partition({"at": [3000, 2000]})
    first, second = (answer(free_places(scene, "B1", ways=100)) for _ in range(2))
    assert first.document() == second.document()


def test_what_hangs_above_all_ways_has_nothing_to_do_with_them() -> None:
    lamp = box("L1", [600, 600, 100], {"at": [3000, 2000], "bottom": 2700}, "luminaire")
    scene = behind_a_partition({"at": [3000, 2000]})
    scene = scene.model_copy(update={"items": (*scene.items, *room(lamp).items)})
    (one,) = free_places(scene, "L1", ways=WAYS).maps
    assert not one.way_bars


@pytest.mark.long
def test_nothing_is_free_up_to_a_place_where_the_item_itself_has_no_way_out() -> None:
    # Asked in the middle alone, at 2541 mm, TP1 was told to be free from 2475 to 2606
    # mm along the west wall. A whole check says at 2580 mm that its way out is shut
    # (NEC 2023 110.26(C)(1)).
    scene = read_scene(SCENES / "pump-station.yaml")
    (one,) = (
        each
        for each in free_places(scene, "TP1").maps
        if each.stance.wall and each.stance.wall.name == "west"
    )
    asked = WaysAsked(one.posed, one.stance, room_without(one.posed), Purse(WAYS))
    stretch = [(2.475, 2.7375)]
    parts = [*on_line(stretch, one.at(0.0), one.stance.along, asked)]
    key = ("entrance", "TP1")
    for away in (2.5, 2.54, 2.58, 2.6):
        here = flat.Point(one.at(away))
        told = {part.told for part in parts if part.plan.dwithin(here, 1e-9)}
        report = one.probe.report(one.stance.place(one.at(away)))
        broken = [key_of(each)[:2] for each in one.probe.breaches(report)]
        assert any(each and key in each.broken for each in told) == (key in broken)


@pytest.mark.long
def test_what_leaves_too_little_beside_an_open_leaf_is_not_free_all_about() -> None:
    # A transformer of 500 mm with two leaves on the west wall, from 1598 to 2098 mm. A
    # crate that begins 17 mm ahead of the upper leaf's edge leaves 509 mm between its
    # corner and the lower leaf, less than 610 mm (24 in, NEC 2023 110.26(C)(1)). One
    # that reaches back behind the edge leaves no way there that is asked about, and so
    # does all that the crate takes on both sides of this place.
    cubicle = switch({"wall": "west", "along": 1598, "bottom": 900}) | {
        "kind": "transformer",
        "size": [500, 400, 900],
        "door": "pair",
    }
    crate = box("B1", [465, 674, 2200], {"at": [3964, 1894], "facing": "east"})
    (one,) = free_places(opens_out(room(cubicle, crate)), "B1").maps
    asked = WaysAsked(one.posed, one.stance, room_without(one.posed), Purse(WAYS))
    x, y = _by(one, (1.0048, 2.3391))
    west, south, east, north = x - 0.03, y - 0.006, x + 0.09, y + 0.114
    about = [(west, south), (east, south), (east, north), (west, north)]
    report = one.probe.report(one.stance.place((x, y)))
    broken = {key_of(each)[:2] for each in one.probe.breaches(report)}
    assert broken == asked.told((x, y)).broken == {("entrance", "DS1")}
    assert not asked.keeps(np.array(about))


def test_of_a_wall_aslant_nothing_that_is_not_met_is_lost() -> None:
    # A part of a line lies beside it by rounding, and two such lines may not meet.
    turn = math.radians(253)
    along = math.cos(turn), math.sin(turn)
    asked = cast("WaysAsked", SimpleNamespace(purse=Purse(0)))
    wall = flat.LineString([(0.0, 0.0), (2.2203 * along[0], 2.2203 * along[1])])
    for n in range(20):
        stretch = 0.1 * n + 0.0123, 0.1 * n + 0.0456
        (part,) = on_line([stretch], (0.0, 0.0), along, asked)
        assert flat.intersection(part.plan, wall).length == pytest.approx(0.0333)


@pytest.mark.long
@pytest.mark.parametrize("seed", [5, 8])
def test_crowded_rooms_agree_with_a_whole_check(seed: int) -> None:
    _assert_agree(seed, 8)


@pytest.mark.many
@pytest.mark.parametrize("seed", [0, 2, 4, 7, 14])
def test_many_crowded_rooms_agree_with_a_whole_check(seed: int) -> None:
    _assert_agree(seed, 20)


def _assert_agree(seed: int, count: int) -> None:
    draw = random.Random(seed)  # noqa: S311 - the same every time
    scene = Scene.model_validate(crowded_room(seed))
    names = [one.id for one in scene.items if one.size and one.kind != "wall"]
    for name in draw.sample(names, 2):
        for one in free_places(scene, name, ways=WAYS).maps:
            found = compared(one, count, draw)
            wrong = {what for what in found if what not in _RIGHT}
            assert not wrong, (name, found)


_RIGHT: Final = {"free", "open", "barred", "not asked"}


def compared(one: Free, count: int, draw: random.Random) -> Counter[Any]:
    """Return how many places are told how, of those that are free but for ways out.

    What is told otherwise than by a whole check is counted with its place.
    """
    found: Counter[Any] = Counter()
    for by in _sampled(one, count, draw):
        place = one.stance.place(by)
        report = one.probe.report(place)
        broken = {key_of(each)[:2] for each in one.probe.breaches(report)}
        doubts = {key_of(each)[:2] for each in one.probe.doubts(report)}
        told, is_free = _told_at(one, by), _is_free_at(one, by)
        if any(why for *_, why in told):
            found["not asked"] += 1
        elif not is_free:
            right = broken or _away(one, by) <= STEP
            found["barred" if right else ("barred", str(place))] += 1
        elif broken:
            found["free but broken", str(place), str(sorted(broken))] += 1
        elif doubts and not told:
            found["free but open", str(place), str(sorted(doubts))] += 1
        else:
            found["open" if told else "free"] += 1
    return found


def _sampled(one: Free, count: int, draw: random.Random) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for _ in range(20 * count):
        if one.stance.on_wall:
            away = draw.uniform(0, one.within.length)
            bare = one.but_ways
            if not any(low < away < high for low, high in bare):
                continue
            edges = [end for pair in (*bare, *one.intervals) for end in pair]
            if all(abs(away - end) > CLOSE for end in edges):
                found.append(one.at(away))
        else:
            low_x, low_y, high_x, high_y = one.within.bounds
            by = draw.uniform(low_x, high_x), draw.uniform(low_y, high_y)
            here = flat.Point(by)
            area = one.area_but_ways
            if area.contains(here) and one.area.boundary.distance(here) > CLOSE:
                found.append(by)
        if len(found) == count:
            break
    return found


def _by(one: Free, at: tuple[float, float]) -> tuple[float, float]:
    return at[0] - one.stance.middle[0], at[1] - one.stance.middle[1]


def _is_free(one: Free, at: tuple[float, float]) -> bool:
    return _is_free_at(one, _by(one, at))


def _is_free_at(one: Free, by: tuple[float, float]) -> bool:
    return _away(one, by) < 1e-9


def _away(one: Free, by: tuple[float, float]) -> float:
    """Return how far it is to what is free, metres."""
    free = one.line if one.stance.on_wall else one.area
    return float(free.distance(flat.Point(by)))


def _told(one: Free, at: tuple[float, float]) -> set[tuple[str, str]]:
    return {(requirement, of) for requirement, of, _ in _told_at(one, _by(one, at))}


def _told_at(one: Free, by: tuple[float, float]) -> set[tuple[str, str, str]]:
    here = flat.Point(by)
    return {
        (bar.requirement, bar.of, bar.why)
        for bar, there in one.opens()
        if there.distance(here) < CLOSE
    }


@pytest.mark.long
def test_what_makes_a_space_deeper_is_barred_where_a_door_comes_near_by_it() -> None:
    # NEC 2023 110.26(C)(3): doors less than 7.6 m from the working space's nearest
    # edge; Table 110.26(A)(1), 277 V to ground: 0.9 m, with grounded parts opposite
    # 1.0 m. The space ends at x = 600 + 900 mm, the door begins at 9150: 7650 mm off,
    # and 7550 where a column of concrete stands opposite.
    column = {"id": "C1", "kind": "column", "size": [300, 300, 2500]}
    board = {"id": "SG", "kind": "switchgear", "size": [800, 600, 2000], "door": "none"}
    door = {"id": "D1", "wall": "north", "along": 9150, "width": 900, "height": 2100}
    scene = Scene.model_validate(
        {
            "title": "Room",
            "units": "mm",
            "rules": "nec-2023",
            "measures": "si",
            "room": {
                "size": [10500, 2600],
                "height": 3000,
                "walls": "gypsum",
                "lighting": {"present": True, "control": "manual"},
                "doors": [
                    door
                    | {"opens": "out", "hardware": "lever", "opens_to": 90}
                    | {"hinge": "left"}
                ],
            },
            "items": [
                board
                | {"place": {"wall": "west", "along": 1800}}
                | {"supply": {"system": "480Y/277", "amps": 800}, "handle": 1500},
                column | {"place": {"at": [5000, 500], "facing": "east"}},
            ],
        }
    )
    (one,) = free_places(scene, "C1", ways=WAYS).maps
    for y, is_free in ((0.0, True), (1.7, False)):
        by = flat.Point(0.0, y)
        assert one.area.contains(by) == is_free
        report = check_with(scene, [5000, 500 + 1000 * y])
        found = [each.verdict for each in report.of("D1", "door-hardware")]
        assert found == ([] if is_free else ["not-met"])


def check_with(scene: Scene, at: list[float]) -> Report:
    """Check a scene with its last item elsewhere."""
    written = scene.written()
    written["items"][-1]["place"] = {"at": at, "facing": "east"}
    return check(Scene.model_validate(written))
