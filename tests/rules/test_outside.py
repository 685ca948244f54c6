"""Nothing is met of what is drawn outside the room.

Source: requirements.md, as-drawn: an item outside the room is open, and what cannot be
judged is never quietly met.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pytest

from model3d import Scene, check
from model3d.check import situate
from model3d.rules import all_rules, tells

if TYPE_CHECKING:
    from model3d import Report

Plain = dict[str, Any]


def scene_with(place: Plain, **more: Any) -> Scene:  # noqa: ANN401 - any key of an item
    gear: Plain = {"id": "LP1", "kind": "panelboard", "size": [500, 150, 900]}
    gear |= {"supply": {"system": "208Y/120", "amps": 100}, "rear": "bolted"}
    gear |= {"door": "left", "clearances": {"left": 100}, "place": place, **more}
    door: Plain = {"id": "D1", "wall": "south", "along": 1000, "width": 900}
    door |= {"height": 2100, "opens": "out"}
    scene: Plain = {"title": "Room", "units": "mm", "rules": "nec-2023"}
    scene |= {"room": {"size": [6000, 4000], "height": 3000, "doors": [door]}}
    return Scene.model_validate(scene | {"items": [gear]})


def judged(place: Plain, **more: Any) -> Report:  # noqa: ANN401 - as above
    return check(scene_with(place, **more))


OUTSIDE: Final[list[Plain]] = [
    {"at": [2250, 4500], "facing": "south", "bottom": 900},
    {"at": [2250, 4500], "facing": "north", "bottom": 900},
    {"at": [2250, -2500], "facing": "south", "bottom": 900},
    {"at": [-6000, 2000], "facing": "east", "bottom": 900},
    {"at": [2250, 2000], "facing": "south", "bottom": 3000},
    {"at": [2250, 2000], "facing": "south", "bottom": -900},
]


@pytest.mark.parametrize("place", OUTSIDE)
def test_nor_is_it_told_quickly(place: Plain) -> None:
    situation = situate(scene_with(place))
    item = situation.arrangement.items["LP1"]
    assert not any(tells(rule, "is_met", item, situation) for rule in all_rules())
    # Inside it is: the question is one that a rule answers.
    inside = situate(scene_with({"wall": "north", "along": 2000, "bottom": 900}))
    item = inside.arrangement.items["LP1"]
    assert any(tells(rule, "is_met", item, inside) for rule in all_rules())


@pytest.mark.parametrize("place", OUTSIDE)
def test_nothing_is_met_of_what_is_outside_the_room(place: Plain) -> None:
    report = judged(place)
    (drawn,) = report.of("LP1", "as-drawn")
    assert drawn.verdict == "open"
    met = [one for one in report.of("LP1") if one.verdict == "met"]
    assert not met


@pytest.mark.parametrize("gap", [0, -150])
def test_what_stands_at_the_wall_or_is_let_into_it_is_in_the_room(gap: float) -> None:
    report = judged({"wall": "north", "along": 2000, "bottom": 900, "gap": gap})
    assert not report.of("LP1", "as-drawn")
    (floor,) = report.of("LP1", "clear-floor")
    assert floor.verdict == "met"
