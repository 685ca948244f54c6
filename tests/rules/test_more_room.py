"""Relations that must hold: more room makes nothing worse, nor does a mirror."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

if TYPE_CHECKING:
    from model3d.judging.results import Judgement

pytestmark = pytest.mark.many

Plain = dict[str, Any]

WORST_FIRST: Final = ("not-met", "open", "met")
QUICK: Final = settings(deadline=None, max_examples=25)
PAIRS: Final = st.tuples(st.integers(0, 700), st.integers(0, 700)).map(sorted)
WIDE: Final = 6000


def judged(requirement: str, subject: str, *items: Plain, **more: Any) -> Judgement:  # noqa: ANN401 - any key of a scene
    """Return the one judgement that a scene of these items has of a subject."""
    scene = {
        "title": "Room",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [WIDE, 5000], "height": 3000, "walls": "gypsum"},
        "items": list(items),
        **more,
    }
    (found,) = check(Scene.model_validate(scene)).of(subject, requirement)
    return found


def no_worse(
    roomy: Judgement, tight: Judgement, size: str, *, most: bool = False
) -> bool:
    """Tell whether more room has no worse verdict, and no worse figure."""
    rank = WORST_FIRST.index
    sign = -1 if most else 1
    gain = sign * (roomy.provided[size] - tight.provided[size])
    return rank(roomy.verdict) >= rank(tight.verdict) and gain >= -1e-9


@given(distances=PAIRS, side=st.sampled_from(["left", "right"]))
@QUICK
def test_a_thing_farther_away_leaves_the_makers_clearance_no_worse(
    distances: list[int], side: str
) -> None:
    def beside(distance: int, *, mirrored: bool = False) -> Judgement:
        on_left = (side == "left") != mirrored
        at = 3000 + (-1 if on_left else 1) * (400 + distance + 150)
        gear: Plain = {"id": "T1", "kind": "ups", "size": [800, 700, 1000]}
        clearances = {"left" if on_left else "right": 300}
        gear |= {"place": {"at": [3000, 2500]}, "clearances": clearances}
        box = {"id": "X", "kind": "storage", "size": [300, 300, 900]}
        return judged(
            "maker-clearance", "T1", gear, {**box, "place": {"at": [at, 2500]}}
        )

    near, far = (beside(distance) for distance in distances)
    assert no_worse(far, near, "clearance")
    mirrored = beside(distances[0], mirrored=True)
    assert mirrored.verdict == near.verdict
    assert abs(mirrored.provided["clearance"] - near.provided["clearance"]) < 1e-9


@given(
    gaps=PAIRS,
    offset=st.one_of(st.none(), st.integers(0, 250)),
    free_air=st.one_of(st.none(), st.sampled_from([0.5, 0.9])),
    tiers=st.booleans(),
)
@QUICK
def test_a_rack_farther_from_the_wall_is_no_worse(
    gaps: list[int], offset: int | None, free_air: float | None, *, tiers: bool
) -> None:
    def rack(gap: int) -> Judgement:
        tier = {"shelf": 100, "cells": 4, "cell": [120, 200, 360], "offset": offset}
        item = {
            "id": "R1",
            "kind": "battery-rack",
            "size": [1800, 450, 1500],
            "place": {"wall": "north", "along": 2000, "gap": gap},
            "tiers": [tier] if tiers else None,
            "free_air": free_air,
        }
        return judged("battery-gaps", "R1", item)

    near, far = (rack(gap) for gap in gaps)
    rank = WORST_FIRST.index
    assert rank(far.verdict) >= rank(near.verdict)
    assert far.provided["gap"] >= near.provided.get("gap", 0.0) - 1e-9


@given(heights=st.tuples(st.integers(1231, 2900), st.integers(1231, 2900)).map(sorted))
@QUICK
def test_a_higher_beam_leaves_the_height_above_cells_no_worse(
    heights: list[int],
) -> None:
    def below(bottom: int) -> Judgement:
        rack = {
            "id": "R1",
            "kind": "battery-rack",
            "size": [1800, 450, 1500],
            "place": {"at": [3000, 2500]},
            "tiers": [{"shelf": 850, "cells": 12, "cell": [120, 200, 360], "post": 20}],
            "top_clearance": 600,
        }
        place = {"at": [3000, 2500], "bottom": bottom}
        beam = {"id": "B1", "kind": "beam", "size": [4000, 100, 100], "place": place}
        return judged("battery-top-clearance", "R1", rack, beam)

    low, high = (below(bottom) for bottom in heights)
    assert no_worse(high, low, "clearance")


@given(heights=st.tuples(st.integers(0, 900), st.integers(0, 900)).map(sorted))
@QUICK
def test_a_lower_handle_is_no_worse(heights: list[int]) -> None:
    def held(handle: int) -> Judgement:
        place = {"wall": "north", "along": 2000, "bottom": 1500}
        switch = {"id": "DS1", "kind": "disconnect", "size": [400, 200, 900]}
        return judged(
            "handle-height", "DS1", {**switch, "place": place, "handle": handle}
        )

    low, high = (held(handle) for handle in heights)
    assert no_worse(low, high, "height", most=True)


@given(distances=PAIRS, turned=st.integers(0, 89))
@QUICK
def test_units_farther_apart_are_no_worse(distances: list[int], turned: int) -> None:
    def unit(name: str, x: int, facing: int) -> Plain:
        place = {"at": [x, 2500], "facing": facing}
        size = [600, 600, 1800]
        return {"id": name, "kind": "energy-storage-unit", "size": size, "place": place}

    def pair(distance: int) -> Judgement:
        units = unit("A", 2000, 0), unit("B", 3000 + 2 * distance, turned)
        return judged("storage-unit-spacing", "A", *units)

    near, far = (pair(distance) for distance in distances)
    assert no_worse(far, near, "spacing")
