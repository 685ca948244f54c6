"""A bench across the front of a panel, ever further away.

Somebody between the panel and the bench leaves along the front, past the open leaf: as
wide as the bench is far away, where the leaf takes no more. What is 610 mm (24 in) or
more is clear, less is not: not met where the leaf takes the other way, and left open
where no more was there with the leaf shut.

Source: NEC 2023 110.26(C)(2), open equipment doors leave 610 mm (24 in); subtraction.
"""

from __future__ import annotations

from typing import Any

import pytest

from model3d import Judgement, Scene, check

Plain = dict[str, Any]

DEEP, ALONG, WIDE = 4000, 2000, 500
"""Of the room; the panel's place along its wall and its width."""

RANK = ("not-met", "open", "met")


def entrance(bench: Plain | None, panel: Plain | None = None) -> Judgement:
    """Return the judgement of a panel with a bench in its room."""
    written: Plain = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [WIDE, 150, 900],
        "place": {"wall": "north", "along": ALONG, "bottom": 900},
        "supply": {"system": "208Y/120", "amps": 225},
        "door": "left",
    }
    door: Plain = {"id": "D", "wall": "east", "along": 2000, "width": 914}
    door |= {"height": 2100, "opens": "out", "hinge": "left"}
    room: Plain = {"size": [6000, DEEP], "height": 3000, "walls": "gypsum"}
    scene: Plain = {"title": "Bench", "units": "mm", "rules": "nec-2023"}
    scene |= {"room": room | {"doors": [door]}}
    scene |= {"items": [written | (panel or {}), *([bench] if bench else [])]}
    (found,) = check(Scene.model_validate(scene)).of("LP1", "entrance")
    return found


def bench(width: int, along: int, away: float, deep: float = 400) -> Plain:
    """Return a bench so wide, so far to the east, so far before the panel's front."""
    at = [along, DEEP - 150 - away - deep / 2]
    return {
        "id": "B",
        "kind": "furniture",
        "size": [width, deep, 900],
        "place": {"at": at, "facing": "south"},
    }


FRONTS = [(1200, 2250), (1200, 2100), (400, 2250), (200, 2250), (1200, 1800)]


@pytest.mark.long
@pytest.mark.parametrize(("width", "along"), FRONTS)
def test_nothing_is_met_across_a_bench_nearer_than_a_way_is_wide(
    width: int, along: int
) -> None:
    for away in (100, 210, 350, 500, 510, 520, 605):
        assert entrance(bench(width, along, away)).verdict != "met", away
    for away in (615, 700):
        found = entrance(bench(width, along, away))
        assert found.verdict == "met"
        assert found.provided["width"] >= 0.61


@pytest.mark.long
@pytest.mark.parametrize("deep", [200, 400])
def test_nothing_is_met_across_a_bench_away_from_the_hinge(deep: int) -> None:
    """The leaf hangs at x = 2000, the bench begins at 2900: at the hinge is room."""
    wide = {"size": [1600, 150, 900]}
    assert entrance(None, wide).verdict == "met"
    for away in (210, 350, 500, 605):
        found = entrance(bench(600, 3200, away, deep), wide)
        assert found.verdict == "open", away
        assert found.provided["width"] == pytest.approx(away / 1000, abs=1e-3)
        assert "doors shut there is no more room before" in found.reason
    assert entrance(bench(600, 3200, 615, deep), wide).verdict == "met"
    # Before less of a front than a hand is wide nobody stands (common practice).
    assert entrance(bench(600, 3840, 350, deep), wide).verdict == "met"


@pytest.mark.long
@pytest.mark.parametrize(("width", "along"), FRONTS)
def test_what_is_cut_off_a_bench_makes_nothing_worse_that_is_met(
    width: int, along: int
) -> None:
    # Its far edge stays: every bench lies within the one before.
    verdicts = [
        entrance(bench(width, along, away, 1500 - away)).verdict
        for away in (100, 300, 450, 520, 600, 650, 800, 1000)
    ]
    first = verdicts.index("met")
    assert set(verdicts[first:]) == {"met"}, verdicts


def test_a_bench_that_stops_a_leaf_is_no_end_of_the_front() -> None:
    """Its other leaf and the bench leave 340 mm: that is narrow, and no pocket.

    The bench touches the leaf that it stops. That leaf hangs on the front, but the
    bench does not reach back to it: 3990 - 3650 = 340 by subtraction.
    """
    pair = {"size": [762, 600, 1900], "place": {"wall": "north", "along": 2000}}
    across = {
        "id": "B",
        "kind": "furniture",
        "size": [640, 900, 1900],
        "place": {"at": [2102, DEEP - 600 - 370 - 450], "facing": "south"},
    }
    found = entrance(across, pair | {"door": "pair"})
    assert found.verdict == "not-met"
    assert found.provided["width"] == pytest.approx(2.762 - 2.422, abs=1e-3)


def test_a_leaf_beyond_the_end_of_a_front_shuts_nobody_in() -> None:
    """Of a front 500 mm long a leaf that hangs beside it stands before 60 mm.

    Behind that leaf, 70 mm from the front, nobody works.
    """
    scene = {
        "title": "Corner",
        "units": "mm",
        "rules": "nec-2026",
        "room": {
            "size": [4380, 3390],
            "height": 3290,
            "walls": "concrete",
            "doors": [
                {"id": "D0", "wall": "south", "along": 890, "width": 1200}
                | {"height": 2100, "opens": "out", "hinge": "right"}
            ],
        },
        "items": [
            {
                "id": "G1",
                "kind": "switchboard",
                "size": [2000, 900, 1900],
                "place": {"wall": "west", "along": 720},
                "supply": {"system": "480Y/277", "amps": 2000},
                "door": "pair",
            },
            {
                "id": "G2",
                "kind": "switchgear",
                "size": [500, 600, 1900],
                "place": {"wall": "north", "along": 1840},
                "supply": {"system": "480Y/277", "amps": 200},
                "door": "right",
            },
        ],
    }
    (found,) = check(Scene.model_validate(scene)).of("G2", "entrance")
    assert found.verdict == "met"
