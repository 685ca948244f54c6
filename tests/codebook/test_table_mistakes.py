"""A table that is not whole, or holds what is no value, is refused and told why."""

from __future__ import annotations

import tomllib
from datetime import date
from typing import TYPE_CHECKING, Any

import pytest

from model3d.codebook import BOOKS, BookError, Entry, load_book, read_table
from model3d.codebook.entry import Value
from model3d.codebook.tables import parse_table, read_toml
from model3d.codebook.written.blocks import entry_of

if TYPE_CHECKING:
    from pathlib import Path

GOOD = """
title = "Test"
[keys]
width = { is = "length", about = "width" }
amps = { is = "number", about = "rating", unit = "A", optional = true }
wide = { is = "flag", about = "wide", optional = true }
kinds = { is = "words", about = "kinds", one_of = ["a", "b"], optional = true }
apart = { is = "number", about = "apart", optional = true, apart = true }
[keys.rows]
is = "rows"
about = "rows"
columns = ["one", "two"]
volts = "to ground"
optional = true
"""
WIDTH = 'section = "1"\nchecked = "read"\nwidth = '
BLOCK = WIDTH + '{ si = "1.0 m", inch_pound = "3 ft 6 in" }\n'


def made(first: str, rest: str = BLOCK, head: str = GOOD) -> str:
    blocks = [f"[{book}]\n{rest}" for book in BOOKS[1:]]
    return "\n".join([head, f"[{BOOKS[0]}]\n{first}", *blocks])


def test_a_made_up_table_is_read() -> None:
    text = made(BLOCK + "amps = { value = 5, section = '2', checked = 'copy' }\n")
    block = parse_table("test", tomllib.loads(text)).blocks["nec-2014"]
    assert block.values["amps"].content == 5.0
    assert block.values["amps"].citation == "NEC 2014 2"
    assert block.values["amps"].checked == "copy"
    assert block.values["width"].citation == block.citation == "NEC 2014 1"


DATED = """
[[nec-2014.dated]]
installed_before = 1981-04-16
section = "1, note"
checked = "copy"
width = "0.7 m"
[[nec-2014.dated]]
installed_before = 2007-08-13
amps = 7
width = "0.9 m"
"""


@pytest.mark.parametrize(
    ("installed", "width", "amps", "citation", "mark"),
    [
        (None, "1.0 m", None, "NEC 2014 1", "read"),
        (date(2007, 8, 13), "1.0 m", None, "NEC 2014 1", "read"),
        (date(2007, 8, 12), "0.9 m", 7.0, "NEC 2014 1", "read"),
        (date(1981, 4, 16), "0.9 m", 7.0, "NEC 2014 1", "read"),
        # The earliest day that still covers it counts, value by value.
        (date(1981, 4, 15), "0.7 m", 7.0, "NEC 2014 1, note", "copy"),
    ],
)
def test_dated_values_follow_the_day(
    installed: date | None, width: str, amps: float | None, citation: str, mark: str
) -> None:
    table = parse_table("test", tomllib.loads(made(BLOCK + DATED)))
    entry = entry_of("test", table.blocks["nec-2014"], installed)
    assert entry.figure("width").text_si == width
    assert (entry.number("amps") if entry.has("amps") else None) == amps
    assert (entry.citation, entry.mark("width")) == (citation, mark)


NOT_BOUND = """
[[nec-2014.dated]]
installed_before = 1981-04-16
absent = "it binds only what is newer"
checked = "memory"
[[nec-2014.dated]]
installed_before = 2007-08-13
width = "0.9 m"
"""


@pytest.mark.parametrize(
    ("installed", "given"),
    [(None, True), (date(1981, 4, 16), True), (date(1981, 4, 15), False)],
)
def test_a_rule_may_bind_only_what_is_newer(
    installed: date | None, *, given: bool
) -> None:
    table = parse_table("test", tomllib.loads(made(BLOCK + NOT_BOUND)))
    entry = entry_of("test", table.blocks["nec-2014"], installed)
    assert entry.given is given
    assert entry.absent == (None if given else "it binds only what is newer")
    assert entry.marked == ("read" if given else "memory")


def test_a_key_called_rows_need_not_hold_voltage_rows() -> None:
    value = Value(5.0, "NEC 2014 1", "read")
    entry = Entry("test", None, "NEC 2014 1", {"rows": value}, "read")
    with pytest.raises(BookError, match="no voltage rows 'rows'"):
        _ = entry.rows


def row(above: str, up_to: str = "", cells: str = '["1 m", "2 m"]') -> str:
    end = f", up_to = {up_to}" if up_to else ""
    return f"{{ above = {above}{end}, si = {cells} }}"


MISTAKES = [
    ('checked = "read"\nwidth = "1 m"', "no section"),
    ('section = "1"\nwidth = "1 m"', "no checked"),
    ('section = " "\nchecked = "read"\nwidth = "1 m"', "section: ' '"),
    ('section = "1"\nchecked = "seen"\nwidth = "1 m"', "read, copy, memory"),
    ('section = "1"\nchecked = { si = "read" }\nwidth = "1 m"', "read, copy, memory"),
    ('section = "1"\nchecked = "read"', "no width (width)"),
    (BLOCK + 'widht = "1 m"', "did you mean width?"),
    (BLOCK + "absent = 'no'", "'width' is not known there"),
    ("absent = ''\nchecked = 'read'", "the reason"),
    ("absent = 'no'", "no checked"),
    ("absent = 'no'\nchecked = 'read'\namps = 5", "'amps' is not known there"),
    (WIDTH + "5", "5; right would be in ft or in, a length"),
    (WIDTH + '"5 miles"', "right would be in ft or in, a length"),
    (WIDTH + '"0 m"', "above zero"),
    (WIDTH + '{ si = "3 ft" }', "in mm or m"),
    (WIDTH + '{ si = "1/0 m" }', "a length such as"),
    (WIDTH + '{ inch_pound = "1 m" }', "in ft or in"),
    (WIDTH + '{ section = "2" }', "nothing; right would be a length"),
    (WIDTH + '{ si = "1 m", feet = "3 ft" }', "'feet' is not known there"),
    (WIDTH + '{ si = "762 m", inch_pound = "30 in" }', "too far apart"),
    (WIDTH + '{ si = "1 m", section = 5 }', "a section, as a text"),
    (BLOCK + "amps = 'many'", "a number above zero"),
    (BLOCK + "amps = 0", "a number above zero"),
    (BLOCK + "amps = nan", "a number above zero"),
    (BLOCK + f"amps = 1{'0' * 400}", "a number above zero"),
    (BLOCK + "amps = { values = 5 }", "did you mean value?"),
    (BLOCK + "wide = 1", "true or false"),
    (BLOCK + "kinds = 'a'", "a list of a, b"),
    (BLOCK + "kinds = ['c']", "'c' is not known there"),
    (BLOCK + "kinds = ['a', 'a']", "each word once"),
    (BLOCK + "rows = []", "a list of rows"),
    (BLOCK + "rows = [5]", "{ above, up_to, si, inch_pound }"),
    (BLOCK + f"rows = [{row('5', '5')}]", "rising"),
    (BLOCK + f"rows = [{row('true', '5')}]", "rising"),
    (BLOCK + f"rows = [{row('0', '5')}, {row('6')}]", "above = 5"),
    (BLOCK + f"rows = [{row('0', cells='[]')}]", "2 lengths: one, two"),
    (BLOCK + "rows = [{ above = 0 }]", "nothing; right would be a length"),
    (BLOCK + "rows = [{ below = 0 }]", "'below' is not known there"),
    (BLOCK + "dated = 5", "one [[...dated]] block a day"),
    (BLOCK + "dated = [5]", "installed_before and the values"),
    (BLOCK + "dated = [{ amps = 5 }]", "a day, such as 1981-04-16"),
    (BLOCK + "dated = [{ installed_before = 1981-04-16 }]", "no value differs"),
    (
        BLOCK + "dated = [{ installed_before = 1981-04-16, absent = 'no', amps = 5 }]",
        "'amps' is not known there",
    ),
    (
        BLOCK + "dated = [{ installed_before = 1981-04-16, absent = '' }]",
        "the reason",
    ),
    (
        BLOCK + "dated = [{ installed_before = 1981-04-16T00:00:00, amps = 5 }]",
        "a day, such as 1981-04-16",
    ),
    (
        BLOCK + "dated = [{ installed_before = 1981-04-16, amps = -5 }]",
        "a number above zero",
    ),
    (
        BLOCK
        + "dated = [{ installed_before = 1981-04-16, amps = 5 },"
        + "{ installed_before = 1981-04-16, amps = 6 }]",
        "each day once",
    ),
]


@pytest.mark.parametrize(("block", "message"), MISTAKES)
def test_a_mistake_in_a_block_is_told(block: str, message: str) -> None:
    with pytest.raises(BookError) as caught:
        parse_table("test", tomllib.loads(made(block)))
    assert message in str(caught.value)
    assert all(
        line.startswith("test.toml: [nec-2014]") for line in caught.value.mistakes
    )


AS_IN = 'as_in = "nec-2014"\nchecked = "copy"\n'


def second(text: str, first: str = BLOCK) -> dict[str, Any]:
    """Return a table of which the second book says something else than the others."""
    raw = tomllib.loads(made(first))
    return {**raw, "nec-2017": tomllib.loads(text)}


def test_an_edition_that_prints_the_same_has_its_own_marks() -> None:
    # What is not marked itself takes the mark of the edition that prints it; a mark
    # that is better than the edition's own is lost, one that is worse is kept.
    first = (
        BLOCK
        + """
amps = { value = 5, checked = "memory", section = "2" }
wide = { value = true, checked = "read" }
[[nec-2014.rows]]
above = 0
si = ["1 m", "2 m"]
checked = { si = "read", inch_pound = "memory" }
"""
    )
    blocks = parse_table("test", second(AS_IN, first)).blocks
    block = blocks["nec-2017"]
    found = {name: value.checked for name, value in block.values.items()}
    assert found == {"width": "copy", "amps": "memory", "wide": "copy", "rows": "copy"}
    assert (block.citation, block.marked) == ("NEC 2017 1", "copy")
    assert block.values["amps"].citation == "NEC 2017 2"
    assert [*block.values] == [*blocks["nec-2014"].values]


def test_an_edition_says_itself_what_differs() -> None:
    text = (
        AS_IN + 'section = "3"\nwidth = { si = "2 m", checked = "read" }\nwide = true'
    )
    block = parse_table("test", second(text)).blocks["nec-2017"]
    assert block.values["width"].citation == block.citation == "NEC 2017 3"
    assert block.values["width"].checked == "read"
    assert block.values["wide"].content is True


def test_a_rule_may_be_absent_as_in_an_edition_before() -> None:
    first = 'absent = "no such rule"\nchecked = "read"'
    block = parse_table("test", second(AS_IN, first)).blocks["nec-2017"]
    assert (block.absent, block.marked) == ("no such rule", "copy")


@pytest.mark.parametrize(
    ("text", "first", "message"),
    [
        ('as_in = "nec-2016"\nchecked = "read"', BLOCK, "an edition before"),
        ('as_in = "nec-2017"\nchecked = "read"', BLOCK, "says all itself"),
        ("as_in = 5\nchecked = 'read'", BLOCK, "as_in: 5; right would be the id"),
        ('as_in = "nec-2014"', BLOCK, "one of read, copy, memory"),
        (AS_IN + "amps = 0", BLOCK, "a number above zero"),
        (AS_IN + "absent = 'no'", BLOCK, "'width' is not known there"),
        (AS_IN, BLOCK + DATED, "undated"),
    ],
)
def test_a_mistake_in_what_is_as_in_another_edition_is_told(
    text: str, first: str, message: str
) -> None:
    with pytest.raises(BookError) as caught:
        parse_table("test", second(text, first))
    (line,) = caught.value.mistakes
    assert line.startswith("test.toml: [nec-2017]")
    assert message in line


def test_an_edition_is_as_in_one_before_and_no_further() -> None:
    raw = second(AS_IN)
    for book, other in (("nec-2020", "nec-2017"), ("nec-2020", "nec-2023")):
        changed = {**raw, book: {"as_in": other, "checked": "read"}}
        with pytest.raises(BookError, match=r"\[nec-2020\] as_in: .*an edition before"):
            parse_table("test", changed)


def test_a_mistake_is_told_once_where_it_stands() -> None:
    with pytest.raises(BookError) as caught:
        parse_table("test", second(AS_IN, WIDTH + "5"))
    (line,) = caught.value.mistakes
    assert line.startswith("test.toml: [nec-2014] width: 5;")


def test_a_table_that_leaves_out_a_book_is_refused() -> None:
    raw = tomllib.loads(made(BLOCK))
    del raw["nec-2026"], raw["osha-1910"]
    with pytest.raises(BookError) as caught:
        parse_table("test", raw)
    first, second = caught.value.mistakes
    assert first.startswith("test.toml: no block [nec-2026]")
    assert second.startswith("test.toml: no block [osha-1910]")


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"nec-2027": {}}, "'nec-2027' is not known there; known are title"),
        ({"title": ""}, "test.toml: title: ''"),
        ({"keys": {}}, "test.toml: no [keys]"),
        ({"keys": {"Width": {}}}, "small letters"),
        ({"keys": {"section": {}}}, "no word of the format"),
        ({"keys": {"width": 5}}, "right would be { is"),
        ({"keys": {"width": {"is": "size"}}}, "one of length, number"),
        ({"keys": {"width": {"is": "length"}}}, "no about"),
        ({"keys": {"width": {"is": "flag", "about": "a", "unit": "A"}}}, "'unit'"),
        ({"keys": {"width": {"is": "rows", "about": "a"}}}, "no columns"),
        ({"nec-2014": 5}, "a block with section"),
    ],
)
def test_a_mistake_in_the_frame_of_a_table_is_told(
    change: dict[str, object], message: str
) -> None:
    with pytest.raises(BookError) as caught:
        parse_table("test", tomllib.loads(made(BLOCK)) | change)
    assert message in str(caught.value)


def test_an_unknown_table_is_refused_with_the_nearest() -> None:
    with pytest.raises(BookError, match="did you mean working-space-width"):
        load_book("nec-2023").entry("working-space-widht")
    with pytest.raises(BookError, match="is no table"):
        read_table("../units")


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"a = ", "not TOML"),
        (b"\xff\xfe", "not UTF-8"),
        (b"a = " + b"[" * 100_000, "nested too deep"),
        (b"#" * 1_000_001, "too large"),
        (None, "no such file"),
    ],
)
def test_a_file_that_cannot_be_read_is_told(
    tmp_path: Path, content: bytes | None, message: str
) -> None:
    file = tmp_path / "a.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(BookError, match=message):
        read_toml(file, "a.toml")
