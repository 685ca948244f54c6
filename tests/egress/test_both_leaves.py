"""Equipment doors and the leaf of a personnel door, open at once.

Source: relations that hold in any room.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

if TYPE_CHECKING:
    from model3d import Judgement

Plain = dict[str, Any]

QUICK: Final = settings(deadline=None, max_examples=15, derandomize=True)
RANK: Final = ("not-met", "open", "met")
SIDES: Final = st.sampled_from(["left", "right"])
OTHER: Final = {"left": "right", "right": "left"}
DEEP: Final = st.integers(1000, 2400)
AT: Final = st.integers(300, 4200)


def way_out(  # noqa: PLR0913 - what the relations change
    *,
    deep: int,
    door: int,
    hinge: str,
    leaf: str,
    gear: int = 2000,
    wide: int = 5000,
    mirrored: bool = False,
    bolted: bool = False,
    opens: str = "in",
) -> Judgement:
    """Judge the way out of an aisle between gear and the wall with the door."""
    # Seen from inside, facing the south wall, its left end is in the east.
    along = wide - door - 900
    at = gear
    if mirrored:
        hinge, leaf, along, at = OTHER[hinge], OTHER[leaf], door, wide - gear - 800
    panel: Plain = {"id": "A", "kind": "panelboard", "size": [800, 200, 1900]}
    panel |= {"place": {"wall": "north", "along": at}, "rear": "bolted"}
    panel |= {"supply": {"system": "208Y/120", "amps": 100}}
    way: Plain = {"id": "D1", "wall": "south", "along": along, "width": 900}
    way |= {"height": 2100, "opens": opens, "hinge": hinge}
    room: Plain = {"size": [wide, deep], "height": 3000, "walls": "gypsum"}
    scene: Plain = {"title": "Aisle", "units": "mm", "rules": "nec-2023"}
    scene |= {"room": room | {"doors": [way]}}
    scene |= {"items": [panel | {"door": "bolted" if bolted else leaf}]}
    (found,) = check(Scene.model_validate(scene)).of("A", "entrance")
    return found


def is_no_worse(roomy: Judgement, tight: Judgement) -> bool:
    """Tell whether more room has no worse verdict and no smaller width."""
    gain = roomy.provided.get("width", 0.0) - tight.provided.get("width", 0.0)
    return RANK.index(roomy.verdict) >= RANK.index(tight.verdict) and gain >= -5e-5


@pytest.mark.long
@given(st.tuples(DEEP, DEEP).map(sorted), AT, SIDES, SIDES)
@QUICK
def test_a_wider_aisle_is_no_worse(
    deep: list[int], door: int, hinge: str, leaf: str
) -> None:
    door = min(door, 4000)
    tight, roomy = (
        way_out(deep=one, door=door, hinge=hinge, leaf=leaf) for one in deep
    )
    assert is_no_worse(roomy, tight)


@pytest.mark.long
@given(DEEP, st.integers(0, 4100), SIDES, SIDES)
@QUICK
def test_a_mirrored_aisle_is_judged_alike(
    deep: int, door: int, hinge: str, leaf: str
) -> None:
    one = way_out(deep=deep, door=door, hinge=hinge, leaf=leaf)
    other = way_out(deep=deep, door=door, hinge=hinge, leaf=leaf, mirrored=True)
    assert one.verdict == other.verdict
    assert is_no_worse(one, other)
    assert is_no_worse(other, one)


@pytest.mark.long
@given(DEEP, st.integers(0, 4100), SIDES, SIDES)
@QUICK
def test_a_leaf_less_is_no_worse(deep: int, door: int, hinge: str, leaf: str) -> None:
    both = way_out(deep=deep, door=door, hinge=hinge, leaf=leaf)
    shut = way_out(deep=deep, door=door, hinge=hinge, leaf=leaf, bolted=True)
    out = way_out(deep=deep, door=door, hinge=hinge, leaf=leaf, opens="out")
    assert is_no_worse(shut, both)
    assert is_no_worse(out, both)
