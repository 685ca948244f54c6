"""Questions about how far a door of equipment opens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.lessons.drills.dice import ruler
from model3d.lessons.drills.sketch import Sketch, deep_of, room

if TYPE_CHECKING:
    from model3d.lessons.drills.dice import Dice
    from model3d.lessons.drills.sketch import Written

_NEAR: Final = 0.027
"""Share of the leaf's width: what is nearer stops it further from a right angle than
a sixth of one (the arc sine of 0.973 is 76.7 degrees)."""
_BEFORE: Final = (("PS1", "Pump skid", "machine"), ("WB1", "Work bench", "furniture"))


def sketch(dice: Dice) -> Sketch:
    """Draw a panel with one wide leaf, and something flat in front of it."""
    units = ruler(dice)
    wide = units.near(dice.one((1.0, 1.05, 1.1, 1.15, 1.2)))
    hinge = dice.one(("left", "right"))
    panel: Written = {
        "id": "CP1",
        "name": "Control panel",
        "kind": "control-panel",
        "size": [wide, units.near(0.4), units.near(1.9 + dice.number(2) / 10)],
        "place": {"wall": "north", "along": units.near(2.0)},
        "supply": {
            "system": dice.one(("208Y/120", "240/120")),
            "amps": dice.one((60, 100, 200)),
        },
        "door": hinge,
        "rear": "bolted",
    }
    scene = room(dice, units, [panel])
    name, called, kind = dice.one(_BEFORE)
    thick, high = units.near(0.6), units.near(0.9 + dice.number(4) / 10)
    front = deep_of(scene) - panel["size"][1]

    def put(size: float) -> list[Written]:
        at = [
            units.plain(panel["place"]["along"] + wide / 2),
            units.plain(front - size - thick / 2),
        ]
        thing = {
            "id": name,
            "name": called,
            "kind": kind,
            "size": [units.near(1.4), thick, high],
            "place": {"at": at, "facing": "north"},
        }
        return [{"add": thing}, {"open": "CP1", "to": 90}]

    return Sketch(
        scene,
        units,
        "CP1",
        "angle",
        put,
        ask=f"The panel CP1 has one leaf over its whole front, hinged on the {hinge}. "
        f"A {called.lower()}, {name}, is set {{size}} in front of it. Does the "
        "leaf open as far as it must?",
        needs="the leaf needs its own width, {limit}, to come round to a right angle",
        learn="a leaf that is longer than the free space does not open far enough",
        look="above",
        limit=units.metres(wide),
        far=_NEAR,
        fine=2,
    )
