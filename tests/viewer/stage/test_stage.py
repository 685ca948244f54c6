"""The stage as data: colours by what they mean, numbers, names, the document.

The room is invented; what is geometry is worked out by hand beside each check.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from model3d import check
from tests.scenes import examples
from tests.viewer.panel_room import ITEMS, scene, stage
from tests.viewer.stage.panel_stage import STAGE, by_role
from viewer.stage import build_stage, difference, document, palette
from viewer.stage.layers import SPACES
from viewer.stage.looking.names import shortened

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

HOSTILE = "<script>alert(1)</script> & \"'"


# Colours


def test_each_role_that_carries_the_result_has_its_own_colour() -> None:
    assert {s.colour for s in by_role("space")} == {palette.SPACE}
    edges = {(s.layer == SPACES, s.edge_colour) for s in by_role("space")}
    assert edges == {(True, palette.SPACE_EDGE), (False, palette.CLEAR_EDGE)}
    assert {s.colour for s in by_role("footprint")} == {palette.SPACE, palette.WAY}
    assert {s.colour for s in by_role("intrusion")} == {palette.INTRUSION}
    assert {s.edge_colour for s in by_role("intrusion")} == {palette.INTRUSION_EDGE}


def test_all_else_is_grey_or_blue_grey() -> None:
    """Saturation of hue, saturation, value (Smith 1978): (max - min) / max."""
    plain = [s for s in STAGE.shapes if s.role in {"solid", "leaf", "surface", "cut"}]
    assert len(plain) > len(ITEMS)
    for shape in plain:
        red, green, blue = palette.channels(shape.colour)
        assert red <= green <= blue
        assert (max(red, green, blue) - min(red, green, blue)) / blue < 0.3


def test_strong_colours_stay_apart_for_those_who_see_no_green() -> None:
    """Deuteranopia by the matrix of Machado, Oliveira and Fernandes (2009)."""
    matrix = np.array(
        [
            (0.367322, 0.860646, -0.227968),
            (0.280085, 0.672501, 0.047413),
            (-0.011820, 0.042940, 0.968881),
        ]
    )

    def seen(colour: str) -> Points:
        shares = np.array(palette.channels(colour)) / 255
        linear = np.where(
            shares <= 0.04045, shares / 12.92, ((shares + 0.055) / 1.055) ** 2.4
        )
        return np.asarray(matrix @ linear)

    space, edge = seen(palette.SPACE), seen(palette.SPACE_EDGE)
    clash, picked = seen(palette.INTRUSION), seen(palette.SELECTION)
    for one, other in [(space, clash), (edge, clash), (space, picked), (clash, picked)]:
        assert np.abs(one - other).max() > 0.2


@pytest.mark.parametrize(
    "colour",
    [palette.INK, palette.FAINT_INK, palette.SPACE_EDGE, palette.INTRUSION_TEXT],
)
def test_letters_can_be_read_on_paper(colour: str) -> None:
    """Contrast of at least 4.5 : 1 (WCAG 2.1, criterion 1.4.3)."""

    def luminance(one: str) -> float:
        shares = [channel / 255 for channel in palette.channels(one)]
        linear = [
            s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares
        ]
        return float(np.dot([0.2126, 0.7152, 0.0722], linear))

    ratio = (luminance(palette.PAPER) + 0.05) / (luminance(colour) + 0.05)
    assert ratio >= 4.5


# What is faint


def test_what_hangs_overhead_with_nothing_asked_of_it_is_faint() -> None:
    assert {s.item for s in STAGE.shapes if s.ghost} == {"L1", "C1"}
    for shape in STAGE.shapes:
        if shape.ghost:
            assert shape.opacity == palette.GHOST_OPACITY
            assert shape.layer == "overhead"


def test_what_hangs_overhead_and_is_in_the_way_is_solid() -> None:
    duct = STAGE.shape("AD1")
    assert not duct.ghost
    assert duct.opacity == 1.0
    assert duct.judgements


def test_a_low_room_has_its_own_overhead() -> None:
    beam = {
        "id": "B1",
        "kind": "beam",
        "from": [0, 3000, 1100],
        "to": [5000, 3000, 1100],
        "section": [100, 150],
    }
    low = {"size": [5000, 4000], "height": 1500}
    assert stage(room=low, items=[beam]).shape("B1").ghost
    high = {"size": [5000, 4000], "height": 3000}
    assert not stage(room=high, items=[beam]).shape("B1").ghost


# Judgements and their numbers


def test_judgements_are_numbered_in_their_order_the_worst_first() -> None:
    order = {"not-met": 0, "open": 1, "met": 2}
    ranks = [order[judgement.verdict] for judgement in STAGE.judgements]
    assert ranks == sorted(ranks)
    assert {*ranks} == {0, 1, 2}
    numbers = [f.number for f in STAGE.judgements if f.verdict != "met"]
    assert numbers == [*range(1, len(numbers) + 1)]
    assert {type(number) for number in numbers} == {int}  # true is no number in JSON
    assert all(f.number is None for f in STAGE.judgements if f.verdict == "met")


def test_each_number_has_one_badge_at_its_judgement() -> None:
    numbered = [n for n, f in enumerate(STAGE.judgements) if f.number is not None]
    assert [badge.judgement for badge in STAGE.badges] == numbered
    for badge in STAGE.badges:
        judgement = STAGE.judgements[badge.judgement]
        assert (badge.number, badge.verdict) == (judgement.number, judgement.verdict)
        assert badge.item == judgement.subject


def test_a_badge_points_into_what_is_in_the_way() -> None:
    made = scene()
    report = check(made)
    anchors = {
        (b.item, STAGE.judgements[b.judgement].requirement): b.anchor
        for b in STAGE.badges
    }
    for judgement in report.judgements:
        if judgement.intrusions:
            anchor = np.array(anchors[judgement.subject, judgement.requirement])
            assert any(
                (np.array(hit.low) <= anchor).all()
                and (anchor <= np.array(hit.high)).all()
                for hit in judgement.intrusions
            )


def test_a_badge_of_the_room_itself_lies_in_the_room() -> None:
    (badge,) = (b for b in STAGE.badges if b.item == "room")
    assert badge.anchor == (2.5, 2.0, 0.0)


def test_sizes_are_told_in_both_systems() -> None:
    """900 mm (3 ft): NEC Table 110.26(A)(1). 250 mm are 9.84 in."""
    (judgement,) = (
        f
        for f in STAGE.judgements
        if (f.subject, f.requirement) == ("LP1", "working-space")
    )
    depth = judgement.sizes[0]
    assert depth.required == ("900 mm", "3 ft")
    assert depth.provided == ("250 mm", "9 13/16 in")
    assert [size.name for size in judgement.sizes if size.short] == ["depth"]


def test_a_scene_in_inches_tells_inches_first() -> None:
    lines = [d for d in stage(units="in").dimensions if d.short and d.name == "depth"]
    assert [line.required for line in lines] == ["3 ft (900 mm)"]
    assert [line.brief for line in lines] == ["9 13/16 in of 3 ft"]
    assert [line.brief_other for line in lines] == ["250 mm of 900 mm"]


# Names that would do harm elsewhere


def test_hostile_names_stay_text() -> None:
    items: list[dict[str, Any]] = [dict(ITEMS[0], name=HOSTILE), *ITEMS[1:]]
    made = stage(title=HOSTILE, items=items)
    read = json.loads(json.dumps(document(made)))
    assert read["title"] == HOSTILE
    told = {shape["about"] for shape in read["shapes"] if shape["id"] == "LP1"}
    assert any(HOSTILE in about for about in told)


def test_names_in_a_picture_are_one_short_line() -> None:
    assert shortened("a\nb\x1b[31m\u202e") == "a b?[31m"
    assert len(shortened("x" * 500)) == 28


# The document


def test_a_name_that_says_the_kind_stands_alone() -> None:
    told = {one.id: one.about for one in examples.stage("facing-lineups").shapes}
    assert told["MCC1"] == "Motor control center, six sections"
    assert told["SB1"] == "Free-standing switchboard, Switchboard, four sections"


def test_the_document_holds_all_shapes_in_full() -> None:
    import base64  # noqa: PLC0415 - the way a reader of the document does it

    read = json.loads(json.dumps(document(STAGE)))
    assert [s["id"] for s in read["shapes"]] == [s.id for s in STAGE.shapes]
    for plain, shape in zip(read["shapes"], STAGE.shapes, strict=True):
        raw = base64.b64decode(plain["vertices"]["f32"])
        points = np.frombuffer(raw, dtype="<f4").reshape(-1, 3)
        assert np.allclose(points, shape.vertices, atol=1e-5)
        faces = np.frombuffer(base64.b64decode(plain["faces"]["u16"]), dtype="<u2")
        assert (faces.reshape(-1, 3) == shape.faces).all()


def test_a_difference_turns_one_stage_into_the_other() -> None:
    before, after = STAGE, stage(items=[i for i in ITEMS if i["id"] != "CRATE"])
    change = json.loads(json.dumps(difference(before, after)))
    old, new = (json.loads(json.dumps(document(one))) for one in (before, after))
    dropped = change.pop("drop")
    assert dropped
    shapes = {s["id"]: s for s in old["shapes"] if s["id"] not in dropped}
    shapes.update((s["id"], s) for s in change.pop("put"))
    assert shapes == {s["id"]: s for s in new["shapes"]}
    rest = {**old, **change}
    assert {k: v for k, v in rest.items() if k != "shapes"} == {
        k: v for k, v in new.items() if k != "shapes"
    }


def test_nothing_differs_between_a_stage_and_itself() -> None:
    assert difference(STAGE, stage()) == {"drop": [], "put": []}


def test_what_cannot_be_shown_is_refused() -> None:
    made = scene()
    report = check(made)
    with pytest.raises(ValueError, match="found LP9, right is the id"):
        build_stage(made, report, of="LP9")
