"""A personnel door asks only of gear that its leaf may reach how its space fits."""

from __future__ import annotations

from model3d import Scene
from model3d.check import situate
from model3d.following.watch import watched
from model3d.rules.door_over_working_space import room_claims
from model3d.working.tested import _tested


def test_gear_far_from_the_leaf_is_not_looked_at_closely() -> None:
    panel = {"kind": "panelboard", "size": [500, 150, 900]}
    panel |= {"supply": {"system": "208Y/120", "amps": 100}}  # type: ignore[dict-item]
    door = {"id": "D1", "wall": "south", "along": 500, "width": 900, "height": 2100}
    scene = Scene.model_validate(
        {
            "title": "A room",
            "units": "mm",
            "rules": "nec-2023",
            "room": {
                "size": [8000, 5000],
                "height": 3000,
                "walls": "gypsum",
                "doors": [door | {"opens": "in", "hinge": "left"}],
            },
            "items": [
                {"id": "NEAR", **panel}
                | {"place": {"wall": "south", "along": 1500, "bottom": 900}},
                {"id": "FAR", **panel}
                | {"place": {"wall": "north", "along": 700, "bottom": 900}},
            ],
        }
    )
    room = watched(situate(scene))
    (judged,) = room_claims(room)
    assert judged.verdict == "open"
    assert "NEAR" in judged.reason
    items = room.arrangement.items
    assert room.noted((_tested, items["NEAR"])) != (None, None)
    assert room.noted((_tested, items["FAR"])) == (None, None)
