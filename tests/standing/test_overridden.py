"""What the scene asks otherwise is told with every result, with its reason."""

from __future__ import annotations

from typing import Any

from model3d import Scene, check


def told(**keys: object) -> list[Any]:
    """Return what is taken for granted of a panelboard that says so."""
    board = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 900],
        "place": {"wall": "north", "along": 2000, "bottom": 900},
        "supply": {"system": "208Y/120", "amps": 100},
        "door": "bolted",
    }
    scene = {
        "title": "Annex",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [6000, 4000], "height": 3000, "walls": "gypsum"},
        "items": [board | keys],
    }
    found = check(Scene.model_validate(scene)).document()["assumed"]
    assert isinstance(found, list)
    return found


def test_nothing_is_said_of_what_is_asked_by_the_book() -> None:
    assert told() == []


def test_an_item_without_a_working_space_is_told_with_its_reason() -> None:
    what = "No working space is asked for: It is worked at from the corridor."
    found = told(working_space="none", why="It is worked at from the corridor.")
    assert found == [{"item": "LP1", "what": what}]


def test_a_stated_condition_is_told_with_its_reason() -> None:
    what = "Condition 1 is what the scene states: The wall is lined with rubber."
    found = told(condition=1, why="The wall is lined with rubber.")
    assert found == [{"item": "LP1", "what": what}]
