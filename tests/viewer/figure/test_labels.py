"""Labels touch neither one another nor a line nor a hatch: every box is measured."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.paths import ROOMS
from tests.viewer.figure.examples import (
    busiest,
    report_of,
    subject,
    texts_of,
)
from tests.viewer.figure.measured import touching
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import DimensionLine, Line, Text
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.drafting.labels.spots import cross
from viewer.figure.drafting.paper import Paper
from viewer.figure.drafting.strokes import box_of
from viewer.figure.item.three_sides import ALL, item_figure
from viewer.figure.plans.room import room_figure
from viewer.figure.plans.ways_sheet import way_figures

if TYPE_CHECKING:
    from viewer.figure.drafting.drawing import Figure

UNITS = ("mm", "ft")
WIDTH, HEIGHT = 180.0, 150.0


def _assert_readable(figure: Figure) -> None:
    texts = texts_of(figure)
    assert touching(texts, figure.marks) == []
    for text in texts:
        left, top, right, bottom = box_of(text)
        assert left >= -0.01, text
        assert top >= -0.01, text
        assert right <= figure.width + 0.01, text
        assert bottom <= figure.height + 0.01, text
    bare = [
        mark
        for mark in figure.marks
        if isinstance(mark, DimensionLine) and not mark.texts
    ]
    assert bare == [], "a dimension has lost its words"


@pytest.mark.long
@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("place", range(12))
def test_the_busiest_items(
    place: int, units: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    name, item = busiest(12)[place]
    monkeypatch.setattr("viewer.figure.things.subject.units_of", lambda _: units)
    figure = item_figure(subject(name, item), ALL, WIDTH, HEIGHT)
    _assert_readable(figure)
    assert figure.height <= HEIGHT + 2


@pytest.mark.long
@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", [file.stem for file in ROOMS])
def test_the_plan_of_every_example_room(
    name: str, units: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in ("plans.room", "plans.distances", "things.subject"):
        monkeypatch.setattr(f"viewer.figure.{module}.units_of", lambda _: units)
    _assert_readable(room_figure(report_of(name), WIDTH, HEIGHT))


@pytest.mark.long
def test_every_way_that_is_in_question() -> None:
    found = [
        figure
        for file in ROOMS
        for item in {one.subject for one in report_of(file.stem).judgements}
        for figure in way_figures(report_of(file.stem), item, WIDTH)
    ]
    assert found
    for figure in found:
        _assert_readable(figure)


def test_what_the_measuring_finds() -> None:
    """It can fail: words on a line, on a hatch and on words are told."""
    paper = Paper(50, 50)
    paper.put(Line(pens.THING, ((0, 20), (50, 20))))
    paper.label(FigureLabel(("above",), at_point((25, 20)), (0, 0, 50, 50)))
    paper.settle()
    (text,) = [text for text in paper.marks if not isinstance(text, Line)]
    assert touching([text], paper.marks) == []  # type: ignore[list-item]
    through = Line(pens.THING, ((0, 10), (50, 30)))
    assert touching([text, text], [through]) != []  # type: ignore[list-item]


spans = st.floats(5, 95)


@pytest.mark.long
@given(st.lists(st.tuples(spans, spans, spans, spans), max_size=12), st.integers(1, 9))
def test_labels_find_free_places_among_any_lines(
    ends: list[tuple[float, float, float, float]], count: int
) -> None:
    paper = Paper(100, 100)
    for x0, y0, x1, y1 in ends:
        paper.put(Line(pens.THING, ((x0, y0), (x1, y1))))
    for number in range(count):
        point = (50.0, 10.0 * number + 5)
        lines = (f"name {number}", "(1 ft 2 in)")
        paper.label(FigureLabel(lines, at_point(point), (0, 0, 100, 100)))
    paper.settle()
    marks = [mark for mark in paper.marks if mark.layer != pens.LEADER]
    texts = [mark for mark in marks if isinstance(mark, Text)]
    assert touching(texts, paper.marks) == []
    # Where a point lies under the words of others, a note tells it: none is lost.
    told = [text.text for text in texts]
    told += [words.removesuffix(" (1 ft 2 in)") for _, words in paper.notes]
    assert {f"name {number}" for number in range(count)} <= set(told)


def test_a_name_led_away_stands_in_no_other_thing() -> None:
    """A name in the section beside its own would be read as that section's."""
    own, beside = (10.0, 10.0, 20.0, 20.0), (20.0, 10.0, 40.0, 20.0)
    found = {}
    for others in ((), (own, beside, (5.0, 5.0, 95.0, 55.0))):
        paper = Paper(100, 60)
        paper.put(Line(pens.THING, ((12, 15), (18, 15))))  # across its middle
        label = FigureLabel(("P1",), own, (0, 0, 100, 60), others=others)
        paper.label(label)
        paper.settle()
        (text,) = (mark for mark in paper.marks if isinstance(mark, Text))
        left, top, right, bottom = box_of(text)
        found[bool(others)] = ((left + right) / 2, (top + bottom) / 2)
    assert 20 < found[False][0] < 40, "beside it is the first place that is tried"
    x, y = found[True]
    assert not (20 < x < 40 and 10 < y < 20)


def test_leaders_do_not_cross_where_there_is_another_place() -> None:
    paper = Paper(100, 100)
    for name, x, rows in (
        ("P1", 60.0, ((40.0, 40.0),)),
        ("P2", 40.0, ((60.0, 40.0), (40.0, 60.0))),
    ):
        point = at_point((x, 50.0))
        paper.label(FigureLabel((name,), point, (0, 0, 100, 100), rows=rows))
    paper.settle()
    lines = [mark for mark in paper.marks if isinstance(mark, Line)]
    one, other = [mark.points for mark in lines if mark.layer == pens.LEADER]
    assert not cross(one, other)
    assert other[1][1] < other[0][1], "P2 is led down to its second place"


def test_words_of_two_labels_are_apart_enough_to_be_read_as_two() -> None:
    paper = Paper(100, 60)
    for number in range(6):
        x = 20 + 8.0 * number  # each is 7.2 wide
        label = FigureLabel(
            (f"MCC{number}",), at_point((x, 40.0)), (0, 0, 100, 60), inside=((x, 20.0),)
        )
        paper.label(label)
    paper.settle()
    boxes = [box_of(one) for one in paper.marks if isinstance(one, Text)]
    assert len(boxes) == 6
    for (a, b, c, d), (e, f, g, h) in combinations(boxes, 2):
        assert max(e - c, a - g) > 0.9 or max(f - d, b - h) > 0.4
