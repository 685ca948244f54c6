"""What is taken for granted is listed, and no longer once it is said.

The contract: a default that was assumed is listed as assumed.
"""

from __future__ import annotations

from typing import Any

import pytest

from model3d import Scene, check

ROOM = {"size": [6000, 4000], "height": 5000, "walls": "gypsum"}
PANEL = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [500, 150, 900],
    "place": {"wall": "north", "along": 2000, "bottom": 900},
    "supply": {"system": "208Y/120", "amps": 100},
    "door": "left",
}
CEILING = {
    "id": "C1",
    "kind": "ceiling",
    "size": [6000, 4000, 20],
    "place": {"at": [3000, 2000], "bottom": 2500},
}


@pytest.mark.parametrize(
    ("said", "listed"),
    [({}, True), ({"structural": True}, False), ({"structural": False}, False)],
)
def test_a_ceiling_of_which_nothing_is_said(
    said: dict[str, Any], *, listed: bool
) -> None:
    scene = Scene(
        title="Room",
        units="mm",
        rules="nec-2023",
        room=ROOM,
        items=[PANEL, {**CEILING, **said}],
    )
    assumed = {one.item for one in check(scene).assumed}
    assert ("C1" in assumed) is listed
