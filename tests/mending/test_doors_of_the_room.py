"""Where something stops the leaf of a personnel door, that is what gives way.

Source: NEC 2023 110.26(C)(2), 610 mm (24 in): a leaf of 900 mm leaves that clear at
asin(610 / 900) = 42.68 degrees, worked out by hand; that remedies are proved by a whole
check is common practice here.
"""

from __future__ import annotations

from typing import Any

import pytest

from model3d import Scene, check
from model3d.mending.proof.sketch import changed
from model3d.mending.remedies import bench_of, mends

Plain = dict[str, Any]

CABINET: Plain = {
    "id": "CAB",
    "kind": "furniture",
    "size": [600, 400, 1800],
    "place": {"at": [350, 1500], "facing": "east"},
}
"""From 150 to 550 mm before the west wall, and from 200 to 800 beside the hinge."""


def scene(*things: Plain) -> Scene:
    """Return a room whose only door opens in, hinged 1 m from its corner."""
    door = {"id": "D1", "wall": "west", "along": 1000, "width": 900, "height": 2100}
    door |= {"opens": "in", "hinge": "left", "hardware": "panic"}
    panel: Plain = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 900],
        "place": {"wall": "east", "along": 1000, "bottom": 900},
        "supply": {"system": "208Y/120", "amps": 200},
        "door": "left",
    }
    written: Plain = {"title": "Room", "units": "mm", "rules": "nec-2023"}
    room = {"size": [4000, 3000], "height": 2600, "doors": [door]}
    return Scene.model_validate(written | {"room": room, "items": [panel, *things]})


@pytest.mark.long
def test_what_stops_the_only_door_is_moved_until_a_way_is_clear() -> None:
    shut_in = scene(CABINET)
    (found,) = (
        one for one in mends(bench_of(shut_in)) if one.judged.requirement == "entrance"
    )
    assert found.judged.way is None
    # The tip passes 610 mm before the wall, where the cabinet now begins at 150 mm; and
    # 150 / tan(42.68 degrees) = 163 mm beside the hinge, where it now ends at 800.
    assert [one.text for one in found.remedies] == [
        "Move CAB 460 mm (1 ft 6 1/8 in) forward.",
        "Move CAB 640 mm (2 ft 1 3/16 in) to the left.",
    ]
    for one in found.remedies:
        after = changed(shut_in, one.do)
        assert after is not None
        (now,) = check(after).of("LP1", "entrance")
        assert now.verdict == "met"


def test_a_column_that_stops_a_door_stays() -> None:
    (found,) = (
        one
        for one in mends(bench_of(scene({**CABINET, "kind": "column"})))
        if one.judged.requirement == "entrance"
    )
    assert not found.remedies
    assert found.why
