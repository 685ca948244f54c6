"""Questions about the working space: its depth, its width, its height."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.lessons.drills.dice import ruler
from model3d.lessons.drills.sketch import Sketch, deep_of, room

if TYPE_CHECKING:
    from model3d.lessons.drills.dice import Dice, Ruler
    from model3d.lessons.drills.sketch import Written

_SYSTEMS: Final = ("208Y/120", "480Y/277", "240/120")
_BEFORE: Final = (
    ("PM1", "Pump set", "machine"),
    ("CB1", "Steel cabinet", "furniture"),
    ("CL1", "Column", "column"),
)
_OVER: Final = (("UH1", "Hung heater", "machine"), ("AH1", "Fan coil", "machine"))
_LEFT: Final = 2.0
"""Metres. Where on the north wall the item begins."""


def sketch(dice: Dice) -> Sketch:
    """Draw a room with one panel or board, and one size that is asked about."""
    return dice.one((_depth, _width, _height))(dice)


def _panel(dice: Dice, units: Ruler, widths: tuple[float, ...]) -> Written:
    low = units.near(0.8 + dice.number(3) / 10)
    return {
        "id": "LP1",
        "name": "Panelboard",
        "kind": "panelboard",
        "size": [
            units.near(dice.one(widths)),
            units.near(0.15),
            units.near(0.9 + dice.number(2) / 10),
        ],
        "place": {"wall": "north", "along": units.near(_LEFT), "bottom": low},
        "supply": {
            "system": dice.one(_SYSTEMS),
            "amps": dice.one((100, 200, 225, 400)),
        },
        "door": "bolted",
        "rear": "bolted",
    }


def _depth(dice: Dice) -> Sketch:
    units = ruler(dice)
    panel = _panel(dice, units, (0.5, 0.6, 0.8))
    scene = room(dice, units, [panel])
    name, called, kind = dice.one(_BEFORE)
    wide, thick, high = units.near(1.2), units.near(0.5), units.near(1.5)
    front = deep_of(scene) - panel["size"][1]
    middle = panel["place"]["along"] + panel["size"][0] / 2

    def put(size: float) -> list[Written]:
        at = [units.plain(middle), units.plain(front - size - thick / 2)]
        thing = {"id": name, "name": called, "kind": kind, "size": [wide, thick, high]}
        return [{"add": {**thing, "place": {"at": at, "facing": "north"}}}]

    return Sketch(
        scene,
        units,
        "LP1",
        "depth",
        put,
        ask=f"A {called.lower()}, {name}, is set {{size}} in front of the panelboard "
        f"LP1, which is fed with {panel['supply']['system']}. The walls are of "
        f"{scene['room']['walls']}. Is the working space met?",
        needs="{limit} of depth are required",
        learn="voltage to ground and what stands opposite give the depth",
        look="west",
    )


def _width(dice: Dice) -> Sketch:
    units = ruler(dice)
    panel = _panel(dice, units, (0.4, 0.5, 0.6))
    scene = room(dice, units, [panel])
    left = panel["place"]["along"]
    gap = units.near(dice.one((0.0, 0.05, 0.1)))
    wide, deep, high = units.near(0.5), units.near(0.6), units.near(1.8)
    thing = {"kind": "furniture", "size": [wide, deep, high]}

    def put(size: float) -> list[Written]:
        alongs = (left - gap - wide, left - gap + size)
        names = (("CB1", "Left cabinet"), ("CB2", "Right cabinet"))
        return [
            {
                "add": {
                    "id": name,
                    "name": called,
                    **thing,
                    "place": {"wall": "north", "along": units.plain(along)},
                }
            }
            for (name, called), along in zip(names, alongs, strict=True)
        ]

    return Sketch(
        scene,
        units,
        "LP1",
        "width",
        put,
        ask="Two cabinets are set beside the panelboard LP1, deeper than it is. "
        "Between them {size} are left. Is the working space met?",
        needs="{limit} of width are required, centred or not",
        learn="the width is the greater of the printed one and the equipment's own",
        look="above",
    )


def _height(dice: Dice) -> Sketch:
    units = ruler(dice)
    panel = _panel(dice, units, (0.9, 1.0, 1.2))
    scene = room(dice, units, [panel])
    name, called, kind = dice.one(_OVER)
    size = [units.near(0.4), units.near(0.4), units.near(0.3)]
    at = [
        panel["place"]["along"] + units.near(0.2),
        deep_of(scene) - panel["size"][1] - units.near(0.45),
    ]

    def put(low: float) -> list[Written]:
        place = {"at": [*map(units.plain, at)], "facing": "north", "bottom": low}
        thing = {"id": name, "name": called, "kind": kind, "size": size}
        return [{"add": {**thing, "place": place}}]

    return Sketch(
        scene,
        units,
        "LP1",
        "height",
        put,
        ask=f"A {called.lower()}, {name}, is hung in front of the panelboard LP1. "
        "Its underside is {size} above the floor. Is the working space met?",
        needs="{limit} of height are required, over the whole depth",
        learn="the height is the printed one, or the equipment's top if that is higher",
        look="west",
    )
