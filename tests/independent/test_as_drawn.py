"""Relations that hold of every contradiction in a drawing, in random crowded rooms.

The outside check of two upright boxes along the axes is interval arithmetic: what one
would have to be moved along each axis, the least of all.
"""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, check

pytestmark = pytest.mark.many

Plain = dict[str, Any]
WIDE, DEEP, HIGH = 6000, 4000, 3000
KINDS: Final = (
    *("panelboard", "switchboard", "transformer", "wireway", "pull-box", "pad"),
    *("storage", "shelf", "furniture", "machine", "column", "wall", "obstacle"),
    *("luminaire", "meter", "support", "platform"),
)
RUNS: Final = ("pipe", "duct", "conduit", "cable-tray", "sprinkler", "beam")
BODIES: Final = ("obstacle", "machine", "panelboard", "ups", "drive", "pull-box")
"""Kinds of which none may be in another."""


def whole(low: int, high: int) -> st.SearchStrategy[int]:
    return st.integers(low, high)


@st.composite
def things(draw: st.DrawFn) -> Plain:
    kind = draw(st.sampled_from(KINDS))
    size = [draw(whole(50, 1500)), draw(whole(50, 900)), draw(whole(50, 2200))]
    at = [draw(whole(0, WIDE)), draw(whole(0, DEEP))]
    facing = draw(st.sampled_from([0, 90, 180, 270, 37, 200]))
    bottom = draw(st.sampled_from([0, 0, 100, 900, 2100]))
    place = {"at": at, "facing": facing, "bottom": bottom}
    return {"kind": kind, "size": size, "place": place}


@st.composite
def runs(draw: st.DrawFn) -> Plain:
    ends = [
        [draw(whole(-200, WIDE)), draw(whole(-200, DEEP)), draw(whole(0, HIGH))]
        for _ in range(2)
    ]
    if draw(st.booleans()):
        ends[1] = [ends[1][0], *ends[0][1:]]
    if ends[0] == ends[1]:
        ends[1][0] += 500
    kind = draw(st.sampled_from(RUNS))
    round_: Plain = {"diameter": draw(whole(20, 300))}
    flat: Plain = {"section": [draw(whole(50, 500)), draw(whole(50, 300))]}
    shape = draw(st.sampled_from([round_, flat]))
    return {"kind": kind, "from": ends[0], "to": ends[1], **shape}


crowds = st.lists(things() | runs(), min_size=2, max_size=7)


def judged(items: list[Plain], *, backwards: bool = False) -> dict[str, Plain]:
    """Return what is told of the drawing by subject; the items named in their order."""
    named = [{"id": f"X{number}", **item} for number, item in enumerate(items)]
    scene = {
        "title": "Crowd",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [WIDE, DEEP], "height": HIGH, "walls": "gypsum"},
        "items": named[::-1] if backwards else named,
    }
    report = check(Scene.model_validate(scene)).document()
    found = [one for one in report["judgements"] if one["requirement"] == "as-drawn"]
    rows = {one["subject"]: one for one in found}
    assert len(rows) == len(found), "at most one row an item"
    return rows


def mirrored(item: Plain) -> Plain:
    """Return an item of the room whose east is its west."""
    if "from" in item:
        ends = {key: [WIDE - item[key][0], *item[key][1:]] for key in ("from", "to")}
        return {**item, **ends}
    place = item["place"]
    at = [WIDE - place["at"][0], place["at"][1]]
    return {**item, "place": {**place, "at": at, "facing": -place["facing"]}}


def amounts(rows: dict[str, Plain]) -> dict[str, Any]:
    return {name: row["provided"] for name, row in rows.items()}


@settings(max_examples=40)
@given(crowds)
def test_the_order_of_the_file_changes_nothing(items: list[Plain]) -> None:
    assert judged(items) == judged(items, backwards=True)


@settings(max_examples=40)
@given(crowds)
def test_a_mirrored_room_contradicts_itself_alike(items: list[Plain]) -> None:
    here, there = amounts(judged(items)), amounts(judged([mirrored(i) for i in items]))
    assert here.keys() == there.keys()
    for name, sizes in here.items():
        assert there[name] == pytest.approx(sizes, abs=0.02)


@settings(max_examples=40)
@given(crowds)
def test_it_is_told_at_both_of_two(items: list[Plain]) -> None:
    rows = judged(items)
    for name, row in rows.items():
        for other in rows:
            if (
                f"inside {other}." in row["reason"]
                or f"inside {other};" in row["reason"]
            ):
                assert f"inside {name}" in rows[other]["reason"]
        assert row["verdict"] == "open"


@settings(max_examples=60)
@given(
    st.sampled_from(BODIES),
    st.sampled_from(BODIES),
    st.tuples(whole(-700, 700), whole(-700, 700), whole(0, 700)),
)
def test_two_boxes_by_intervals(one: str, other: str, by: tuple[int, int, int]) -> None:
    sizes = [[400, 600, 500], [300, 200, 800]]
    lows = [(2800, 1700, 0), (2850 + by[0], 1900 + by[1], by[2])]
    items = [
        {
            "kind": kind,
            "size": size,
            "place": {
                "at": [low[0] + size[0] / 2, low[1] + size[1] / 2],
                "bottom": low[2],
            },
        }
        for kind, size, low in zip((one, other), sizes, lows, strict=True)
    ]
    deep = min(
        min(low + size - begin, begin + far - low)
        for low, size, begin, far in zip(
            lows[0], sizes[0], lows[1], sizes[1], strict=True
        )
    )
    rows = judged(items)
    if deep <= 5:
        assert not rows
    else:
        wanted = {"overlap": pytest.approx(deep, abs=0.02)}
        assert amounts(rows) == {"X0": wanted, "X1": wanted}
