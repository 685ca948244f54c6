"""Rule books: by id, by date, and what they say when asked for what is not there."""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from datetime import date

import pytest

from model3d.codebook import BOOKS, BookError, RuleBook, load_book

TODAY = date(2026, 1, 1)


def test_the_books_in_order() -> None:
    assert list(BOOKS) == sorted(BOOKS)
    assert {f"nec-{year}" for year in range(2014, 2027, 3)} < {*BOOKS}
    assert {"osha-1910", "osha-1926"} < {*BOOKS}


@pytest.mark.parametrize(
    ("book", "name", "table", "citation"),
    [
        ("nec-2014", "NEC 2014", "battery-gap", "NEC 2014 480.9(C)"),
        ("nec-2017", "NEC 2017", "battery-gap", "NEC 2017 480.10(C)"),
        ("nec-2023", "NEC 2023", "working-space-height", "NEC 2023 110.26(A)(3)"),
        (
            "osha-1910",
            "29 CFR 1910.303",
            "associated-reach",
            "29 CFR 1910.303(g)(1)(i)(C)",
        ),
        (
            "osha-1910",
            "29 CFR 1910.303",
            "working-space-depth",
            "29 CFR 1910.303 Table S-1",
        ),
        ("osha-1926", "29 CFR 1926.403", "entrance", "29 CFR 1926.403(i)(1)(iii)"),
    ],
)
def test_a_book_cites_itself(book: str, name: str, table: str, citation: str) -> None:
    rules = load_book(book)
    assert (rules.id, rules.name) == (book, name)
    assert rules.entry(table).citation == citation


def test_a_value_may_have_a_citation_of_its_own() -> None:
    entry = load_book("nec-2023").entry("dedicated-space")
    assert entry.citation == entry.cite("height_above") == "NEC 2023 110.26(E)(1)(a)"
    assert entry.cite("foreign_above") == "NEC 2023 110.26(E)(1)(b)"


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("nec2023", "did you mean nec-2023?"),
        ("osha1910", "did you mean osha-1910?"),
        ("atlas", "known are nec-2014"),
        ("", "known are nec-2014"),
    ],
)
def test_an_unknown_book_is_refused_with_the_nearest(name: str, message: str) -> None:
    with pytest.raises(BookError) as caught:
        load_book(name)
    assert message in str(caught.value)


def test_a_table_that_does_not_list_the_edition_is_an_error() -> None:
    later = RuleBook("nec-2029", "NEC 2029", None, base="nec-2029")
    with pytest.raises(BookError, match="does not list 'nec-2029'"):
        later.entry("working-space-width")


def test_asking_for_what_is_not_there_is_an_error() -> None:
    entry = load_book("nec-2023").entry("working-space-width")
    with pytest.raises(BookError, match="no value 'depth'; it has width, or_equip"):
        entry.figure("depth")


@pytest.mark.parametrize("ask", ["figure", "number", "flag", "words", "cite", "mark"])
def test_every_way_of_asking_refuses_an_unknown_key(ask: str) -> None:
    entry = load_book("nec-2023").entry("large-equipment")
    with pytest.raises(BookError, match="'none_such'"):
        getattr(entry, ask)("none_such")


@pytest.mark.parametrize(
    ("ask", "key"),
    [("figure", "amps"), ("number", "combined_service"), ("flag", "amps")],
)
def test_a_value_of_another_kind_is_refused(ask: str, key: str) -> None:
    entry = load_book("nec-2023").entry("large-equipment")
    with pytest.raises(BookError, match=f"'{key}'"):
        getattr(entry, ask)(key)


def test_words_and_rows_are_not_mixed_up() -> None:
    book = load_book("nec-2023")
    with pytest.raises(BookError, match="no words 'rows'"):
        book.entry("working-space-depth").words("rows")
    with pytest.raises(BookError, match="no value 'rows'"):
        _ = book.entry("working-space-width").rows


def test_an_absent_rule_says_why() -> None:
    entry = load_book("osha-1926").entry("dedicated-space")
    assert not entry.given
    with pytest.raises(BookError, match="no such rule: 1926"):
        entry.figure("height_above")


def test_a_rule_apart_stands_where_the_main_one_is_absent() -> None:
    # 29 CFR 1926.403(j)(3) prints the 90 degrees for over 600 V only.
    entry = load_book("osha-1926").entry("door-angle")
    assert not entry.given
    assert not entry.has("degrees")
    assert entry.number("high_voltage_degrees") == 90
    assert entry.cite("high_voltage_degrees") == "29 CFR 1926.403(j)(3)"


def test_no_date_means_a_new_installation() -> None:
    for book in BOOKS:
        new, undated = load_book(book, installed=TODAY), load_book(book)
        for table in ("working-space-depth", "working-space-height"):
            assert new.entry(table) == undated.entry(table)


def test_what_did_not_change_with_the_date_keeps_its_citation() -> None:
    # 29 CFR 1910.303(g)(1)(vi): only the figure and the equipment's own top are dated.
    old = load_book("osha-1910", installed=date(2000, 1, 1))
    entry = old.entry("working-space-height")
    assert entry.cite("height") == "29 CFR 1910.303(g)(1)(vi)(A)"
    assert entry.cite("kinds") == "29 CFR 1910.303(g)(1)(vi)(B)"
    assert old.installed == date(2000, 1, 1)


def test_books_and_entries_are_frozen() -> None:
    book = load_book("nec-2023")
    with pytest.raises(FrozenInstanceError):
        book.id = "mine"  # type: ignore[misc]
    with pytest.raises(TypeError):
        book.entry("storage").values["barred"] = None  # type: ignore[index]


def test_a_book_can_be_a_key() -> None:
    assert len({load_book(name) for name in (*BOOKS, "nec-2023")}) == len(BOOKS)
    assert len({load_book("nec-2023").entry("storage")}) == 1
