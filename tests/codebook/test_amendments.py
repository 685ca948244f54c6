"""Local amendments: what they change, what they keep, and every mistake in them."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from model3d.codebook import BookError, load_book

if TYPE_CHECKING:
    from pathlib import Path

# Port Alder is invented.
PORT_ALDER = """
amends = "nec-2023"
name = "Port Alder Ordinance"

[working-space-width]
section = "7, 3(a)"
checked = "read"
width = { si = "914 mm", inch_pound = "36 in" }

[large-equipment]
amps = { value = 1000, section = "7, 5" }

[clear-floor]
section = "7, 9"
absent = "the city leaves the floor to its own rules"
"""


def written(folder: Path, text: str, name: str = "my-city.toml") -> str:
    (folder / name).write_text(text, encoding="utf-8")
    return name


def test_an_amendment_changes_values_with_their_citation(tmp_path: Path) -> None:
    book = load_book(written(tmp_path, PORT_ALDER), tmp_path)
    assert (book.id, book.name) == ("my-city", "Port Alder Ordinance")
    width = book.entry("working-space-width")
    assert width.figure("width").text == "914 mm / 36 in"
    assert width.citation == width.cite("width") == "Port Alder Ordinance 7, 3(a)"
    assert width.checked == "read"


def test_what_is_not_amended_is_the_edition_it_names(tmp_path: Path) -> None:
    book = load_book(written(tmp_path, PORT_ALDER), tmp_path)
    edition = load_book("nec-2023")
    assert book.entry("working-space-depth") == edition.entry("working-space-depth")
    width = book.entry("working-space-width")
    assert width.flag("or_equipment")
    assert width.cite("or_equipment") == "NEC 2023 110.26(A)(2)"


def test_a_single_value_may_carry_the_citation(tmp_path: Path) -> None:
    entry = load_book(written(tmp_path, PORT_ALDER), tmp_path).entry("large-equipment")
    assert entry.number("amps") == 1000
    assert entry.cite("amps") == "Port Alder Ordinance 7, 5"
    assert entry.citation == "NEC 2023 110.26(C)(2)"
    # Nobody said how it was checked: it is to be verified.
    assert entry.mark("amps") == "memory"


def test_a_rule_may_be_taken_out(tmp_path: Path) -> None:
    entry = load_book(written(tmp_path, PORT_ALDER), tmp_path).entry("clear-floor")
    assert entry.absent == "the city leaves the floor to its own rules"
    assert entry.citation == "Port Alder Ordinance 7, 9"
    assert not entry.has("clear")


def test_a_figure_in_one_system_replaces_both(tmp_path: Path) -> None:
    book = load_book(written(tmp_path, f'{WIDTH}width = "3 ft"'), tmp_path)
    width = book.entry("working-space-width").figure("width")
    assert width.si == width.inch_pound == pytest.approx(0.9144, abs=1e-12)


def test_an_amended_row_replaces_the_table(tmp_path: Path) -> None:
    text = """
amends = "osha-1910"
name = "Port Alder Ordinance"
[working-space-depth]
section = "2"
checked = "read"
rows = [{ above = 0, up_to = 600, si = ["1.2 m", "1.2 m", "1.2 m"] }]
"""
    old = date(1980, 1, 1)
    book = load_book(written(tmp_path, text), tmp_path, installed=old)
    entry = book.entry("working-space-depth")
    assert [row.up_to for row in entry.rows] == [600]
    assert entry.citation == "Port Alder Ordinance 2"
    # Tables that are not amended still follow the date.
    assert book.entry("working-space-height").figure("height").text_si == "1.91 m"


def test_a_rule_that_the_edition_lacks_may_be_given_whole(tmp_path: Path) -> None:
    text = """
amends = "osha-1926"
name = "Port Alder Ordinance"
[associated-reach]
section = "4"
checked = "read"
reach = "6 in"
pads_named = false
"""
    entry = load_book(written(tmp_path, text), tmp_path).entry("associated-reach")
    assert entry.given
    assert entry.figure("reach").text == "6 in"


def test_amending_a_rule_apart_leaves_the_main_one_absent(tmp_path: Path) -> None:
    text = """
amends = "osha-1926"
name = "Port Alder Ordinance"
[door-angle]
section = "4"
high_voltage_degrees = 110
"""
    entry = load_book(written(tmp_path, text), tmp_path).entry("door-angle")
    assert not entry.given
    assert entry.number("high_voltage_degrees") == 110


def test_a_byte_order_mark_and_a_folder_below_are_fine(tmp_path: Path) -> None:
    (tmp_path / "codes").mkdir()
    file = tmp_path / "codes" / "my-city.toml"
    file.write_text(PORT_ALDER, encoding="utf-8-sig")
    assert load_book("codes/my-city.toml", tmp_path).id == "my-city"


HEAD = 'amends = "nec-2023"\nname = "P"\n'
WIDTH = HEAD + '[working-space-width]\nsection = "1"\n'
MISTAKES = [
    ("", "amends: nothing; right would be the id of a rule book"),
    ('name = "P"\n[storage]\nsection = "1"\nbarred = true', "amends: nothing"),
    ('amends = "nec2023"\nname = "P"\n', "did you mean nec-2023?"),
    ('amends = "other.toml"\nname = "P"\n', "the id of a rule book"),
    ("amends = 5\nname = 'P'\n", "the id of a rule book"),
    ('amends = "nec-2023"\n', "name: nothing"),
    (HEAD, "changes no table"),
    (HEAD + "[working-space-widht]\n", "did you mean working-space-width?"),
    (HEAD + "storage = 5\n", "section and the values that differ"),
    (WIDTH, "changes no value; known are width, or_equipment"),
    (WIDTH + 'widht = "36 in"', "did you mean width?"),
    (WIDTH + "width = 36", "a length such as"),
    (WIDTH + 'width = "36 furlongs"', "a length such as"),
    (WIDTH + 'width = { si = "914 m", inch_pound = "36 in" }', "too far apart"),
    (WIDTH + 'width = "36 in"\nchecked = "surely"', "one of read, copy, memory"),
    (WIDTH + 'width = "36 in"\ndated = []', "'dated' is not known there"),
    (WIDTH + 'absent = ""', "the reason"),
    (HEAD + '[working-space-width]\nwidth = "36 in"', "no section; right would be"),
    (HEAD + '[working-space-width]\nsection = 5\nwidth = "36 in"', "a section"),
    (HEAD + '[clear-floor]\nabsent = "no"', "the citation of its absence"),
    (
        HEAD.replace("nec-2023", "osha-1926")
        + '[associated-reach]\nsection = "1"\nreach = "6 in"',
        "missing is pads_named",
    ),
    ("amends = ", "not TOML"),
]


@pytest.mark.parametrize(("text", "message"), MISTAKES)
def test_a_mistake_is_told_with_the_file(
    tmp_path: Path, text: str, message: str
) -> None:
    name = written(tmp_path, text)
    with pytest.raises(BookError) as caught:
        load_book(name, tmp_path)
    assert message in str(caught.value)
    assert all(line.startswith("my-city.toml: ") for line in caught.value.mistakes)
    assert str(tmp_path) not in str(caught.value)


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    text = 'amends = "nec"\n[storage]\nbarred = 5\nkept = 1\n[doors]\n'
    with pytest.raises(BookError) as caught:
        load_book(written(tmp_path, text), tmp_path)
    told = "\n".join(caught.value.mistakes)
    assert all(
        word in told for word in ("'nec'", "name", "barred", "'kept'", "'doors'")
    )


@pytest.mark.parametrize(
    "name", ["../my-city.toml", "codes/../../my-city.toml", "{outside}/my-city.toml"]
)
def test_a_file_outside_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    written(tmp_path, PORT_ALDER)
    inside = tmp_path / "scenes"
    inside.mkdir()
    with pytest.raises(BookError, match="outside the scene's folder"):
        load_book(name.format(outside=tmp_path.as_posix()), inside)


@pytest.mark.parametrize("name", ["missing.toml", "scenes.toml", "a\0.toml"])
def test_a_file_that_is_not_there_is_told(tmp_path: Path, name: str) -> None:
    (tmp_path / "scenes.toml").mkdir()
    with pytest.raises(BookError):
        load_book(name, tmp_path)


def test_an_amendment_cannot_pass_for_an_edition(tmp_path: Path) -> None:
    name = written(tmp_path, PORT_ALDER, "nec-2023.toml")
    with pytest.raises(BookError, match="no rule book's id"):
        load_book(name, tmp_path)


def test_an_amendment_needs_a_folder(tmp_path: Path) -> None:
    written(tmp_path, PORT_ALDER)
    with pytest.raises(BookError, match="no folder"):
        load_book("my-city.toml")
