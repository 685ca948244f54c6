"""More floor between line-ups never makes a way out worse, whatever leaves hang there.

Source: NEC 2023 110.26(C)(2), 610 mm (24 in) with any equipment doors open at 90
degrees; that more room is never worse is a relation, and needs no figure.
"""

from __future__ import annotations

from itertools import accumulate, pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

Plain = dict[str, Any]
Unit = tuple[int, tuple[tuple[str, int, int], ...]]
"""Width of a unit, and of its leaves the hinge, the width and where each begins."""

LONG = 9000
TENTH = 0.1
"""Millimetres: of figures that are told no finer."""
RANK = {"not-met": 0, "open": 1, "met": 2}


def one_leaf(hinge: str) -> st.SearchStrategy[Unit]:
    return st.integers(300, 1000).map(lambda width: (width, ((hinge, width, 0),)))


UNITS: st.SearchStrategy[Unit] = st.one_of(
    one_leaf("left"),
    one_leaf("right"),
    st.integers(200, 500).map(
        lambda half: (2 * half, (("left", half, 0), ("right", half, half)))
    ),
    st.integers(300, 1000).map(lambda width: (width, ())),
)
ROWS = st.tuples(st.integers(50, 2500), st.lists(UNITS, min_size=1, max_size=4))


def scene(
    aisle: int,
    rows: dict[str, tuple[int, list[Unit]]],
    doors: str,
    width: int,
    deep: int,
) -> Scene:
    """Return a room with two rows of units, as far apart as the aisle is wide."""
    items: list[Plain] = []
    for wall, (first, units) in rows.items():
        starts = accumulate((wide for wide, _ in units), initial=first)
        for number, (west, (wide, leaves)) in enumerate(
            zip(starts, units, strict=False)
        ):
            along = west if wall == "north" else LONG - west - wide
            unit: Plain = {"id": f"{wall}{number}", "kind": "switchgear"}
            unit |= {"size": [wide, deep, 2000], "rear": "bolted"}
            unit |= {"place": {"wall": wall, "along": along}}
            unit |= {"supply": {"system": "480Y/277", "amps": 400}}
            hung = [
                {"hinge": hinge, "width": leaf, "offset": at, "sill": 50}
                | {"height": 1900}
                for hinge, leaf, at in leaves
            ]
            items.append(unit | ({"doors": hung} if hung else {"door": "bolted"}))
    ways = [
        {
            "id": wall,
            "wall": wall,
            "along": deep,
            "width": min(width, aisle),
            "height": 2100,
        }
        | {"opens": "out"}
        for wall in doors.split()
    ]
    room = {"size": [LONG, 2 * deep + aisle], "height": 3000, "doors": ways}
    written: Plain = {"title": "Aisle", "units": "mm", "rules": "nec-2023"}
    return Scene.model_validate(written | {"room": room, "items": items})


def entrances(scene: Scene) -> dict[str, tuple[int, float]]:
    """Return by item how good the verdict is, and the figure told, millimetres."""
    return {
        one["subject"]: (RANK[one["verdict"]], one.get("provided", {}).get("width", 0))
        for one in check(scene).document()["judgements"]
        if one["requirement"] == "entrance"
    }


def pair(half: int) -> Unit:
    return 2 * half, (("left", half, 0), ("right", half, half))


PAIR_BY_THE_WALL = {
    "north": (1638, [pair(500)]),
    "south": (124, [pair(300), (1000, ())]),
}
RECESS = {
    "north": (2387, [(508, ())]),
    "south": (
        619,
        [(400, (("left", 400, 0),)), pair(400), (1000, (("right", 1000, 0),))],
    ),
}
BESIDE_A_JAMB = {
    "north": (16, [(600, (("right", 600, 0),)), (648, ()), (400, (("left", 400, 0),))]),
    "south": (888, [(800, (("right", 800, 0),))]),
}
ACROSS_THE_AISLE = {
    "north": (1565, [(400, (("right", 400, 0),)), (508, (("right", 508, 0),))]),
    "south": (1096, [(1000, (("left", 1000, 0),))]),
}

POCKET_BESIDE_A_JAMB = {
    "north": (35, [pair(254), (800, ()), (800, ())]),
    "south": (1404, [(1000, ())]),
}

# A corner beside the hinge stops the north leaf, 1000 wide, in an aisle less wide.
STOPPED_BY_A_CORNER = {
    "north": (809, [(1000, (("left", 1000, 0),))]),
    "south": (209, [(728, (("right", 300, 428),))]),
}


@pytest.mark.parametrize(
    ("rows", "doors", "aisles", "deep"),
    [
        # The far leaf of the pair, 724 mm from the wall, is beyond the near one.
        (PAIR_BY_THE_WALL, "east", (1441, 1453), 300),
        # In the wider aisle the north unit's recess begins before the leaf's tip.
        (RECESS, "west east", (642, 898), 600),
        # The south leaf, 888 mm from a doorway, is as far from its jamb in both: the
        # near tip of the north leaf hid that in the narrower one.
        (BESIDE_A_JAMB, "west", (2000, 2100), 600),
        # The south leaf reaches the other front in the narrower aisle, and ends 73 mm
        # before it in the wider: beside the north leaf is 131 mm in both.
        (ACROSS_THE_AISLE, "west", (974, 1073), 600),
        # In the wider aisle the jamb is as far from the wall's corner as the leaves'
        # edges are from the front: what is between them is a pocket, and no passage.
        (POCKET_BESIDE_A_JAMB, "west", (1307, 1479), 600),
        # The leaf leans away from the other, 600 mm from its hinge, until it opens.
        (STOPPED_BY_A_CORNER, "west east", (987, 1000), 600),
    ],
)
def test_a_wider_aisle_that_was_worse(
    rows: dict[str, tuple[int, list[Unit]]],
    doors: str,
    aisles: tuple[int, int],
    deep: int,
) -> None:
    narrow, wide = (
        entrances(scene(aisle, rows, doors, 1200, deep)) for aisle in aisles
    )
    assert all(wide[name] >= narrow[name] for name in narrow), (narrow, wide)


@pytest.mark.long
@settings(deadline=None, max_examples=25, derandomize=True)
@given(
    north=ROWS,
    south=ROWS,
    doors=st.sampled_from(["west", "east", "west east"]),
    aisles=st.lists(st.integers(620, 2400), min_size=2, max_size=5, unique=True),
)
def test_a_wider_aisle_is_never_worse(
    north: tuple[int, list[Unit]],
    south: tuple[int, list[Unit]],
    doors: str,
    aisles: list[int],
) -> None:
    rows = {"north": north, "south": south}
    found = [entrances(scene(aisle, rows, doors, 620, 600)) for aisle in sorted(aisles)]
    for narrow, wide in pairwise(found):
        for name, (rank, width) in narrow.items():
            assert wide[name][0] >= rank, (narrow, wide)
            assert wide[name][1] >= width - TENTH, (narrow, wide)
