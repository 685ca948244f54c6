"""Random rooms of upright boxes, judged twice: by the engine, by interval arithmetic.

The second method (boxes.py) follows the contract and shares no code with the engine.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from model3d import Scene, check
from tests.independent import boxes
from tests.independent.random_rooms import random_room

pytestmark = pytest.mark.many

Plain = dict[str, Any]
Judgements = dict[tuple[str, str], list[Plain]]
Judged = list[tuple[Plain, list[boxes.Thing], Judgements]]
NEAR = 0.02
ROOMS = 120


@cache
def judged() -> Judged:
    """Every room with its things and the engine's judgements of it."""
    found = []
    for seed in range(ROOMS):
        scene = random_room(seed)
        report = check(Scene.model_validate(scene)).document()
        by_key: Judgements = {}
        for one in report["judgements"]:
            key = (one["requirement"], one["subject"])
            by_key.setdefault(key, []).append(one)
        found.append((scene, boxes.things(scene), by_key))
    return found


BETTER = ("met", "open", "not-met")


def _answer(gear: boxes.Thing, room: list[boxes.Thing], scene: Plain) -> boxes.Answer:
    """Return the answer by the SI figures, or by either where that is better."""
    own = boxes.judge(gear, room, scene, either=False)
    if scene["measures"] == "si" or own.verdict == "met":
        return own
    other = boxes.judge(gear, room, scene, either=True)
    return min(own, other, key=lambda one: BETTER.index(one.verdict))


def test_working_spaces() -> None:
    seen = {"met": 0, "not-met": 0, "open": 0}
    for scene, room, engine in judged():
        for gear in (thing for thing in room if thing.kind in boxes.GEAR):
            (found,) = engine["working-space", gear.name]
            where = f"{scene['title']}, {gear.name}: {found}"
            answer = _answer(gear, room, scene)
            assert found["verdict"] == answer.verdict, where
            seen[answer.verdict] += 1
            _compare(gear, answer, found, where)
    assert min(seen.values()) > 25, seen


def _compare(gear: boxes.Thing, answer: boxes.Answer, found: Plain, where: str) -> None:
    place = found.get("place", 0.0)
    if answer.places:
        # A place between whole millimetres is only taken where the middle is wanted.
        assert any(abs(place - one) <= NEAR for one in answer.places), where
    intruders = {one["item"] for one in found.get("intrusions", [])}
    assert intruders == {one.thing.name for one in answer.hits(place)}, where
    sizes = boxes.provided(gear, answer, place)
    given = found.get("provided", {})
    assert given.keys() == sizes.keys(), (sizes, where)
    for name, size in given.items():
        assert size == pytest.approx(sizes[name], abs=NEAR), (name, sizes, where)
    if "reach" in sizes:
        assert found["required"] == {"reach": pytest.approx(answer.reach, abs=NEAR)}
        assert found["margin"] == pytest.approx(answer.reach - sizes["reach"], abs=NEAR)
        return
    condition = gear.written.get("condition") or answer.told(place)[0]
    if boxes.volts(gear) is not None:
        assert found["condition"] == condition, where
    needed = {
        "depth": answer.depths[condition - 1],
        "width": answer.width,
        "height": answer.height,
    }
    for name, size in found["required"].items():
        # What keeps the SI figure is told against that.
        own = {"depth": needed["depth"], "width": needed["width"], "height": 2000.0}
        assert size == pytest.approx(needed[name], abs=NEAR) or (
            found["verdict"] == "met" and size == own[name]
        ), where
    left = {
        name: sizes[name] - size
        for name, size in found["required"].items()
        if name in sizes
    }
    short = [
        sizes.get(name, 0.0) - size
        for name, size in found["required"].items()
        if sizes.get(name, 0.0) < size - boxes.CONTACT / 2
    ]
    wanted = max(short) if intruders and short else min(left.values())
    assert found["margin"] == pytest.approx(wanted, abs=NEAR), where


def test_no_other_place_lacks_less() -> None:
    compared = 0
    for scene, room, engine in judged():
        for gear in (thing for thing in room if thing.kind in boxes.GEAR):
            (found,) = engine["working-space", gear.name]
            if found["verdict"] != "not-met" or "place" not in found:
                continue
            answer = _answer(gear, room, scene)
            own = gear.written["size"][0]
            steps = range(0, int(answer.width - own) + 1, 5)
            places = [own - answer.width + step for step in steps]
            least = min(answer.missing(place) for place in places)
            chosen = answer.missing(found["place"])
            assert chosen <= least + 0.2, f"{scene['title']}, {gear.name}"
            compared += 1
    assert compared > 25


def test_volumes_and_bounds_of_intrusions() -> None:
    compared = 0
    for _, room, engine in judged():
        by_name = {thing.name: thing for thing in room}
        for (requirement, _), all_found in engine.items():
            for intrusion in (i for f in all_found for i in f.get("intrusions", [])):
                low, high = intrusion["low"], intrusion["high"]
                box = by_name[intrusion["item"]].box
                for a, b, (c, d) in zip(low, high, box, strict=True):
                    assert c - NEAR <= a <= b <= d + NEAR
                if requirement == "door-swing":
                    continue
                x, y, z = (b - a for a, b in zip(low, high, strict=True))
                volume = intrusion["volume"] * 1e9
                assert volume == pytest.approx(x * y * z, rel=1e-5, abs=200)
                compared += 1
    assert compared > 100


def test_door_swings() -> None:
    stopped = 0
    for scene, room, engine in judged():
        for gear in (thing for thing in room if thing.kind in boxes.GEAR):
            found = engine.get(("door-swing", gear.name), [])
            width, door = gear.written["size"][0], gear.written.get("door")
            leaves: list[list[float]] = {
                "left": [[boxes.swing(gear, room, "left", (0, width))]],
                "right": [[boxes.swing(gear, room, "right", (0, width))]],
                "pair": [
                    [boxes.swing(gear, room, "left", (0, width / 2))],
                    [boxes.swing(gear, room, "right", (width / 2, width))],
                ],
                "none": [],
                None: [
                    [
                        boxes.swing(gear, room, "left", (0, width)),
                        boxes.swing(gear, room, "right", (0, width)),
                    ]
                ],
            }[door]
            where = f"{scene['title']}, {gear.name}: {found} {leaves}"
            assert len(found) == len(leaves), where
            for one, angles in zip(found, leaves, strict=True):
                assert one["provided"]["angle"] == pytest.approx(
                    min(angles), abs=NEAR
                ), where
                bad = "not-met" if door else "open"
                assert one["verdict"] == ("met" if min(angles) >= 90 else bad), where
                stopped += min(angles) < 90
    assert stopped > 50


def test_dedicated_spaces() -> None:
    seen = {"met": 0, "not-met": 0, "open": 0}
    for scene, room, engine in judged():
        for gear in (thing for thing in room if thing.kind in boxes.GEAR):
            expected = boxes.zone(gear, room, scene["room"]["height"])
            found = [
                one["verdict"] for one in engine.get(("dedicated-space", gear.name), [])
            ]
            assert found == ([expected] if expected else []), (
                scene["title"],
                gear.name,
            )
            if expected:
                seen[expected] += 1
    assert min(seen.values()) >= 8, seen
