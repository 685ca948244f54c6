"""The tables of 29 CFR 1910.303 and 1926.403, typed again and compared cell by cell.

Source: eCFR, title 29, sections 1910.303 and 1926.403, text current on 2026-09-30
(ecfr.gov/current/title-29/section-1910.303, .../section-1926.403). The metres are those
that the section prints, not feet worked out again.
"""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest

from model3d.codebook import VoltageRow, load_book

FOOT = 0.3048
INCH = 0.0254

BEFORE_1981 = date(1981, 4, 15)
ON_1981 = date(1981, 4, 16)
BEFORE_2007 = date(2007, 8, 12)
ON_2007 = date(2007, 8, 13)

# Volts above, volts up to, then metres and feet of conditions A, B and C.
Printed = tuple[tuple[float, float, tuple[float, ...], tuple[float, ...]], ...]

TABLE_S1: Printed = (
    (0, 150, (0.9, 0.9, 0.9), (3.0, 3.0, 3.0)),
    (150, 600, (0.9, 1.0, 1.2), (3.0, 3.5, 4.0)),
)
TABLE_S1_NOTE_1: Printed = (
    (0, 150, (0.7, 0.7, 0.9), (2.5, 2.5, 3.0)),
    (150, 600, (0.7, 1.0, 1.2), (2.5, 3.5, 4.0)),
)
TABLE_S2: Printed = (
    (600, 2_500, (0.9, 1.2, 1.5), (3.0, 4.0, 5.0)),
    (2_500, 9_000, (1.2, 1.5, 1.8), (4.0, 5.0, 6.0)),
    (9_000, 25_000, (1.5, 1.8, 2.8), (5.0, 6.0, 9.0)),
    (25_000, 75_000, (1.8, 2.5, 3.0), (6.0, 8.0, 10.0)),
    (75_000, math.inf, (2.5, 3.0, 3.7), (8.0, 10.0, 12.0)),
)
TABLE_S2_NOTE_1: Printed = (
    (600, 2_500, (0.9, 1.2, 1.5), (3.0, 4.0, 5.0)),
    (2_500, 9_000, (1.2, 1.5, 1.8), (4.0, 5.0, 6.0)),
    (9_000, 25_000, (1.5, 1.8, 2.8), (5.0, 6.0, 9.0)),
    (25_000, 75_000, (1.5, 1.8, 2.8), (5.0, 6.0, 9.0)),
    (75_000, math.inf, (1.5, 1.8, 2.8), (5.0, 6.0, 9.0)),
)
TABLE_S3: Printed = (
    (600, 7_500, (2.8,), (9.0,)),
    (7_500, 35_000, (2.8,), (9.0,)),
    (35_000, math.inf, (2.8,), (9.0,)),
)
TABLE_S3_BEFORE_2007: Printed = (
    (600, 7_500, (2.6,), (8.5,)),
    (7_500, 35_000, (2.8,), (9.0,)),
    (35_000, math.inf, (2.8,), (9.0,)),
)
TABLE_S3_BEFORE_1981: Printed = (
    (600, 6_600, (2.4,), (8.0,)),
    (6_600, 7_500, (2.6,), (8.5,)),
    (7_500, 35_000, (2.8,), (9.0,)),
    (35_000, math.inf, (2.8,), (9.0,)),
)

# Feet only: 1926.403 prints these tables in no other system.
TABLE_K1: Printed = (
    (0, 150, (), (3.0, 3.0, 3.0)),
    (150, 600, (), (3.0, 3.5, 4.0)),
)
TABLE_K2: Printed = (
    (600, 2_500, (), (3.0, 4.0, 5.0)),
    (2_500, 9_000, (), (4.0, 5.0, 6.0)),
    (9_000, 25_000, (), (5.0, 6.0, 9.0)),
    (25_000, 75_000, (), (6.0, 8.0, 10.0)),
    (75_000, math.inf, (), (8.0, 10.0, 12.0)),
)
TABLE_K3: Printed = (
    (600, 7_500, (), (8.5,)),
    (7_500, 35_000, (), (9.0,)),
    (35_000, math.inf, (), (9.0,)),
)


def assert_same(rows: tuple[VoltageRow, ...], printed: Printed) -> None:
    assert [(row.above, row.up_to) for row in rows] == [line[:2] for line in printed]
    for row, (_, _, metres, feet) in zip(rows, printed, strict=True):
        assert [c.inch_pound for c in row.cells] == pytest.approx(
            [foot * FOOT for foot in feet], abs=1e-9
        )
        # What is printed in feet only serves in both measures.
        both = metres or tuple(foot * FOOT for foot in feet)
        assert [c.si for c in row.cells] == pytest.approx(both, abs=1e-9)
        systems = ("si", "inch-pound") if metres else ("inch-pound",)
        assert {cell.printed for cell in row.cells} == {systems}


@pytest.mark.parametrize(
    ("installed", "printed"),
    [
        (None, TABLE_S1),
        (ON_2007, TABLE_S1),
        (BEFORE_2007, TABLE_S1),
        (ON_1981, TABLE_S1),
        (BEFORE_1981, TABLE_S1_NOTE_1),
    ],
)
def test_table_s1(installed: date | None, printed: Printed) -> None:
    entry = load_book("osha-1910", installed=installed).entry("working-space-depth")
    assert_same(entry.rows, printed)
    assert entry.citation.startswith("29 CFR 1910.303 Table S-1")
    assert entry.checked == "read"


@pytest.mark.parametrize(
    ("installed", "printed"),
    [(None, TABLE_S2), (ON_1981, TABLE_S2), (BEFORE_1981, TABLE_S2_NOTE_1)],
)
def test_table_s2(installed: date | None, printed: Printed) -> None:
    entry = load_book("osha-1910", installed=installed).entry("high-voltage-depth")
    assert_same(entry.rows, printed)
    assert entry.citation.startswith("29 CFR 1910.303 Table S-2")
    assert entry.checked == "read"


@pytest.mark.parametrize(
    ("installed", "printed"),
    [
        (None, TABLE_S3),
        (ON_2007, TABLE_S3),
        (BEFORE_2007, TABLE_S3_BEFORE_2007),
        (ON_1981, TABLE_S3_BEFORE_2007),
        (BEFORE_1981, TABLE_S3_BEFORE_1981),
    ],
)
def test_table_s3(installed: date | None, printed: Printed) -> None:
    entry = load_book("osha-1910", installed=installed).entry("unguarded-live-parts")
    assert_same(entry.rows, printed)
    # Over 35 kV: 2.8 m + 9.5 mm, or 9.0 ft + 0.37 in, for each kV above 35.
    more = entry.figure("per_kilovolt")
    assert more.si == pytest.approx(0.0095, abs=1e-12)
    assert more.inch_pound == pytest.approx(0.37 * INCH, abs=1e-12)


@pytest.mark.parametrize(
    ("table", "printed", "name"),
    [
        ("working-space-depth", TABLE_K1, "Table K-1"),
        ("high-voltage-depth", TABLE_K2, "Table K-2"),
        ("unguarded-live-parts", TABLE_K3, "Table K-3"),
    ],
)
@pytest.mark.parametrize("installed", [None, BEFORE_1981])
def test_tables_k(
    table: str, printed: Printed, name: str, installed: date | None
) -> None:
    entry = load_book("osha-1926", installed=installed).entry(table)
    assert_same(entry.rows, printed)
    assert entry.citation == f"29 CFR 1926.403 {name}"


def test_table_k3_over_35_kilovolts() -> None:
    # 9 ft + 0.37 in for each kV above 35.
    more = load_book("osha-1926").entry("unguarded-live-parts").figure("per_kilovolt")
    assert more.si == more.inch_pound == pytest.approx(0.37 * INCH, abs=1e-12)
    assert more.printed == ("inch-pound",)


@pytest.mark.parametrize(
    ("installed", "metres", "feet", "own_top", "paragraph"),
    [
        (None, 1.98, 6.5, True, "(g)(1)(vi)(B)"),
        (ON_2007, 1.98, 6.5, True, "(g)(1)(vi)(B)"),
        (BEFORE_2007, 1.91, 6.25, False, "(g)(1)(vi)(A)"),
        (BEFORE_1981, 1.91, 6.25, False, "(g)(1)(vi)(A)"),
    ],
)
def test_headroom_of_1910(
    installed: date | None, metres: float, feet: float, *, own_top: bool, paragraph: str
) -> None:
    # 29 CFR 1910.303(g)(1)(vi).
    entry = load_book("osha-1910", installed=installed).entry("working-space-height")
    height = entry.figure("height")
    assert (height.si, height.inch_pound) == pytest.approx((metres, feet * FOOT))
    assert entry.flag("or_equipment_top") is own_top
    assert entry.citation == f"29 CFR 1910.303{paragraph}"


# Book, table, key, metres, inches: single figures of the two sections.
SINGLE = [
    ("osha-1910", "working-space-width", "width", 0.762, 30),
    ("osha-1910", "associated-reach", "reach", 0.153, 6),
    ("osha-1910", "dedicated-space", "height_above", 1.83, 72),
    ("osha-1910", "large-equipment", "width_over", 1.83, 72),
    ("osha-1910", "large-equipment", "entrance_width", 0.610, 24),
    ("osha-1910", "large-equipment", "entrance_height", 1.98, 78),
    ("osha-1910", "rear-access", "nonelectrical", 0.762, 30),
    ("osha-1910", "high-voltage-height", "height", 1.98, 78),
    ("osha-1910", "high-voltage-width", "width", 0.914, 36),
    ("osha-1910", "high-voltage-entrance", "width", 0.610, 24),
    ("osha-1910", "high-voltage-entrance", "height", 1.98, 78),
    ("osha-1910", "high-voltage-entrance", "board_width_over", 1.83, 72),
    ("osha-1926", "working-space-width", "width", 0.762, 30),
    ("osha-1926", "working-space-height", "height", 1.91, 75),
    ("osha-1926", "high-voltage-height", "height", 1.98, 78),
    ("osha-1926", "high-voltage-width", "width", 0.914, 36),
    ("osha-1926", "high-voltage-entrance", "width", 0.610, 24),
    ("osha-1926", "high-voltage-entrance", "height", 1.98, 78),
    ("osha-1926", "high-voltage-entrance", "board_width_over", 1.22, 48),
]


@pytest.mark.parametrize(("book", "table", "key", "metres", "inches"), SINGLE)
def test_single_figures(
    book: str, table: str, key: str, metres: float, inches: float
) -> None:
    figure = load_book(book).entry(table).figure(key)
    assert figure.si == pytest.approx(metres, abs=1e-9)
    assert figure.inch_pound == pytest.approx(inches * INCH, abs=1e-9)


@pytest.mark.parametrize("book", ["osha-1910", "osha-1926"])
def test_live_parts_up_to_600_volts(book: str) -> None:
    # 29 CFR 1910.303(g)(2)(i)(D), 1926.403(i)(2)(i)(D): 8 ft (2.44 m) from 50 V on.
    entry = load_book(book).entry("low-voltage-live-parts")
    (row,) = entry.rows
    assert (row.above, row.up_to, entry.number("volts_from")) == (0, 600, 50)
    assert row.cells[0].si == pytest.approx(2.44, abs=1e-9)
    assert row.cells[0].inch_pound == pytest.approx(96 * INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("table", "last_day"),
    [
        ("large-equipment", date(2007, 8, 13)),
        ("dedicated-space", date(2007, 8, 13)),
        ("high-voltage-entrance", date(1981, 4, 16)),
    ],
)
def test_what_binds_no_older_installation(table: str, last_day: date) -> None:
    # 29 CFR 1910.302(b)(3) and (b)(4): only installations made after that day.
    older = load_book("osha-1910", installed=last_day).entry(table)
    assert not older.given
    assert str(last_day) in str(older.absent)
    after = last_day + timedelta(days=1)
    assert load_book("osha-1910", installed=after).entry(table).given
    assert load_book("osha-1910").entry(table).given
