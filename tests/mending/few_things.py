"""Random rooms with few things in them, and with a door."""

from __future__ import annotations

from typing import Any

from model3d import Scene


def few(plain: dict[str, Any], seed: int) -> Scene:
    """Return a random room with few things in it, and with a door."""
    door = {"id": "D1", "wall": "north", "along": 300, "width": 900, "height": 1900}
    hung = {"opens": "out", "hinge": "left", "hardware": "panic", "opens_to": 110}
    high = max(plain["room"]["height"], 2100)
    plain["room"] |= {"height": high, "doors": [door | hung]}
    plain["items"] = plain["items"][: 5 + seed % 6]
    return Scene.model_validate(plain)
