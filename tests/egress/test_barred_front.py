"""A bench across the front of a panel, ever further away.

Somebody between the panel and the bench leaves along the front, past the open leaf: as
wide as the bench is far away, where the leaf takes no more. What is 610 mm (24 in) or
more is clear, less is not.

Source: NEC 2023 110.26(C)(2), open equipment doors leave 610 mm (24 in); subtraction.
"""

from __future__ import annotations

from typing import Any

import pytest

from model3d import Judgement, Scene, check

Plain = dict[str, Any]

DEEP, ALONG, WIDE = 4000, 2000, 500
"""Of the room; the panel's middle and width."""


def entrance(width: int, along: int, away: int) -> Judgement:
    """Return the judgement with a bench so wide, so far to the east, so far away."""
    panel: Plain = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [WIDE, 150, 900],
        "place": {"wall": "north", "along": ALONG, "bottom": 900},
        "supply": {"system": "208Y/120", "amps": 225},
        "door": "left",
    }
    bench: Plain = {
        "id": "B",
        "kind": "furniture",
        "size": [width, 400, 900],
        "place": {"at": [along, DEEP - 150 - away - 200], "facing": "south"},
    }
    door: Plain = {
        "id": "D",
        "wall": "east",
        "along": 2000,
        "width": 914,
        "height": 2100,
    }
    room: Plain = {"size": [6000, DEEP], "height": 3000, "walls": "gypsum"}
    written: Plain = {"title": "Bench", "units": "mm", "rules": "nec-2023"}
    doors = {"doors": [{**door, "opens": "out", "hinge": "left"}]}
    scene = {**written, "room": {**room, **doors}, "items": [panel, bench]}
    (found,) = check(Scene.model_validate(scene)).of("LP1", "entrance")
    return found


@pytest.mark.parametrize(("width", "along"), [(1200, 2250), (1200, 2100), (400, 2250)])
def test_a_wider_aisle_is_never_worse(width: int, along: int) -> None:
    verdicts, widths = [], []
    for away in (100, 210, 250, 350, 500, 510, 520, 605, 615, 700, 900):
        found = entrance(width, along, away)
        verdicts.append(found.verdict)
        widths.append(found.provided["width"])
        assert found.provided["width"] == pytest.approx(away / 1000, abs=0.015)
        assert (found.verdict == "met") == (away > 610)
    assert verdicts == sorted(verdicts, reverse=True), "not-met, then met"
    assert widths == sorted(widths)


def test_a_niche_is_narrow_with_the_door_shut_too() -> None:
    # A panel set back between two machines 500 mm apart: its leaf takes nothing of the
    # way of whoever stands before the niche.
    written: Plain = {"title": "Niche", "units": "mm", "rules": "nec-2023"}
    door: Plain = {
        "id": "D",
        "wall": "east",
        "along": 1000,
        "width": 914,
        "height": 2100,
    }
    room: Plain = {"size": [6000, 5000], "height": 3000, "walls": "gypsum"}
    items: list[Plain] = [
        {
            "id": "LP1",
            "kind": "panelboard",
            "size": [500, 300, 2000],
            "place": {"wall": "north", "along": 2000},
            "supply": {"system": "208Y/120", "amps": 225},
            "door": "left",
        },
        *(
            {
                "id": name,
                "kind": "machine",
                "size": [400, 600, 2000],
                "place": {"wall": "north", "along": along},
            }
            for name, along in (("M1", 1550), ("M2", 2450))
        ),
    ]
    doors = {"doors": [{**door, "opens": "out", "hinge": "left"}]}
    scene = {**written, "room": {**room, **doors}, "items": items}
    (found,) = check(Scene.model_validate(scene)).of("LP1", "entrance")
    assert found.verdict == "met"
