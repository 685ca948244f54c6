"""What the drawing of an item says, and that its lengths are true to scale."""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

import pytest
import shapely

from model3d import Item, Room, Scene, check
from model3d.scene.parts.room import RoomDoor
from tests.viewer.figure.examples import report_of, subject, texts_of, words_of
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Arc, DimensionLine, Hatch, Line
from viewer.figure.files.page_frame import framed
from viewer.figure.files.svg import svg
from viewer.figure.item.rack_front import rack_figure
from viewer.figure.item.reach_detail import reach_figure
from viewer.figure.item.three_sides import ALL, item_figure
from viewer.figure.plans.ribbon import ribbon_of
from viewer.figure.plans.room import room_figure
from viewer.figure.plans.ways_sheet import way_figures, ways_of
from viewer.wording.refusal import UnusableError

SIZE = (180.0, 150.0)


def test_the_sheet_of_the_pumps_panel_says_what_is_wrong() -> None:
    """The figures are those of the room's own story, in scenes/pump-station.yaml."""
    words = words_of(item_figure(subject("pump-station", "PCP1"), ALL, *SIZE))
    for said in (
        "516 mm there",
        "484 mm short",
        "of 1.0 m (3 ft 6 in)",
        "leaf stops at 72.6°",
        "277 V to ground",
        "condition 2",
        "RW1",
        "Discharge riser",
        "±0",
        "2.0 m (6 1/2 ft)",
        "Plan 1:50",
        "Front 1:50",
        "From the right 1:50",
        "Person, 1.75 m tall",
        "N",
    ):
        assert said in words, said


def test_a_condition_that_decides_no_figure_is_not_named() -> None:
    """NEC Table 110.26(A)(1): up to 150 V to ground 900 mm (3 ft) in any condition."""
    words = words_of(item_figure(subject("pump-station", "DS1"), ALL, *SIZE))
    assert "120 V to ground" in words
    assert not [word for word in words if word.startswith("condition")]


def test_dimensions_are_as_long_as_they_say() -> None:
    figure = item_figure(subject("pump-station", "PCP1"), ALL, *SIZE)
    found = [mark for mark in figure.marks if isinstance(mark, DimensionLine)]
    assert len(found) >= 6
    for one in found:
        drawn = math.dist(*one.line) * one.scale / 1000
        assert drawn == pytest.approx(one.metres, abs=0.001 * one.scale / 40)


def test_views_are_in_line() -> None:
    """Third-angle projection: the plan above the front, the side on one floor."""
    figure = item_figure(subject("pump-station", "PCP1"), ALL, *SIZE)
    hatches = [one for one in figure.marks if isinstance(one, Hatch)]
    ways = [one for one in hatches if one.layer == pens.IN_THE_WAY]
    lefts = sorted({round(min(x for x, _ in one.outline), 1) for one in ways})
    floors = sorted({round(max(y for _, y in one.outline), 1) for one in ways})
    assert len(lefts) == 3  # plan and front share one, the key has its own
    assert figure.height >= floors[-1]


def test_the_arc_of_a_stopped_leaf_is_as_wide_as_it_opens() -> None:
    figure = item_figure(subject("pump-station", "PCP1"), ("plan",), *SIZE)
    (arc,) = [mark for mark in figure.marks if isinstance(mark, Arc)]
    assert arc.end - arc.start == pytest.approx(72.6, abs=0.05)
    assert arc.radius * figure.scale == pytest.approx(900, abs=0.5)


def test_what_is_in_the_way_is_told_by_hatching_not_by_colour() -> None:
    patterns = [pen.pattern for pen in pens.PENS.values() if pen.pattern]
    assert len({(one.angles, one.spacing) for one in patterns}) == len(patterns)


def test_a_reach_has_its_own_detail() -> None:
    words = words_of(reach_figure(subject("pump-station", "LP1"), *SIZE))
    for said in ("150 mm (6 in)", "allowed", "20 mm too far", "front plane", "PB1"):
        assert said in words, said
    with pytest.raises(UnusableError) as refused:
        reach_figure(subject("pump-station", "PCP1"), *SIZE)
    assert len(refused.value.mistakes) == 1


def test_a_rack_is_told_tier_by_tier() -> None:
    words = words_of(rack_figure(subject("battery-room", "R2"), *SIZE))
    for said in ("tier 1", "tier 2", "130 mm there", "70 mm short", "380 mm", "40 mm"):
        assert said in words, said
    with pytest.raises(UnusableError):
        rack_figure(subject("pump-station", "LP1"), *SIZE)


def test_a_way_out_tells_its_narrowest_place() -> None:
    figure = next(way_figures(report_of("one-way-out"), "SB1", 180.0))
    words = words_of(figure)
    assert "narrowest 600 mm" in words
    assert "of 610 mm (24 in)" in words
    assert "SB1" in figure.about
    (line,) = [one for one in figure.marks if one.layer == pens.NARROWEST]
    assert isinstance(line, DimensionLine)
    assert math.dist(*line.line) * figure.scale == pytest.approx(600, abs=1)


@pytest.mark.long
def test_a_ribbon_bends_to_where_there_is_room_and_shows_what_is_short() -> None:
    """Between RK1 and COL1 are 540 of 610 mm: 35 are short to either side, no more.

    The way was found as somebody goes who is 450 wide: as wide as it must be it lay on
    the corner of MCC1 and on the wall beside D1, where there is room enough.
    """
    report = report_of("around-the-corner")
    arrangement = report.arrangement
    assert arrangement is not None
    (judged,) = report.of("LP1", "entrance")
    assert judged.way is not None
    found = ribbon_of(judged.way, 0.61, 2.0, arrangement)
    band = shapely.LineString(found.route).buffer(0.305, quad_segs=64)
    short = shapely.union_all([shapely.Polygon(one) for one in found.short])
    taken = {}
    for item in ("RK1", "COL1", "MCC1", "BN1", "DS1", "CR1"):
        low, high = arrangement.items[item].solid.bounds
        box = shapely.box(*low[:2], *high[:2])
        taken[item] = shapely.intersection(short, box)
        on = shapely.intersection(band, box)
        if item not in {"RK1", "COL1"}:
            assert taken[item].is_empty
            assert on.area < 0.01 * 0.5, "no more than is seen"
        else:
            west, _, east, _ = taken[item].bounds
            assert east - west == pytest.approx(0.035, abs=0.008)
            assert on.difference(taken[item]).area < 1e-3
    assert sum(one.area for one in taken.values()) == pytest.approx(short.area)
    # In the figure it is hatched, and its legend tells what that is.
    figure = next(way_figures(report, "LP1", 180.0))
    hatches = [one for one in figure.marks if isinstance(one, Hatch)]
    assert pens.LACKING in {one.layer for one in hatches}
    assert "Short of the width" in words_of(figure)


@pytest.mark.long
def test_nothing_is_short_of_a_way_that_is_met() -> None:
    for name in ("around-the-corner", "old-switch-room", "scanned-pump", "rows"):
        report = report_of(name)
        arrangement = report.arrangement
        assert arrangement is not None
        for one in report.judgements:
            if one.verdict != "met" or one.way is None:
                continue
            found = ribbon_of(one.way, 0.61, 2.0, arrangement)
            assert found.short == (), (name, one.subject)
            # It leads from and to where it led, and runs nowhere else.
            bent, route = shapely.LineString(found.route), one.way.points
            assert bent.distance(shapely.Point(route[0])) < 0.31
            assert bent.distance(shapely.Point(route[-1])) < 0.31
            assert bent.hausdorff_distance(shapely.LineString(route)) < 0.7


def test_a_missing_second_way_is_told_where_it_is_missing() -> None:
    """The aisle of rows is left through D1 alone, which is 900 wide: 610 are asked."""
    figure = ways_of(report_of("rows"), "MCC3")(*SIZE)
    words = words_of(figure)
    assert "Second entrance: way out of MCC3 to D1, gear doors shut" in words
    assert "no second way from here" in words
    assert "narrowest 900 mm" in words
    assert "wide enough for 610 mm (24 in)" in words
    bold = {text.text for text in texts_of(figure) if text.bold}
    assert "no second way from here" in bold
    assert not any("narrowest" in text for text in bold)


def test_of_both_ways_out_in_question_each_has_its_figure() -> None:
    titles = [one.title for one in way_figures(report_of("one-way-out"), "SB1", 180.0)]
    assert titles == ["Way out of SB1 to D1", "Second entrance: way out of SB1 to D1"]


@pytest.mark.long
@pytest.mark.parametrize("size", [(269.0, 157.0), (120.0, 300.0)])
def test_the_ways_in_question_stand_on_one_sheet_to_one_scale(
    size: tuple[float, float],
) -> None:
    """Beside each other where the sheet is wide, below each other where it is high."""
    report = report_of("one-way-out")
    figure = ways_of(report, "SB1")(*size)
    titles = {
        text.text: text.at
        for text in texts_of(figure)
        if "way out of SB1" in text.text or "Way out of SB1" in text.text
    }
    (one, first), (other, second) = sorted(titles.items(), reverse=True)
    assert one.startswith("Way out of SB1 to D1, gear doors open")
    assert other.startswith("Second entrance: way out of SB1")
    beside = size[0] > size[1]
    assert (first[1] == second[1]) == beside
    assert (first[0] == second[0]) == (not beside)
    assert "narrowest 600 mm" in words_of(figure)
    assert "no second way from here" in words_of(figure)
    assert figure.title == "Ways out of SB1"
    assert "600 mm" in figure.about
    assert "Second entrance" in figure.about
    assert one.rsplit(" ", 1)[1] == other.rsplit(" ", 1)[1] == f"1:{figure.scale:g}"
    assert figure.width <= size[0]
    assert figure.height <= size[1]
    lengths = [one for one in figure.marks if isinstance(one, DimensionLine)]
    assert {one.scale for one in lengths} == {figure.scale}


@pytest.mark.long
def test_a_note_on_a_way_reads_as_a_sentence() -> None:
    """It said "between the door of SB1 and wall-south of 610 mm (24 in)"."""
    words = words_of(ways_of(report_of("one-way-out"), "SB1")(269.0, 157.0))
    narrow = "narrowest 600 mm (1 ft 11 5/8 in) of 610 mm (24 in) between the door of"
    assert narrow in words
    assert "900 mm (2 ft 11 7/16 in) at D1, wide enough for 610 mm (24 in)" in words


def test_a_way_that_is_met_is_drawn_where_none_is_in_question() -> None:
    report = report_of("old-switch-room")
    figure = ways_of(report, "SB1")(*SIZE)
    assert figure.title.startswith("Way out of SB1 to ")


@pytest.mark.long
def test_only_the_leaves_that_were_taken_as_open_are_drawn_open() -> None:
    """SB1 is left past open doors, LP1 with all of them shut, in one room."""
    report = report_of("one-way-out")
    (past_open, shut) = (
        next(one.way for one in report.judgements if one.subject == item and one.way)
        for item in ("SB1", "T1" if not report.of("LP1", "entrance") else "LP1")
    )
    assert past_open is not None
    assert shut is not None
    assert [one.item for one in past_open.leaves].count("SB1") == 3
    for leaf in past_open.leaves:
        assert math.dist(leaf.hinge, leaf.tip) == pytest.approx(
            math.dist(leaf.hinge, leaf.shut)
        )
    assert "between the door of SB1 and wall-south" in words_of(
        ways_of(report, "SB1")(*SIZE)
    )
    open_ones = next(way_figures(report, "SB1", 180.0))
    for figure, way in ((open_ones, past_open), (ways_of(report, "LP1")(*SIZE), shut)):
        drawn = sum(one.layer == pens.LEAF for one in figure.marks)
        assert drawn == 1 + len(way.leaves)  # and the room's own door
        words = "open as drawn" if way.leaves else "gear doors shut"
        assert words in words_of(figure)


def test_the_excess_alone_is_hatched_in_the_detail_of_a_reach() -> None:
    """The pull box is 170 mm past the panel's front, 150 are allowed."""
    figure = reach_figure(subject("pump-station", "LP1"), *SIZE)
    outline = next(
        one.outline
        for one in figure.marks
        if isinstance(one, Hatch) and one.layer == pens.IN_THE_WAY
    )
    xs = [x for x, _ in outline]
    assert (max(xs) - min(xs)) * figure.scale == pytest.approx(20, abs=0.5)
    assert figure.scale <= 15


def test_a_page_has_a_title_block_and_the_caution() -> None:
    report = report_of("pump-station")
    one = subject("pump-station", "LP1")
    figure = framed(report, "letter", lambda *size: item_figure(one, ALL, *size))
    words = words_of(figure)
    assert (figure.width, figure.height) == (279.4, 215.9)
    for said in ("NEC 2023 (nec-2023)", "Harbour pump station", "Revision", "Checked"):
        assert said in words, said
    assert "Energised equipment can kill" in words


def test_an_svg_is_xml_with_its_meaning_in_words_and_the_same_every_time() -> None:
    def drawn() -> str:
        return svg(item_figure(subject("pump-station", "PCP1"), ALL, *SIZE))

    text = drawn()
    assert text == drawn()
    root = ET.fromstring(text)  # noqa: S314 - our own text
    space = "{http://www.w3.org/2000/svg}"
    described = root.find(f"{space}desc")
    assert described is not None
    assert described.text is not None
    assert "RW1 is 516 mm" in described.text
    assert root.get("width") == "180mm"
    assert "script" not in text


@pytest.mark.long
@pytest.mark.parametrize("height", [1900, 2100])
def test_a_way_that_is_too_low_says_how_high_it_is(height: int) -> None:
    """By plain arithmetic: nothing of the way is lower than its door.

    NEC 110.26(C)(2) prints 2.0 m (6 1/2 ft).
    """
    door = RoomDoor(id="D1", wall="south", along=500, width=900, height=height)
    panel = Item(
        id="LP1",
        kind="panelboard",
        size=(500, 150, 1000),
        place={"wall": "north", "along": 1500, "bottom": 900},
        supply={"system": "208Y/120", "amps": 225},
        door="left",
    )
    room = Room(size=(4000, 3000), height=2700, walls="block", doors=[door])
    head = {"title": "Annex", "units": "mm", "rules": "nec-2023"}
    report = check(Scene(**head, room=room, items=[panel]))
    figure = ways_of(report, "LP1")(180.0, 120.0)
    told = "no higher than 1900 mm (6 ft 2 13/16 in)"
    written = [one.text for one in texts_of(figure)]
    (title,) = [one for one in written if one.startswith("Way out of LP1")]
    assert (told in title) == (height < 2000)
    lowest = f"lowest {told.removeprefix('no higher than ')}", "of 2.0 m (6 1/2 ft)"
    assert (lowest[0] in written) == (lowest[1] in written) == (height < 2000)
    low, high = 0.0, figure.height
    lines = [mark for mark in figure.marks if isinstance(mark, Line)]
    ways = [y for mark in lines if mark.layer == pens.WAY for _, y in mark.points]
    level = next(one.at[1] for one in texts_of(figure) if one.text == title)
    assert ways
    assert all(low <= y < level for y in ways), "it ends above the title"
    assert level < high


def test_a_title_block_says_the_room_once_and_cuts_no_word() -> None:
    """The drawing's title began with the room, and its end was cut. Common practice."""
    report = report_of("pump-station")
    words = words_of(framed(report, "a4", lambda *size: room_figure(report, *size)))
    assert "Plan of the room" in words
    assert "\u2026" not in words


def test_where_a_leaf_stops_is_told_at_the_leaf() -> None:
    """Its leader ended at the person. Common practice: it ends at its thing."""
    figure = item_figure(subject("pump-station", "PCP1"), ("plan",), *SIZE)
    leaf = next(m for m in figure.marks if isinstance(m, Line) and m.layer == pens.LEAF)
    (x, y), (a, b) = leaf.points
    tip = (x + 0.9 * (a - x), y + 0.9 * (b - y))
    ends = [
        math.dist(tip, point)
        for mark in figure.marks
        if isinstance(mark, Line) and mark.layer == pens.LEADER
        for point in mark.points
    ]
    assert min(ends) < 0.1
