"""Questions about the height above battery cells."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.lessons.drills.dice import ruler
from model3d.lessons.drills.sketch import Sketch, room

if TYPE_CHECKING:
    from model3d.lessons.drills.dice import Dice
    from model3d.lessons.drills.sketch import Written


def sketch(dice: Dice) -> Sketch:
    """Draw a rack with one tier, over which a second one is set."""
    units = ruler(dice)
    asked = units.near(0.25 + dice.number(6) / 20)
    low = units.near(0.15 + dice.number(3) / 20)
    high = units.near(0.34 + dice.number(6) / 50)
    post, shelf = units.near(0.025), units.near(0.04)
    cell = [units.near(0.15), units.near(0.3), high]
    tier: Written = {"shelf": low, "cells": 10, "cell": cell, "post": post}
    rack: Written = {
        "id": "R1",
        "name": "Battery rack",
        "kind": "battery-rack",
        "open": True,
        "size": [units.near(1.8), units.near(0.45), units.near(1.6)],
        "place": {"wall": "north", "along": units.near(2.0), "gap": units.near(0.05)},
        "supply": {"system": "125 dc", "amps": dice.one((60, 100, 200))},
        "rear": "bolted",
        "tiers": [tier],
        "shelf_thickness": shelf,
        "top_clearance": asked,
    }
    scene = room(dice, units, [rack])

    def put(size: float) -> list[Written]:
        upper = units.plain(low + high + post + size + shelf)
        return [{"set": "R1", "tiers": [tier, {**tier, "shelf": upper}]}]

    return Sketch(
        scene,
        units,
        "R1",
        "clearance",
        put,
        ask="A second tier is set over the first one of the rack R1. From the "
        "terminals of the lower cells to the underside of the shelf above them {size} "
        "are left. "
        "Is the height above the cells met?",
        needs="the maker of the battery asks for {limit} above the terminals",
        learn="above cells the maker's figure counts, from their highest point up",
        look="south-west",
        limit=units.metres(asked),
        fine=2,
    )
