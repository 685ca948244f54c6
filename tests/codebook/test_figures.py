"""Figures in two systems: which of them counts, and how they were checked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from model3d.codebook import BOOKS, PrintedFigure, VoltageRow, load_book, table_names
from model3d.codebook.figures import worst
from model3d.codebook.written.lengths import Length
from model3d.codebook.written.models import Marks

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from model3d.codebook import Mark, Measures

READ = Marks("read", "read")


def printed(raw: object, marks: Marks) -> PrintedFigure:
    """Return a length as a table writes it."""
    return Length.model_validate(raw).content(marks)


def both(si: str, inch_pound: str, marks: Marks = READ) -> PrintedFigure:
    """Return a length that both systems print."""
    return printed({"si": si, "inch_pound": inch_pound}, marks)


# NEC Table 110.26(A)(1), 151 to 600 V, condition 2: 1.0 m is less than 3 ft 6 in.
DEPTH = both("1.0 m", "3 ft 6 in", Marks("memory", "read"))
# NEC 110.26(A)(3): 6 in is more than 150 mm.
REACH = both("150 mm", "6 in")


@pytest.mark.parametrize(
    ("measures", "least", "most", "mark"),
    [
        ("si", 1.0, 0.15, "memory"),
        ("inch-pound", 1.0668, 0.1524, "read"),
        # NEC 90.9(D): compliance in either system is compliance.
        ("either", 1.0, 0.1524, "memory"),
    ],
)
def test_measures_pick_the_figure(
    measures: Measures, least: float, most: float, mark: Mark
) -> None:
    assert DEPTH.at_least(measures) == pytest.approx(least, abs=1e-12)
    assert REACH.at_most(measures) == pytest.approx(most, abs=1e-12)
    assert DEPTH.checked(measures) == mark


def test_either_is_the_easier_one_whichever_system_that_is() -> None:
    # NEC 110.26(A)(3): 2.0 m is more than 6 1/2 ft.
    height = both("2.0 m", "6 1/2 ft")
    assert height.at_least("either") == height.inch_pound < height.si
    assert height.at_most("either") == height.si


@pytest.mark.parametrize("measures", ["si", "inch-pound", "either"])
@pytest.mark.parametrize(
    ("text", "metres", "system"),
    [("3 1/2 ft", 1.0668, "inch-pound"), ("914 mm", 0.914, "si")],
)
def test_a_figure_of_one_system_serves_in_both(
    measures: Measures, text: str, metres: float, system: str
) -> None:
    figure = printed(text, Marks("copy", "copy"))
    assert figure.at_least(measures) == pytest.approx(metres, abs=1e-12)
    assert figure.at_most(measures) == pytest.approx(metres, abs=1e-12)
    assert figure.checked(measures) == "copy"
    assert figure.printed == (system,)
    assert figure.text == figure.text_si == figure.text_inch_pound == text


def test_one_system_takes_its_own_mark() -> None:
    figure = printed({"inch_pound": "3 ft"}, Marks("memory", "read"))
    assert figure.checked("si") == figure.checked("either") == "read"


@pytest.mark.parametrize("ask", [DEPTH.at_least, DEPTH.at_most, DEPTH.checked])
def test_an_unknown_measure_is_never_taken_for_another(
    ask: Callable[[Any], object],
) -> None:
    with pytest.raises(AssertionError, match="cubits"):
        ask("cubits")


def test_texts_stand_as_printed() -> None:
    assert (DEPTH.text_si, DEPTH.text_inch_pound) == ("1.0 m", "3 ft 6 in")
    assert DEPTH.text == "1.0 m / 3 ft 6 in"


def test_worst_mark() -> None:
    assert worst(["read", "read"]) == "read"
    assert worst(["copy", "read"]) == "copy"


@pytest.mark.parametrize(
    ("volts", "holds"), [(150, False), (150.5, True), (600, True), (601, False)]
)
def test_a_row_ends_with_its_last_volt(volts: float, *, holds: bool) -> None:
    assert VoltageRow(150, 600, ()).holds(volts) is holds


def every_figure() -> Iterator[tuple[str, str, PrintedFigure]]:
    for book in BOOKS:
        for table in table_names():
            entry = load_book(book).entry(table)
            for key in entry.values:
                if key == "rows":
                    for row in entry.rows:
                        yield from ((book, table, cell) for cell in row.cells)
                elif isinstance(entry.values[key].content, PrintedFigure):
                    yield book, table, entry.figure(key)


def test_both_systems_are_stored_where_both_are_printed() -> None:
    # 29 CFR 1926.403 prints Tables K-1, K-2 and K-3 in feet and inches only; nothing
    # else in any book is printed in one system.
    single = {
        (book, table) for book, table, one in every_figure() if len(one.printed) == 1
    }
    assert single == {
        ("osha-1926", "working-space-depth"),
        ("osha-1926", "high-voltage-depth"),
        ("osha-1926", "unguarded-live-parts"),
    }


# Within a thousandth a metric figure is the other one converted. These are so in print:
# 30 in is 762 mm exactly, and the codes round these to the millimetre or centimetre.
CONVERTED_IN_PRINT = {
    "559 mm / 22 in",
    "610 mm / 24 in",
    "762 mm / 30 in",
    "914 mm / 3 ft",
    "914 mm / 3.0 ft",
    "1.22 m / 48 in",
    "1.22 m / 4 ft",
    "1.83 m / 6.0 ft",
    "1.98 m / 6 ft 6 in",
    "1.98 m / 6.5 ft",
    "2.44 m / 8 ft",
    "2.44 m / 8.0 ft",
}


def test_no_other_figure_is_worked_out_from_the_other_system() -> None:
    converted = {
        one.text
        for _, _, one in every_figure()
        if len(one.printed) == 2 and abs(one.si / one.inch_pound - 1) < 0.001
    }
    assert converted == CONVERTED_IN_PRINT


@pytest.mark.parametrize("book", ["nec-2017", "nec-2020", "nec-2023", "nec-2026"])
def test_condition_2_is_one_metre_or_three_feet_six(book: str) -> None:
    # Electrical Contractor, July 2016, p. 68 (feet); the SI cell is 1.0 m, while
    # 3 ft 6 in is 1066.8 mm.
    _, row, _ = load_book(book).entry("working-space-depth").rows
    assert row.cells[1].si == 1.0
    assert row.cells[1].inch_pound == pytest.approx(1.0668, abs=1e-12)
