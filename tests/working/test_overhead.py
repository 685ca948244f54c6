"""What must hold of the space above gear, wherever things are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

if TYPE_CHECKING:
    from model3d.judging.results import Judgement

BEST = ("met", "open", "not-met")
WIDE, DEEP = 6000, 4000
LP1: dict[str, Any] = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [500, 150, 900],
    "supply": {"system": "208Y/120", "amps": 100},
    "door": "left",
}

places = st.integers(0, WIDE)
heights = st.integers(100, 4800)
kinds = st.sampled_from(["pipe", "sprinkler", "duct"])
books = st.sampled_from(["nec-2014", "nec-2023", "osha-1910"])


def judged(book: str, *items: dict[str, Any], along: float = 2000) -> Judgement:
    """Judge the space above LP1 on the north wall, its left side at ``along``."""
    panel = {**LP1, "place": {"wall": "north", "along": along, "bottom": 900}}
    scene = Scene.model_validate(
        {
            "title": "Room",
            "units": "mm",
            "rules": book,
            "room": {"size": [WIDE, DEEP], "height": 5000, "walls": "gypsum"},
            "items": [panel, *items],
        }
    )
    (found,) = check(scene).of("LP1", "dedicated-space")
    return found


def run(kind: str, x: int, z: int, *, mirrored: bool = False) -> dict[str, Any]:
    """Draw a run from the south wall to the north wall, or its mirror image."""
    x = WIDE - x if mirrored else x
    ends = {"from": [x, 0, z], "to": [x, DEEP, z]}
    return {"id": "X", "kind": kind, "section": [100, 100], **ends}


def guard(width: int, x: int, bottom: int) -> dict[str, Any]:
    size, place = [width, 200, 20], {"at": [x, 3900], "bottom": bottom}
    return {"id": "LG", "kind": "leak-guard", "size": size, "place": place}


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(book=books, kind=kinds, x=places, z=heights, up=st.integers(0, 400))
def test_a_run_that_is_higher_is_never_worse(
    book: str, kind: str, x: int, z: int, up: int
) -> None:
    low, high = (judged(book, run(kind, x, at)) for at in (z, min(z + up, 4900)))
    # Below the top of the gear it is no higher above it.
    if z - 50 >= 1800:
        assert BEST.index(high.verdict) <= BEST.index(low.verdict)


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(book=books, kind=kinds, x=places, z=heights)
def test_a_mirrored_room_answers_the_same(book: str, kind: str, x: int, z: int) -> None:
    one = judged(book, run(kind, x, z))
    other = judged(book, run(kind, x, z, mirrored=True), along=WIDE - 2000 - 500)
    assert (one.verdict, one.citation) == (other.verdict, other.citation)
    assert one.margin == pytest.approx(other.margin)


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(
    x=st.integers(1900, 2600),
    width=st.integers(50, 800),
    more=st.integers(0, 400),
    bottom=st.integers(3600, 4500),
)
def test_a_wider_guard_above_the_zone_is_never_worse(
    x: int, width: int, more: int, bottom: int
) -> None:
    pipe = run("pipe", x, 4400)
    bare = judged("nec-2023", pipe)
    one, other = (
        judged("nec-2023", pipe, guard(wide, 2250, bottom))
        for wide in (width, width + 2 * more)
    )
    assert BEST.index(other.verdict) <= BEST.index(one.verdict)
    assert BEST.index(one.verdict) <= BEST.index(bare.verdict)
    if one.verdict == "met" and bare.verdict == "open":
        assert one.exception.startswith("NEC 2023 110.26(E)(1)(b)")


def test_what_is_missing_is_the_height() -> None:
    found = judged("nec-2023", run("pipe", 2250, 3000))
    assert found.provided["height"] == pytest.approx(2.95)
    assert found.margin == pytest.approx(2.95 - 3.6)
    # The book prints where the zone ends above the item, and no height of it.
    assert found.printed["height"] == ("up to 1.8 m above LP1", "up to 6 ft above LP1")
    assert "1.8 m (6 ft) above LP1" in found.reason


def test_what_decides_and_was_not_read_is_listed() -> None:
    assert judged("nec-2023").unread == ()
    assert judged("nec-2026").unread == ("NEC 2026 110.26(E)(1)(a)",)
    assert judged("osha-1910").unread == ("29 CFR 1910.303(g)(1)(vii)",)
