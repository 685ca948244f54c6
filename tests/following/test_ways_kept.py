"""What is kept of ways in and out when something is moved, against asking it anew.

The outside source is the check of the moved scene from the beginning.
"""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, Final

import pytest

from model3d import Scene, check, read_scene
from model3d.check import situate
from model3d.egress.close_look import as_wide_as_before
from model3d.egress.ground.ground import ground_of
from model3d.egress.overhead import is_overhead
from model3d.egress.ways import ways_of
from model3d.following import Following
from model3d.mending.map.probe import key_of
from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import MoveItem
from model3d.standing.changes import apply_change
from tests.paths import SCENES

if TYPE_CHECKING:
    from model3d.egress.ways import Doors

DOORS: Final[tuple[Doors, ...]] = ("shut", "stated", "all")
WIDTH, HEIGHT = 0.61, 2.0
"""Metres: 610 mm and 2.0 m, NEC 2023 110.26(C)(2)."""


def _moved(scene: Scene, name: str, by: tuple[float, float, float]) -> Scene:
    return apply_change(scene, MoveItem(move=name, by=by))


@pytest.mark.long
def test_what_is_far_from_a_move_is_as_wide_as_before_and_what_is_near_is_not() -> None:
    scene = read_scene(SCENES / "pump-station.yaml")
    after = Following(scene).suppose(_moved(scene, "RW1", (0, 100, 0)))
    kept = as_wide_as_before(WIDTH, HEIGHT, after.situation)
    # The riser stands before the pumps' control panel; the others are walls away.
    assert kept == {"MSB", "DS1", "LP1", "TP1", "T1"}
    assert not as_wide_as_before(WIDTH, HEIGHT, situate(scene))


def test_what_bars_a_way_far_away_is_found_where_nothing_near_was_moved() -> None:
    # A shelf across the room leaves too little of the way to the only door.
    scene = _corridor()
    after = Following(scene).suppose(_moved(scene, "S1", (0, -1300, 0)))
    assert not as_wide_as_before(WIDTH, HEIGHT, after.situation)
    found = [one.verdict for one in after.judge("entrance", "LP1")]
    assert found == ["open"]  # 400 mm are left


def test_gear_before_which_nobody_finds_room_is_looked_at_too() -> None:
    # A crate takes all the floor before the panel: it is judged, and nothing fails.
    scene = _corridor()
    crate = {"id": "C1", "kind": "storage", "size": [1500, 2400, 2400]}
    place = {"at": [900, 1200], "facing": "south"}
    full = scene.with_item(Item.model_validate({**crate, "place": place}))
    after = Following(full).suppose(_moved(full, "S1", (500, 0, 0)))
    assert not as_wide_as_before(WIDTH, HEIGHT, after.situation)
    assert [one.verdict for one in after.judge("entrance", "LP1")] == ["not-met"]


@pytest.mark.long
@pytest.mark.parametrize(("by", "same"), [((0, 0, 240), True), ((100, 0, 0), False)])
def test_a_box_that_is_raised_leaves_the_floor_and_its_necks_as_they_were(
    by: tuple[float, float, float], *, same: bool
) -> None:
    scene = read_scene(SCENES / "pump-station.yaml")
    moved = _moved(scene, "PB1", by)
    situation = Following(scene).suppose(moved).situation
    assert situation.earlier
    after = ways_of(situation).floor(HEIGHT)
    before = ways_of(situation.earlier.situation).floor(HEIGHT)
    assert (after is before) == same
    anew = ways_of(situate(moved)).floor(HEIGHT)
    assert after.necks.widths.tolist() == anew.necks.widths.tolist()


@pytest.mark.long
def test_a_door_that_nothing_comes_near_stays_the_very_same_way_out() -> None:
    # Outside source: the same scene, worked out from its beginning.
    scene = _corridor()
    assert scene.room
    door = scene.room.doors[0].model_copy(update={"opens": "in", "opens_to": None})
    room = scene.room.model_copy(update={"doors": (door,)})
    scene = scene.model_copy(update={"room": room})
    for by, same in (((-500, -300, 0), True), ((3600, -1300, 0), False)):
        moved = _moved(scene, "S1", by)
        situation = Following(scene).suppose(moved).situation
        assert situation.earlier
        here, before = map(ground_of, (situation, situation.earlier.situation))
        assert (here.exits[0] is before.exits[0]) == same
        floors = [one.floor(HEIGHT, "step") for one in (here, before)]
        assert (floors[0].walls is floors[1].walls) == same
        anew = ground_of(situate(moved))
        assert here.exits[0].said == anew.exits[0].said
        assert floors[0].walls == anew.floor(HEIGHT, "step").walls
        assert (here.exits[0].said == before.exits[0].said) == same


@pytest.mark.long
def test_what_is_put_on_a_floor_rests_on_it_and_has_the_same_necks() -> None:
    scene = read_scene(SCENES / "pump-station.yaml")
    moved = _moved(scene, "L1", (0, 0, -2000))
    situation = Following(scene).suppose(moved).situation
    assert situation.earlier
    after, before = map(ways_of, (situation, situation.earlier.situation))
    anew = ways_of(situate(moved))
    for doors in DOORS:
        floor = after.floor(HEIGHT, doors)
        assert floor.below is before.floor(HEIGHT, doors)
        there = anew.floor(HEIGHT, doors)
        assert sorted(map(str, floor.obstacles)) == sorted(map(str, there.obstacles))
        assert floor.necks.widths == pytest.approx(there.necks.widths)


@pytest.mark.parametrize(("bottom", "high"), [(2500, True), (2000, False)])
def test_only_what_hangs_above_heads_and_gear_is_overhead(
    bottom: int, *, high: bool
) -> None:
    # The door is 2.1 m high, and a switchboard on a pad of 90 mm ends at 2240.
    scene = read_scene(SCENES / "pump-station.yaml")
    situation = situate(_moved(scene, "CW1", (0, 0, bottom - 2600)))
    assert is_overhead(situation.arrangement.items["CW1"], situation) == high


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_remade_claims_are_those_of_a_check(seed: int) -> None:
    draw = random.Random(seed)  # noqa: S311 - the same every time
    scene = read_scene(SCENES / "pump-station.yaml")
    following = Following(scene)
    for _ in range(6):
        name = draw.choice(("CW1", "PB1", "RW1", "L1", "SP1", "T1", "TP1"))
        far = draw.choice((100, 600))
        by = (draw.uniform(-far, far), draw.uniform(-far, far), draw.choice((0, -500)))
        after = _moved(scene, name, by)
        supposed = following.suppose(after)
        whole = {key_of(one): one.verdict for one in check(after).judgements}
        assert {key_of(o): o.verdict for o in supposed.report.judgements} == whole
        remade = {key_of(one) for few in supposed.remade() for one in few}
        before = {
            key_of(one): one.verdict for one in following.followed.report.judgements
        }
        worse = {key for key, verdict in whole.items() if verdict != "met"}
        # What is not told again is met now, or as it was.
        assert all(
            key in remade or before.get(key) == whole[key] or before[key] == "open"
            for key in worse
        )


def _corridor() -> Scene:
    """Return a long room with a panel at its west end and the door at its east end."""
    door = {"id": "D1", "wall": "east", "along": 500, "width": 900, "height": 2100}
    panel = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 900],
        "place": {"wall": "west", "along": 1000, "bottom": 900},
        "supply": {"system": "480Y/277", "amps": 100},
        "door": "left",
    }
    shelf = {"id": "S1", "kind": "shelf", "size": [400, 1700, 2000]}
    return Scene.model_validate(
        {
            "title": "A long room",
            "units": "mm",
            "rules": "nec-2023",
            "room": {
                "size": [8000, 2400],
                "height": 3000,
                "doors": [door | {"opens": "out", "hinge": "left", "opens_to": 110}],
            },
            "items": [panel, shelf | {"place": {"at": [4000, 2450]}}],
        }
    )
