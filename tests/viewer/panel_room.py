"""A small invented room for the tests of stages and pictures.

Of LP1's working space (depth 900, NEC 2023 Table 110.26(A)(1) at 120 V to ground) a
crate leaves 250; it stops LP1's door too. AD1 hangs in the space kept above LP1. CP1
has no supply, so its space stays open. DS1 has all that it needs. L1 and C1 hang
overhead and are in no judgement.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d import Scene, check
from viewer.stage import build_stage

if TYPE_CHECKING:
    from viewer.stage import Stage

LP1_DEPTH: Final = 0.9
LEFT_BY_CRATE: Final = 0.25

ITEMS: Final[list[dict[str, Any]]] = [
    {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 900],
        "place": {"wall": "west", "along": 1500, "bottom": 900},
        "supply": {"system": "208Y/120", "amps": 200},
        "door": "left",
    },
    {
        "id": "CRATE",
        "kind": "storage",
        "size": [400, 400, 1400],
        "place": {"at": [600, 1750]},
    },
    {
        "id": "AD1",
        "kind": "duct",
        "from": [0, 1750, 2700],
        "to": [5000, 1750, 2700],
        "section": [300, 200],
    },
    {
        "id": "CP1",
        "kind": "control-panel",
        "size": [600, 250, 900],
        "place": {"wall": "east", "along": 1500, "bottom": 700},
        "door": "right",
        "rear": "bolted",
    },
    {
        "id": "DS1",
        "kind": "disconnect",
        "size": [300, 150, 500],
        "place": {"wall": "north", "along": 2200, "bottom": 1200},
        "supply": {"system": "208Y/120", "amps": 60},
        "door": "left",
        "rear": "bolted",
    },
    {
        "id": "L1",
        "kind": "luminaire",
        "size": [1200, 150, 100],
        "place": {"at": [3000, 2800], "bottom": 2600},
    },
    {
        "id": "C1",
        "kind": "conduit",
        "from": [4500, 0, 2500],
        "to": [4500, 4000, 2500],
        "diameter": 60,
    },
]


def scene(*, units: str = "mm", **changes: Any) -> Scene:  # noqa: ANN401 - any field
    """Return the room; lengths are millimetres whatever its ``units``."""
    written: dict[str, Any] = {
        "title": "Panel room",
        "units": units,
        "rules": "nec-2023",
        "measures": "si",
        "room": {
            "size": [5000, 4000],
            "height": 3000,
            "walls": "concrete",
            "doors": [
                {
                    "id": "D1",
                    "wall": "south",
                    "along": 500,
                    "width": 900,
                    "height": 2100,
                    "opens": "out",
                    "hinge": "left",
                }
            ],
        },
        "items": ITEMS,
        **changes,
    }
    return Scene.model_validate(in_mm(written))


def in_mm(value: Any) -> Any:  # noqa: ANN401 - whatever a scene holds
    """Return what is written with its unit beside every bare number above one."""
    if isinstance(value, dict):
        return {
            key: one if key in {"amps", "cells", "supply"} else in_mm(one)
            for key, one in value.items()
        }
    if isinstance(value, list):
        return [in_mm(one) for one in value]
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return f"{value} mm" if is_number else value


def stage(of: str | None = None, **changes: Any) -> Stage:  # noqa: ANN401 - any field
    """Return the stage of the room."""
    made = scene(**changes)
    return build_stage(made, check(made), of=of)
