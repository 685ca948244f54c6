"""What misses a figure by next to nothing is not told as if it were the figure."""

from __future__ import annotations

from typing import Any, Final

from model3d import Scene, check

MISS: Final = 0.02
"""Inches: half a millimetre, less than a thirty-second of an inch."""
Plain = dict[str, Any]

PANEL: Final[Plain] = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [20, 6, 36],
    "place": {"wall": "north", "along": 80, "bottom": 36},
    "supply": {"system": "208Y/120", "amps": 100},
    "door": "bolted",
}
"""Its front is 154 in from the south wall, and begins 80 in from the west wall."""


def box(size: list[float], middle: list[float], bottom: float = 0.0) -> Plain:
    place = {"at": middle, "bottom": bottom}
    return {"id": "X", "kind": "obstacle", "size": size, "place": place}


def told(requirement: str, subject: str, *items: Plain, **more: object) -> str:
    """Return the reason of a judgement in a room of 240 by 160 by 120 inches."""
    scene: Plain = {
        "title": "A room",
        "units": "in",
        "rules": "nec-2023",
        "measures": "inch-pound",
        "room": {"size": [240, 160], "height": 120, "walls": "gypsum"},
        "items": list(items),
    }
    room = more.pop("room", {})
    scene |= more
    scene["room"] |= room
    for one in check(Scene.model_validate(scene)).judgements:
        if (one.requirement, one.subject) == (requirement, subject):
            assert one.verdict != "met"
            return one.reason
    raise AssertionError(requirement)


def test_depth() -> None:
    near = box([20, 10, 90], [90, 154 - 36 + MISS - 5])
    reason = told("working-space", "LP1", PANEL, near)
    assert reason.startswith("X is 2 ft 11 15/16 in (913.9 mm) ahead of the front.")


def test_height() -> None:
    low = box([240, 36, 10], [120, 136], 78 - MISS)
    reason = told("working-space", "LP1", PANEL, low)
    assert reason.startswith("X is 6 ft 5 15/16 in (1980.7 mm) above the floor.")


def test_width() -> None:
    left = box([10, 30, 90], [80 - 5, 130])
    right = box([10, 30, 90], [110 + 5 - MISS, 130]) | {"id": "Y"}
    reason = told("working-space", "LP1", PANEL, left, right)
    assert "2 ft 5 15/16 in (761.5 mm) is clear" in reason


def test_reach() -> None:
    trough = {
        "id": "WW1",
        "kind": "wireway",
        "size": [20, 12 + MISS, 6],
        "place": {"over": "LP1", "gap": 0, "align": "back"},
    }
    reason = told("working-space", "LP1", PANEL, trough)
    assert reason.startswith("WW1 reaches 6 1/16 in (152.9 mm) past the front")


def test_what_makes_the_condition() -> None:
    supply = {"system": "480Y/277", "amps": 100}
    facing = PANEL | {
        "id": "LP2",
        "supply": supply,
        "place": {"at": [90, 154 - 48 + MISS - 3], "facing": "north", "bottom": 36},
    }
    reason = told("working-space", "LP1", PANEL | {"supply": supply}, facing)
    assert "3 ft 11 15/16 in (1218.7 mm)" in reason
    assert "4 ft (" not in reason


def test_handle() -> None:
    high = {"handle": 79 - 36 + MISS, "size": [20, 6, 48]}
    reason = told("handle-height", "LP1", PANEL | high)
    assert "grip is 6 ft 7 1/16 in (2007.1 mm) above" in reason


def test_ceiling_that_burns() -> None:
    board = PANEL | {"kind": "switchboard", "place": {"wall": "north", "along": 80}}
    lower = {"height": 36 + 36 - MISS}
    reason = told(
        "ceiling-clearance", "LP1", board, room=lower, ceiling_material="wood"
    )
    assert "is 2 ft 11 15/16 in (913.9 mm) above it; 3 ft" in reason


def test_opening() -> None:
    opening = {"access_opening": [22 - MISS, 30], "height": 48}
    panel = PANEL | {"place": {"wall": "north", "along": 80, "bottom": 6}}
    reason = told("limited-access", "room", panel, room=opening, use="crawl-space")
    assert reason.startswith("The opening is 1 ft 9 15/16 in (558.3 mm) by 2 ft 6 in")


def test_live_parts_without_a_guard() -> None:
    reason = told(
        "guarded-live-parts", "LP1", PANEL | {"unguarded_live_parts": 96 - MISS}
    )
    assert "is 7 ft 11 15/16 in (2437.9 mm) above the floor; 8 ft" in reason


def test_units_of_energy_storage() -> None:
    one, other = (
        {
            "id": name,
            "kind": "energy-storage-unit",
            "size": [24, 24, 60],
            "place": {"at": at},
            "supply": {"system": "480 dc"},
        }
        for name, at in (("E1", [80, 60]), ("E2", [140 - MISS, 60]))
    )
    reason = told("storage-unit-spacing", "E1", one, other)
    assert reason.startswith("E2 is nearest: 2 ft 11 15/16 in (913.9 mm) away.")


def test_edge_of_the_floor() -> None:
    pit = {
        "id": "X",
        "kind": "pit",
        "size": [40, 40, 40],
        "place": {"at": [90, 154 - 36 + MISS - 20], "bottom": -40},
    }
    reason = told("clear-floor", "LP1", PANEL, pit)
    assert reason.startswith("The floor drops 2 ft 11 15/16 in (913.9 mm) ahead")


def test_height_of_a_way() -> None:
    door = {
        "id": "D1",
        "wall": "south",
        "along": 20,
        "width": 36,
        "height": 78 - MISS,
        "opens": "out",
        "hinge": "left",
        "opens_to": 90,
    }
    reason = told("entrance", "LP1", PANEL, room={"doors": [door]})
    assert "no higher than 6 ft 5 15/16 in (1980.7 mm)" in reason
