"""The page judges a moved item as the rules do, or leaves it open."""

from __future__ import annotations

import random
from collections import Counter
from typing import TYPE_CHECKING

import pytest

from model3d import Scene
from model3d.mending.provisional.record import whole_record
from tests.independent.random_rooms import random_room
from tests.scenes import examples
from tests.viewer.page.judging import (
    CLOSE,
    Agreement,
    Asked,
    agreement,
    amounts,
    changed_unasked,
    judged,
)
from tests.viewer.page.other_rooms import dwelling, limited, racked
from tests.viewer.written_rooms import room_scene

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from tests.viewer.page.judging import Key
    from tests.viewer.page.other_rooms import Dress

ROOMS = 12
"""So many random rooms are looked at each time."""
MANY_ROOMS = 80
OTHER_ROOMS = 9
"""So many of each other sort: dwellings, places of limited access, rooms with racks."""
MANY_OTHERS = 40


@pytest.mark.long
@pytest.mark.parametrize("name", examples.NAMES)
def test_it_says_what_the_rules_say_of_every_example(name: str) -> None:
    slow = {"scanned-pump", "pump-station", "angled-room"}
    found = agreement(examples.scene(name), 8 if name in slow else 25, _draw(name))
    assert found.wrong == []


@pytest.mark.many
@pytest.mark.parametrize("name", examples.NAMES)
def test_it_says_so_at_very_many_places(name: str) -> None:
    found = agreement(examples.scene(name), 150, _draw(f"{name}, many"))
    assert found.wrong == []
    assert found.counts
    # Left open is right, but no answer: most must be decided.
    assert found.decided() > 0.6


@pytest.mark.long
@pytest.mark.parametrize("seed", range(ROOMS))
def test_it_says_what_the_rules_say_of_random_rooms(seed: int) -> None:
    assert _random(seed, 12).wrong == []


@pytest.mark.many
@pytest.mark.parametrize("seed", range(ROOMS, MANY_ROOMS))
def test_it_says_so_in_very_many_random_rooms(seed: int) -> None:
    assert _random(seed, 50).wrong == []


@pytest.mark.long
@pytest.mark.parametrize("seed", range(OTHER_ROOMS))
def test_it_says_so_in_dwellings_limited_places_and_beside_racks(seed: int) -> None:
    assert _other(seed, 12).wrong == []


@pytest.mark.many
@pytest.mark.parametrize("seed", range(OTHER_ROOMS, MANY_OTHERS))
def test_it_says_so_in_very_many_of_them(seed: int) -> None:
    assert _other(seed, 50).wrong == []


@pytest.mark.long
@pytest.mark.parametrize(
    ("dress", "requirement"),
    [(dwelling, "working-space"), (limited, "working-space"), (racked, "battery-top")],
)
def test_it_decides_most_of_what_the_rules_decide_there(
    dress: Dress, requirement: str
) -> None:
    found = sum((_dressed(dress, seed, 15).by_rule for seed in range(6)), Counter())
    told = {pair: n for pair, n in found.items() if pair[0].startswith(requirement)}
    sure = {pair: n for pair, n in told.items() if pair[2] in {"met", "not-met"}}
    same = sum(n for (_, one, two), n in sure.items() if one == two)
    assert same > 0.6 * sum(sure.values()) > 0


def _other(seed: int, count: int) -> Agreement:
    dress = (dwelling, limited, racked)[seed % 3]
    return _dressed(dress, seed, count)


def _dressed(dress: Dress, seed: int, count: int) -> Agreement:
    scene = Scene.model_validate(dress(random_room(seed), _draw(f"dress {seed}")))
    return agreement(scene, count, _draw(f"{dress.__name__} {seed}"))


def _draw(name: str) -> random.Random:
    return random.Random(name)  # noqa: S311 - no secret


def _random(seed: int, count: int) -> Agreement:
    scene = Scene.model_validate(random_room(seed))
    return agreement(scene, count, _draw(f"room {seed}"))


@pytest.mark.long
@pytest.mark.parametrize("name", ["facing-lineups", "transformer-vault", "angled-room"])
def test_it_says_so_of_several_things_that_were_moved(name: str) -> None:
    found = agreement(examples.scene(name), 12, _draw(f"{name}, both"), others=2)
    assert found.wrong == []
    assert found.counts


@pytest.mark.long
@pytest.mark.parametrize("name", ["facing-lineups", "stored-goods", "local-amendment"])
def test_it_tells_by_how_much(name: str) -> None:
    found = amounts(examples.scene(name), 30, _draw(name))
    assert len(found) > 5
    for told, right in found:
        assert told == pytest.approx(right, abs=CLOSE)


@pytest.mark.long
@pytest.mark.parametrize("name", examples.NAMES)
def test_what_it_leaves_as_it_was_is_as_it_was(name: str) -> None:
    few = 1 if name in {"scanned-pump", "pump-station", "angled-room"} else 4
    assert (
        list(changed_unasked(examples.scene(name), few, _draw(f"{name}, left"))) == []
    )


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_so_it_is_in_random_rooms(seed: int) -> None:
    scene = Scene.model_validate(random_room(seed))
    assert list(changed_unasked(scene, 5, _draw(f"left {seed}"))) == []


def test_it_tells_what_is_in_the_way_and_by_how_much() -> None:
    # The machine stands 100 mm ahead of the control panel's front (2700 - 300 is the
    # front at 2700 mm north, its far side at 2400): it is taken 200 mm south.
    (one,) = _told(room_scene(), "BOX", (0, -2000, 0), "working-space", "CP1")
    assert one["verdict"] == "not-met"
    assert [hit["id"] for hit in one["hits"]] == ["BOX"]
    # 1.0 m is the lesser of the two figures printed of condition 2 at 277 V to ground
    # (NEC 2023 Table 110.26(A)(1)), and the machine is 500 mm ahead.
    assert one["hits"][0]["by"] == pytest.approx(10_000 - 5_000, abs=2)


def test_nothing_is_told_where_nothing_has_moved() -> None:
    (one,) = judged(Asked(room_scene()), [("BOX", (0, 0, 0))])["found"]
    assert one == {"answers": [], "clashes": [], "unjudged": []}


def test_a_place_without_anything_in_it_is_no_trouble() -> None:
    plain = {"title": "Yard", "units": "mm", "rules": "nec-2023", "use": "outdoor"}
    assert (
        judged(Asked(Scene.model_validate({**plain, "items": []})), [])["found"] == []
    )


def test_it_says_what_lies_in_what() -> None:
    told = judged(Asked(room_scene()), [("BOX", (0, 5000, 0))])["found"][0]["clashes"]
    assert {(one["id"], one["other"]) for one in told} == {("BOX", "CP1")} | {
        (one["id"], one["other"]) for one in told if one["other"] == "wall-north"
    }
    depths = {one["other"]: one["by"] for one in told}
    # The machine's north side comes to 2900 mm north, the panel's front is at 2700.
    assert depths["CP1"] == pytest.approx(2_000, abs=2)


def test_what_stands_on_it_goes_with_it() -> None:
    record = whole_record(room_scene())
    panel, wireway = (record["ids"].index(name) for name in ("LP1", "WW1"))
    assert record["groups"][panel] == sorted([panel, wireway])


@pytest.mark.long
@pytest.mark.parametrize("facing", ["south", "west"])
def test_beside_a_zone_it_leaves_open_what_the_survey_does(facing: str) -> None:
    # The board's footprint is 500 by 150: the pipe, 12 wide, is taken past each of its
    # edges in steps, to 30 either way, where it is tested to 10.
    place = {"at": [3000, 2000], "facing": facing, "bottom": 900}
    scene = Scene.model_validate(
        {
            "title": "Surveyed",
            "units": "mm",
            "rules": "nec-2023",
            "survey_tolerance": 10,
            "room": {"size": [6000, 4000], "height": 5000, "walls": "gypsum"},
            "items": [
                {
                    "id": "LP1",
                    "kind": "panelboard",
                    "size": [500, 150, 900],
                    "place": place,
                    "supply": {"system": "208Y/120", "amps": 100},
                    "door": "bolted",
                },
                {
                    "id": "P1",
                    "kind": "machine",
                    "size": [12, 12, 200],
                    "place": {"at": [3000, 2000], "bottom": 2500},
                },
            ],
        }
    )
    asked, key = Asked(scene), ("dedicated-space", "LP1", None, None, None)
    along, across = (75, 250) if facing == "west" else (250, 75)
    steps = range(-30, 31, 5)
    ways = [(10 * (along + by), 0, 0) for by in steps]
    ways += [(-10 * (along + by), 0, 0) for by in steps]
    ways += [(0, 10 * (across + by), 0) for by in steps]
    ways += [(0, -10 * (across + by), 0) for by in steps]
    said = _said_alike(asked, key, "P1", ways)
    assert min(said[verdict] for verdict in ("met", "open", "not-met")) >= 12


@pytest.mark.parametrize("depth", [400, 2000])
def test_beside_a_front_it_leaves_open_what_the_survey_does(depth: int) -> None:
    # The column is taken past both sides of the board, whose space is as wide; one that
    # is deep flanks the body too, in which it is not.
    place = {"at": [3000, 4000 - depth / 2 - (900 if depth < 600 else 0)]}
    board = {"id": "B1", "kind": "switchboard", "size": [2000, 600, 2150]}
    more = {"place": {"wall": "north", "along": 2000}, "door": "bolted"}
    supply = {"supply": {"system": "480Y/277", "amps": 800}, "rear": "bolted"}
    size = [200, depth, 2500]
    scene = Scene.model_validate(
        {
            "title": "Surveyed",
            "units": "mm",
            "rules": "nec-2023",
            "measures": "si",
            "survey_tolerance": 10,
            "room": {"size": [6000, 4000], "height": 3000, "walls": "gypsum"},
            "items": [
                board | more | supply,
                {"id": "C1", "kind": "column", "size": size, "place": place},
            ],
        }
    )
    asked, key = Asked(scene), ("working-space", "B1", None, None, None)
    steps = (*range(1070, 1141, 5), 1099, 1101, 1109, 1111)
    ways = [(side * 10 * by, 0, 0) for by in steps for side in (-1, 1)]
    said = _said_alike(asked, key, "C1", ways)
    assert said["met"] >= 10
    assert said["not-met"] >= 2
    assert said["open"] >= 2


def _said_alike(
    asked: Asked, key: Key, name: str, ways: Sequence[tuple[int, int, int]]
) -> Counter[str]:
    """Hold the page to Python about an item that is moved, and count the verdicts."""
    told = judged(asked, [(name, way) for way in ways])["found"]
    said = Counter[str]()
    for way, one in zip(ways, told, strict=True):
        there = asked.at(name, way)
        assert there is not None
        ruled = asked.verdicts(there, {key})[key]
        (found,) = (a["verdict"] for a in one["answers"] if tuple(a["key"]) == key)
        assert found == ruled, way
        said[ruled] += 1
    return said


def _told(
    scene: Scene, name: str, way: tuple[int, int, int], requirement: str, subject: str
) -> list[dict[str, Any]]:
    (told,) = judged(Asked(scene), [(name, way)])["found"]
    return [one for one in told["answers"] if one["key"][:2] == [requirement, subject]]
