"""Random rooms of sorts in which more than depth and width decides. Invented data."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import random

Plain = dict[str, Any]
Dress = Callable[[Plain, "random.Random"], Plain]


def dwelling(room: Plain, draw: random.Random) -> Plain:
    """Make a room one of an existing dwelling, some of it with beams overhead."""
    supplies = ({"system": "240/120", "amps": amps} for amps in (100, 200, 200, 400))
    supply = list(supplies)
    for item in room["items"]:
        if "supply" in item or item["kind"] == "panelboard":
            item["supply"] = draw.choice(supply)
            item["service"] = draw.choice([True, False])
        item.pop("dead_front", None)
    beams = [
        {
            "id": f"J{number}",
            "kind": "beam",
            "size": [draw.randint(300, 3000), draw.randint(60, 300), 200],
            "place": {
                "at": [draw.randint(0, 4000), draw.randint(0, 4000)],
                "bottom": draw.choice([1500, 1800, 1950, 2000]),
            },
        }
        for number in range(3)
    ]
    items = [*room["items"], *beams]
    return {**room, "premises": "existing-dwelling", "items": items}


def limited(room: Plain, draw: random.Random) -> Plain:
    """Make a room a place of limited access."""
    use = draw.choice(["crawl-space", "above-ceiling"])
    place = {**room["room"], "access_opening": [760, 760]}
    return {**room, "use": use, "room": place, "rules": "nec-2023"}


def racked(room: Plain, draw: random.Random) -> Plain:
    """Put battery racks into a room, and something low above the cells of some."""
    racks, above = [], []
    for number in range(3):
        at = [draw.randint(800, 4000), draw.randint(800, 4000)]
        high = draw.choice([400, 700])
        tiers = [
            {"shelf": 150 + high * tier, "cells": 6, "rows": 1, "cell": [150, 400, 250]}
            for tier in range(draw.choice([1, 2]))
        ]
        rack: Plain = {
            "id": f"R{number}",
            "kind": "battery-rack",
            "size": [1200, 500, 150 + high * len(tiers)],
            "place": {"at": at, "facing": draw.choice(["north", "south"])},
            "supply": {"system": "48 dc"},
            "tiers": tiers,
        }
        if draw.random() < 0.8:
            rack["top_clearance"] = draw.choice([100, 200, 305])
        if draw.random() < 0.7:
            rack["shelf_thickness"] = 20
        racks.append(rack)
        above.append(
            {
                "id": f"T{number}",
                "kind": "cable-tray",
                "size": [draw.randint(200, 2000), 300, 60],
                "place": {
                    "at": [at[0] + draw.randint(-600, 600), at[1]],
                    "bottom": 400
                    + high * (len(tiers) - 1)
                    + draw.choice([60, 150, 250]),
                },
            }
        )
    return {**room, "items": [*room["items"], *racks, *above]}
