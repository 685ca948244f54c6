"""Maps of free places: worked out by hand, and against the rules place by place."""

from __future__ import annotations

import random
from typing import Any

import pytest

from model3d import Scene, read_scene
from model3d.mending.map.places import WAYS, PlaceError, free_places
from model3d.mending.placing.answer import answer
from model3d.mending.placing.new_item import with_new_item
from tests.independent.random_rooms import random_room
from tests.independent.test_turned import turned_room
from tests.mending.agreement import disagreements
from tests.paths import SCENES

Plain = dict[str, Any]
LOW = {"system": "208Y/120", "amps": 100}
HIGH = {"system": "480Y/277", "amps": 100}


def room(
    *items: Plain, walls: str = "concrete", size: tuple[int, int] = (4000, 3000)
) -> Scene:
    """Return a room with a door that is in nobody's way."""
    door = {"id": "D1", "wall": "east", "along": 500, "width": 900, "height": 2100}
    return Scene.model_validate(
        {
            "title": "An invented room",
            "units": "mm",
            "measures": "si",
            "rules": "nec-2023",
            "room": {"size": size, "height": 3000, "walls": walls, "doors": [door]},
            "items": items,
        }
    )


def opens_out(scene: Scene) -> Scene:
    """Return a room whose door opens out, which is quickly asked."""
    assert scene.room is not None
    (door,) = scene.room.doors
    door = door.model_copy(update={"opens": "out", "hinge": "left"})
    known = scene.room.model_copy(update={"doors": (door,)})
    return scene.model_copy(update={"room": known})


def switch(place: Plain, supply: Plain = HIGH, name: str = "DS1") -> Plain:
    return {
        "id": name,
        "kind": "disconnect",
        "size": [500, 200, 900],
        "place": place,
        "supply": supply,
        "door": "none",
    }


def box(name: str, size: list[int], place: Plain, kind: str = "column") -> Plain:
    return {"id": name, "kind": kind, "size": size, "place": place}


def along(scene: Scene, name: str, wall: str) -> list[list[float]]:
    told = answer(free_places(scene, name)).document()
    return next(one["along"] for one in told["walls"] if one["wall"] == wall)


def ring(scene: Scene, name: str) -> list[list[float]]:
    told = answer(free_places(scene, name)).document()
    (floor,) = told["floor"]
    (region,) = floor["regions"]
    assert not region["holes"]
    return sorted(region["outer"])


def test_an_empty_wall_is_free_from_end_to_end() -> None:
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}))
    assert along(scene, "DS1", "north") == [[0.0, 3500.0]]
    assert along(scene, "DS1", "west") == [[0.0, 2500.0]]


def test_a_thing_fits_a_slot_of_its_own_size() -> None:
    scene = room(
        switch({"wall": "north", "along": 3000, "bottom": 900}),
        box("C1", [300, 200, 2500], {"wall": "north", "along": 700}),
        box("C2", [300, 200, 2500], {"wall": "north", "along": 1500}),
    )
    assert along(scene, "DS1", "north") == [
        [0.0, 200.0],
        [1000.0, 1000.0],
        [1800.0, 3500.0],
    ]


def test_a_working_space_slides_and_so_leaves_more_of_the_wall() -> None:
    # The column is 700 ahead of the wall and reaches into a space 1000 deep in front
    # of a front at 200. Between wall and column the space, 762 wide, needs 762.
    scene = room(
        switch({"wall": "north", "along": 3000, "bottom": 900}),
        box("C1", [300, 300, 2500], {"at": [2000, 2150], "facing": "south"}),
    )
    # From the left end to the column's left side at 1850: the space covers the item
    # up to there, so its left side is at most 1850 less 500; right of 2150 likewise.
    assert along(scene, "DS1", "north") == [[0.0, 1350.0], [2150.0, 3500.0]]


@pytest.mark.parametrize(("walls", "depth"), [("concrete", 1000), ("gypsum", 900)])
def test_conditions_one_and_two_on_the_floor(walls: str, depth: int) -> None:
    # NEC 2023 Table 110.26(A)(1), 151 to 600 V: 900 and 1000 mm (rules.md).
    scene = room(switch({"at": [2000, 2000], "facing": "south"}), walls=walls)
    corners = [[250.0, depth + 100.0], [250.0, 2900.0]]
    assert ring(scene, "DS1") == [*corners, [3750.0, depth + 100.0], [3750.0, 2900.0]]


def test_condition_three_where_two_fronts_face() -> None:
    # 1200 mm (the same table) from front to front, wherever the two see each other.
    opposite = switch({"at": [2000, 300], "facing": "north"}, name="DS2")
    scene = room(
        switch({"at": [2000, 2500], "facing": "south"}), opposite, walls="gypsum"
    )
    (floor,) = answer(free_places(scene, "DS1")).document()["floor"]
    outer = floor["regions"][0]["outer"]
    # DS2's front is at 400; straight ahead of it DS1's middle is 1200 + 100 further.
    edges = zip(outer, [*outer[1:], outer[0]], strict=True)
    over = [a[1] for a, b in edges if min(a[0], b[0]) < 2000 < max(a[0], b[0])]
    assert min(over) == 1700.0


def test_what_bars_is_named_with_its_rule() -> None:
    other = switch({"wall": "south", "along": 3500, "bottom": 900}, name="DS2")
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}), other)
    told = answer(free_places(scene, "DS1")).document()
    bars = [(one["by"], one["requirement"], one["of"]) for one in told["barred"]]
    assert ("DS2", "body", "DS1") in bars
    assert ("DS1", "working-space", "DS2") in bars


def test_the_best_place_is_written_as_the_scene_writes_it() -> None:
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}))
    told = answer(free_places(scene, "DS1")).document()
    assert told["best"]["place"]["bottom"] == 900
    assert told["best"]["margin"] == 1750.0
    assert told["best"]["place"]["along"] == 1750.0


@pytest.mark.long
def test_what_was_broken_before_bars_nothing() -> None:
    # A pipe bars DS2's space already: DS1 may stand in it too.
    other = switch({"wall": "south", "along": 1700, "bottom": 900}, name="DS2")
    pipe = {"id": "P1", "kind": "pipe", "from": [1950, 600, 0], "to": [1950, 600, 3000]}
    scene = room(
        switch({"at": [2000, 2500], "facing": "south"}), other, pipe | {"diameter": 500}
    )
    bars = answer(free_places(scene, "DS1")).document()["barred"]
    assert not any(one["of"] == "DS2" for one in bars)


def test_a_place_that_is_only_open_is_free_and_told() -> None:
    # Nothing says whether the crate is grounded: between 900 and 1000 it is open.
    crate = box("B1", [4000, 100, 2500], {"at": [2000, 50]}, kind="obstacle")
    scene = room(switch({"at": [2000, 2500], "facing": "south"}), crate, walls="gypsum")
    told = answer(free_places(scene, "DS1")).document()
    low = min(y for _, y in told["floor"][0]["regions"][0]["outer"])
    assert low == 1100.0
    (opened,) = [one for one in told["open"] if "regions" in one]
    assert (opened["requirement"], opened["of"], opened["by"]) == (
        "working-space",
        "DS1",
        ["B1"],
    )
    ys = [y for _, y in opened["regions"][0]["outer"]]
    assert (min(ys), max(ys)) == (1100.0, pytest.approx(1200.0, abs=0.11))


def test_a_place_that_is_open_at_low_voltage_is_free_and_told() -> None:
    # At 60 V dc and below less than the whole space is open, not a breach (NEC 2023
    # 110.26(A)(1)(b)). The switch's front is at 2800, its space 900 deep.
    low = {"system": "48 dc", "amps": 60}
    hung = switch({"wall": "north", "along": 1700, "bottom": 900}, low)
    crate = box("B1", [300, 300, 1200], {"at": [500, 500]}, kind="furniture")
    told = answer(free_places(room(hung, crate), "B1")).document()
    (opened,) = told["open"]
    assert (opened["requirement"], opened["of"]) == ("working-space", "DS1")
    ys = [y for _, y in opened["regions"][0]["outer"]]
    assert (min(ys), max(ys)) == (pytest.approx(1750, abs=1), 2850.0)
    # The crate takes 350 to 650 along the south wall, 2850 being its left side; the
    # space, 762 wide, covers the switch's 500 and slides away from it until 3350 - 500.
    told = answer(free_places(room(hung, crate), "DS1")).document()["open"]
    south = [one for one in told if one.get("wall") == "south"]
    assert [(one["of"], one["along"]) for one in south] == [("DS1", [[2850.0, 3500.0]])]


def test_a_lamp_over_cells_is_free_and_told() -> None:
    # NEC 2023 480.10(F) as the room's rule has it: over cells a person decides. The
    # cells are 4 of 200 in a row, 300 deep, and end 100 before the wall: the lamp, 200
    # deep, has its middle at 2900 at the most, and not before 2500.
    rack = {
        "id": "R1",
        "kind": "battery-rack",
        "open": True,
        "size": [900, 450, 900],
        "place": {"wall": "north", "along": 700, "gap": 25},
        "supply": {"system": "125 dc"},
        "tiers": [{"shelf": 100, "cells": 4, "cell": [200, 300, 400], "post": 20}],
        "shelf_thickness": 40,
    }
    lamp = box("L1", [200, 200, 80], {"at": [3000, 300], "bottom": 2700}, "luminaire")
    scene = room(rack, lamp).model_copy(update={"use": "battery-room"})
    for name, width, depth in (("L1", 1000, 400), ("R1", 0, None)):
        told = answer(free_places(scene, name)).document()["open"]
        (over,) = [one for one in told if one["requirement"] == "battery-room"]
        assert (over["of"], over["by"]) == ("L1", ["R1" if name == "L1" else "L1"])
        if depth is not None:
            xs, ys = zip(*over["regions"][0]["outer"], strict=True)
            assert max(xs) - min(xs) == pytest.approx(width, abs=0.2)
            assert max(ys) - min(ys) == pytest.approx(depth, abs=0.2)


@pytest.mark.long
def test_a_thing_in_a_doorway_leaves_a_way_or_has_no_place_there() -> None:
    # Less than 200 mm nobody gets through (common practice); a narrower way than 610 is
    # open for ordinary equipment. The door is 900 wide, the thing 850: 200 are left
    # where it stands 150 mm to either side of the opening.
    tall = switch({"wall": "north", "along": 700}) | {"size": [850, 200, 1900]}
    there = answer(free_places(opens_out(room(tall)), "DS1", ways=WAYS)).document()
    east = next(one for one in there["walls"] if one["wall"] == "east")
    (_, first), (second, _) = east["along"]
    assert (first, second) == (pytest.approx(350, abs=0.5), pytest.approx(700, abs=0.5))
    assert {"by": "D1", "requirement": "entrance", "of": "DS1"} in there["barred"]


@pytest.mark.long
def test_a_thing_high_in_a_doorway_leaves_its_way_out_open() -> None:
    # Under it 900 mm are left: lower than what is printed, and no less than 500. Beside
    # it the opening is 610 wide from 290 back, and from 1110 on.
    hung = switch({"wall": "north", "along": 700, "bottom": 900})
    there = answer(free_places(opens_out(room(hung)), "DS1", ways=WAYS)).document()
    assert next(one["along"] for one in there["walls"] if one["wall"] == "east") == [
        [0.0, 2500.0]
    ]
    assert not there["barred"]
    (told,) = (one for one in there["open"] if one.get("wall") == "east")
    assert (told["requirement"], told["by"]) == ("entrance", ["D1"])
    (between,) = told["along"]
    assert between == [pytest.approx(290, abs=0.5), pytest.approx(1110, abs=0.5)]


@pytest.mark.long
def test_a_new_item_like_another_or_of_a_kind() -> None:
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}))
    like = with_new_item(scene, "DS2", like="DS1")
    assert along(like, "DS2", "north") == [[0.0, 200.0], [1200.0, 3500.0]]
    kind = with_new_item(scene, "T1", kind="transformer", size="600x500x800")
    places = answer(free_places(kind, "T1")).document()
    assert places["walls"][0]["along"]


@pytest.mark.parametrize(
    ("name", "asked", "words"),
    [
        ("ZZ", {}, "right is the id of an item"),
        ("DS1", {"like": "DS1"}, "which is there already"),
        ("D9", {"like": "ZZ"}, "right is the id of an item"),
        ("D9", {"kind": "panelboard"}, "found no size"),
        ("D9", {"kind": "pannelboard", "size": "1x1x1"}, "panelboard"),
        ("D9", {"kind": "pipe", "size": "1x1"}, "width x depth x height"),
        ("D9", {"named": "ZZ"}, "name of a type"),
    ],
)
def test_what_cannot_be_put_anywhere_is_told_in_a_line(
    name: str, asked: dict[str, str], words: str
) -> None:
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}))
    with pytest.raises(PlaceError, match=words) as told:
        with_new_item(scene, name, **asked)
    assert "\n" not in str(told.value)


def test_a_run_has_no_place() -> None:
    scene = read_scene(SCENES / "pump-station.yaml")
    with pytest.raises(PlaceError, match="a run"):
        free_places(scene, "CW1")


@pytest.mark.long
@pytest.mark.parametrize("seed", [2, 10, 11, 14])
def test_boxes_along_walls_and_on_the_floor_agree_with_the_rules(seed: int) -> None:
    scene = Scene.model_validate(random_room(seed))
    _assert_agree(scene, random.Random(seed))  # noqa: S311 - the same every time


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2, 3, 10])
def test_turned_things_agree_with_the_rules(seed: int) -> None:
    scene = Scene.model_validate(turned_room(seed))
    _assert_agree(scene, random.Random(seed))  # noqa: S311 - the same every time


@pytest.mark.many
@pytest.mark.parametrize("seed", range(20, 60))
def test_many_rooms_agree_with_the_rules(seed: int) -> None:
    draw = random.Random(seed)  # noqa: S311 - the same every time
    _assert_agree(Scene.model_validate(random_room(seed)), draw, 40)
    _assert_agree(Scene.model_validate(turned_room(seed)), draw, 40)


@pytest.mark.long
@pytest.mark.parametrize("name", ["TP1", "T1"])
def test_the_pump_station_agrees_with_the_rules(name: str) -> None:
    scene = read_scene(SCENES / "pump-station.yaml")
    found, free, _ = disagreements(scene, name, 6, random.Random(name))  # noqa: S311
    assert not found
    assert free


@pytest.mark.long
def test_what_an_item_carries_may_break_its_own_space_wherever_it_is() -> None:
    # The pull box reaches 170 past the panel's front and moves with the panel.
    scene = read_scene(SCENES / "pump-station.yaml")
    told = answer(free_places(scene, "LP1")).document()
    assert not any(one["along"] for one in told["walls"])
    assert told["best"] is None
    bar = {"by": "PB1", "requirement": "working-space", "of": "LP1"}
    assert bar in told["barred"]


@pytest.mark.long
@pytest.mark.parametrize(
    ("room_file", "name", "requirement"),
    [
        # Its own upper shelf is too low over its cells.
        ("battery-room", "R2", "battery-top-clearance"),
        # Its handle is higher than 2.0 m, and its height stays.
        ("high-handles", "DS1", "handle-height"),
    ],
)
def test_what_is_broken_wherever_an_item_goes_leaves_it_no_place(
    room_file: str, name: str, requirement: str
) -> None:
    scene = read_scene(SCENES / f"{room_file}.yaml")
    told = answer(free_places(scene, name)).document()
    assert not any(one["along"] for one in told["walls"])
    bar = {"by": name, "requirement": requirement, "of": name}
    assert bar in told["barred"]


@pytest.mark.long
def test_where_a_platform_carries_the_person_a_high_handle_has_a_place() -> None:
    place = {"wall": "north", "along": 700, "bottom": 1500}
    high = {**switch(place), "handle": 600}
    step = box("P1", [3000, 1500, 300], {"at": [1500, 2250]}, "platform")
    assert not along(room(high), "DS1", "north")
    assert along(room(high, step), "DS1", "north")


def _assert_agree(scene: Scene, draw: random.Random, count: int = 8) -> None:
    gear = [item.id for item in scene.items if item.id.startswith("G")]
    boxes = [item.id for item in scene.items if item.size and item.id.startswith("B")]
    for name in (draw.choice(gear), draw.choice(boxes)):
        found, _, _ = disagreements(scene, name, count, draw)
        assert not found, found[0]
