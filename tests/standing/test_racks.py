"""Where the cells of a rack stand. Worked out by hand from the scene format."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from model3d import Item, Room, Scene
from model3d.standing.arrangement import arrange
from model3d.standing.racks import CellRow, cell_rows, shelf_body

if TYPE_CHECKING:
    from model3d.standing.placed import Placed

CELL = (100, 200, 300)


def placed(
    *tiers: dict[str, Any], terminals: str | None = None
) -> tuple[Placed, Scene]:
    """Return a rack 1000 wide and 900 deep with its back at the south wall."""
    rack = {
        "id": "R",
        "kind": "battery-rack",
        "size": (1000, 900, 1200),
        "place": {"wall": "south", "along": 0},
        "tiers": tiers,
        "terminals": terminals,
    }
    scene = Scene(
        title="Racks",
        units="mm",
        rules="nec-2023",
        room=Room(size=(4000, 3000), height=3000),
        items=(Item.model_validate(rack),),
    )
    return arrange(scene).items["R"], scene


def rows_of(
    *tiers: dict[str, Any], terminals: str | None = None
) -> tuple[CellRow, ...]:
    return cell_rows(*placed(*tiers, terminals=terminals))


def spans(row: CellRow) -> tuple[float, float]:
    """Return how far behind the rack's front the cells begin and end, millimetres."""
    # The rack's back is at the south wall: its front is at y = 900.
    (_, back, _), (_, front, _) = row.body().bounds
    return round(900 - front * 1000, 6), round(900 - back * 1000, 6)


@pytest.mark.parametrize(
    ("keys", "begins", "ends"),
    [
        ({}, 350, 550),
        ({"rows": 2}, 250, 650),
        ({"offset": 0}, 0, 200),
        ({"offset": 400}, 400, 600),
        ({"offset": 400, "rows": 2}, 400, 800),
        ({"offset": "1 in"}, 25.4, 225.4),
    ],
)
def test_cells_are_centred_or_begin_at_their_offset(
    keys: dict[str, Any], begins: float, ends: float
) -> None:
    (row,) = rows_of({"shelf": 100, "cells": 4, "cell": CELL, **keys})
    assert spans(row) == (begins, ends)
    assert row.cells == 4
    assert row.rows == keys.get("rows", 1)


def test_terminals_are_those_of_the_tier_or_else_of_the_rack() -> None:
    tier = {"shelf": 100, "cells": 4, "cell": CELL}
    front = {**tier, "shelf": 600, "terminals": "front"}
    assert [row.terminals for row in rows_of(tier, front)] == ["top", "front"]
    top = {**tier, "terminals": "top"}
    both = rows_of(top, {**tier, "shelf": 600}, terminals="front")
    assert [row.terminals for row in both] == ["top", "front"]


def test_a_shelf_of_a_stepped_rack_begins_where_its_cells_do() -> None:
    lower = {"shelf": 100, "cells": 4, "cell": CELL, "offset": 0}
    upper = {"shelf": 600, "cells": 4, "cell": CELL, "offset": 500}
    rack, scene = placed(lower, upper)
    rows = cell_rows(rack, scene)
    shelf = shelf_body(rack, rows[1], rows, 0.04)
    (west, south, low), (east, north, high) = shelf.bounds
    assert (west, south, east) == (3.0, 0.0, 4.0)
    assert north == pytest.approx(0.4)
    assert (low, high) == pytest.approx((0.56, 0.6))
