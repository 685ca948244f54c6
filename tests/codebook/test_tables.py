"""Every table says what every book says; one that does not is refused."""

from __future__ import annotations

import ast
import inspect
import sys
from typing import TYPE_CHECKING

import pytest

from model3d.catalogue.rule_pages import rule_pages
from model3d.codebook import (
    BOOKS,
    load_book,
    read_table,
    table_names,
)
from model3d.codebook.figures import MARKS
from model3d.codebook.tables import FOLDER, read_toml

if TYPE_CHECKING:
    from pathlib import Path

TABLES = table_names()
READ_BY_ALL = {"units-of-measure"}
"""Tables that no rule names: which system counts is asked for every rule."""


def test_the_tables_are_those_that_the_rules_ask_for() -> None:
    asked = {table for page in rule_pages() for table in page.tables}
    assert {*TABLES} == asked | READ_BY_ALL


@pytest.mark.parametrize("table", TABLES)
def test_every_table_says_what_every_book_says(table: str) -> None:
    raw = read_toml(FOLDER / f"{table}.toml", table)
    assert [name for name in raw if name not in {"title", "keys"}] == list(BOOKS)
    assert tuple(read_table(table).blocks) == BOOKS


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize("book", BOOKS)
def test_every_entry_is_cited_and_marked_or_absent(book: str, table: str) -> None:
    rules = load_book(book)
    entry = rules.entry(table)
    assert entry.checked in MARKS
    if entry.absent is None:
        assert entry.given
        assert entry.citation.removeprefix(rules.name).strip()
        keys = read_table(table).keys.items()
        assert all(entry.has(name) for name, key in keys if not key.optional)
    else:
        assert not entry.given
        assert entry.citation == rules.name
    for key in entry.values:
        assert entry.cite(key).startswith(rules.name)
        assert entry.mark(key) in MARKS


@pytest.mark.parametrize("table", TABLES)
def test_every_file_opens_with_its_source(table: str) -> None:
    text = (FOLDER / f"{table}.toml").read_text(encoding="utf-8")
    head = text[: text.index("title =")]
    assert all(line.startswith("# ") for line in head.splitlines())
    assert any(word in head for word in ("read", "memory"))


@pytest.mark.parametrize("book", [book for book in BOOKS if book.startswith("nec")])
@pytest.mark.parametrize("table", TABLES)
def test_nec_sections_have_the_form_of_the_code(book: str, table: str) -> None:
    # NEC sections about spaces stand in 110.26, 110.3x and Article 480; of handles in
    # 240 and 404, of switchboards below a ceiling in 408, of transformers' vents in
    # 450, of energy storage in 706; of two systems of measures 90.9 speaks.
    starts = (
        *(" 90.", " 110.", " 240.", " 404.", " 408.", " 450.", " 480."),
        " Article 706",
    )
    entry = load_book(book).entry(table)
    sections = [
        entry.cite(key).removeprefix(load_book(book).name) for key in entry.values
    ]
    assert all(section.startswith(starts) for section in sections)


def test_low_and_high_voltage_tables_meet() -> None:
    # NEC: 600 V up to 2014, 1000 V from 2017 (Electrical Contractor, General
    # Installation Requirements, part 33); OSHA: 600 V.
    ends = {}
    for book in BOOKS:
        low = load_book(book).entry("working-space-depth").rows
        high = load_book(book).entry("high-voltage-depth").rows
        assert low[0].above == 0
        assert low[-1].up_to == high[0].above
        assert high[-1].up_to == float("inf")
        ends[book] = low[-1].up_to
    assert ends.pop("nec-2014") == ends.pop("osha-1910") == ends.pop("osha-1926") == 600
    assert set(ends.values()) == {1000}


def test_live_parts_are_guarded_up_to_where_the_other_table_begins() -> None:
    for book in BOOKS:
        low = load_book(book).entry("low-voltage-live-parts")
        high = load_book(book).entry("unguarded-live-parts")
        assert low.rows[-1].up_to == high.rows[0].above
        assert low.number("volts_from") == 50


def test_direct_current_keeps_the_low_voltage_table_to_1500_volts_in_2026() -> None:
    # EC&M, 12 January 2026: 110.26 is for 1000 V ac or 1500 V dc or less.
    for book in BOOKS:
        entry = load_book(book).entry("working-space-depth")
        last = entry.rows[-1]
        assert entry.up_to(direct_current=False) == last.up_to
        direct = 1500 if "nec-2026" <= book < "osha" else last.up_to
        assert entry.up_to(direct_current=True) == direct
        assert entry.row(direct) is last
        assert entry.row(1.0) is entry.rows[0]


def test_every_book_names_the_conditions_in_its_own_words() -> None:
    # Tables 110.26(A)(1) and 110.34(A); S-1 and S-2; K-1 and K-2.
    words = {"osha-1910": ("A", "B", "C"), "osha-1926": ("(a)", "(b)", "(c)")}
    for book in BOOKS:
        for table in ("working-space-depth", "high-voltage-depth"):
            said = load_book(book).entry(table).words("condition_names")
            assert said == words.get(book, ("1", "2", "3"))


def test_exceptions_carry_the_number_of_their_edition() -> None:
    # No. 1 dwellings and No. 2 meters up to 2020; open battery racks became No. 1 in
    # 2023 (a copy of 2023 in a forum on existing dwelling units; rules.md).
    numbers = {"existing-dwelling": "11122", "meters-in-sockets": "22233"}
    for table, expected in numbers.items():
        found = [load_book(book).entry(table).citation[-1] for book in BOOKS[:5]]
        assert "".join(found) == expected


def test_little_of_2026_was_read() -> None:
    book = load_book("nec-2026")
    read = {
        f"{table} {key}"
        for table in TABLES
        for key in book.entry(table).values
        if book.entry(table).mark(key) == "read"
    }
    assert read == {
        "equipment-doors-open applies",
        "equipment-doors-open even_if_wider",
        "equipment-doors-open measured_at",
        # 110.3(B) and 450.9 carry the maker's instructions in every edition.
        "maker-clearance followed",
        "maker-clearance transformer_vents",
    }


def test_editions_differ_where_the_code_changed() -> None:
    # Pads named and service disconnects combined from 2020, floor and service
    # equipment from 2023, overhangs and limited access from 2017 (EC&M and Electrical
    # Contractor on the changes of each edition).
    def said(table: str, key: str) -> list[bool]:
        entries = [load_book(book).entry(table) for book in BOOKS[:5]]
        return [entry.given and entry.flag(key) for entry in entries]

    assert said("dedicated-space-outdoor", "overhang_permitted") == [False] + [True] * 4
    assert said("associated-reach", "pads_named") == [False] * 2 + [True] * 3
    assert said("large-equipment", "combined_service") == [False] * 2 + [True] * 3
    assert said("dedicated-space", "service_equipment") == [False] * 3 + [True] * 2
    assert said("clear-floor", "clear") == [False] * 3 + [True] * 2
    assert said("door-hardware", "opens_degrees") == [False] * 3 + [True] * 2
    assert said("equipment-doors-open", "even_if_wider") == [False] * 4 + [True]
    applies = {"nec-2017": "none", "nec-2020": "large", "nec-2023": "all"}
    applies |= {"nec-2014": "none", "nec-2026": "all"}
    applies |= {"osha-1910": "none", "osha-1926": "none"}
    for book, equipment in applies.items():
        entry = load_book(book).entry("equipment-doors-open")
        assert entry.words("applies") == (equipment,)


def test_a_table_is_read_when_it_is_asked_for_and_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[str] = []

    def noted(file: Path, called: str) -> dict[str, object]:
        asked.append(called)
        return read_toml(file, called)

    monkeypatch.setitem(inspect.unwrap(read_table).__globals__, "read_toml", noted)
    read_table.cache_clear()
    assert read_table("storage") is read_table("storage")
    assert asked == ["storage.toml"]


@pytest.mark.parametrize(
    "module", sorted(FOLDER.parent.glob("*.py")), ids=lambda file: file.stem
)
def test_the_code_book_loads_nothing_but_pydantic(module: Path) -> None:
    light = {
        *sys.stdlib_module_names,
        "model3d.codebook",
        "model3d.disk",
        "model3d.units",
    }
    light |= {"pydantic", "pydantic_core"}
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        roots = {".".join(name.split(".")[:2]) for name in names}
        assert {root for root in roots if root.split(".")[0] not in light} <= light
