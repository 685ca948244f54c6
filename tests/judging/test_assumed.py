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


def told(**keys: object) -> list[tuple[str, str]]:
    """Return what is taken for granted of a panelboard that says so."""
    room, items = ROOM, [PANEL | keys]
    scene = Scene(title="Room", units="mm", rules="nec-2023", room=room, items=items)
    return [(one.item, one.what) for one in check(scene).assumed]


def test_nothing_is_said_of_what_the_book_asks() -> None:
    assert told() == []


def test_an_item_without_a_working_space_is_told_with_its_reason() -> None:
    what = "No working space is asked for: It is worked at from the corridor."
    found = told(working_space="none", why="It is worked at from the corridor.")
    assert found == [("LP1", what)]


def test_a_stated_condition_is_told_with_its_reason() -> None:
    what = "Condition 1 is what the scene states: The wall is lined with rubber."
    found = told(condition=1, why="The wall is lined with rubber.")
    assert found == [("LP1", what)]
