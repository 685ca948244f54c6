"""The catalogue: rules found in a folder, values as lines, and the page of both."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from model3d.catalogue.__main__ import main
from model3d.catalogue.page import page_markdown, write_page
from model3d.catalogue.rule_pages import RULES, RulePage, rule_pages
from model3d.catalogue.values import VERIFY, values
from model3d.codebook import BOOKS, BookError, load_book, read_table, table_names

if TYPE_CHECKING:
    from pathlib import Path

SHELVES = '''"""Shelves near equipment.

Applies to: nothing; this rule is made up.
"""

from typing import Final

TABLES: Final[tuple[str, ...]] = ("storage", "working-space-width")
'''


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "high_shelves.py").write_text(SHELVES, encoding="utf-8")
    (tmp_path / "a_rule.py").write_text(
        '"""A rule."""\nTABLES = ("clear-floor",)\n', encoding="utf-8"
    )
    (tmp_path / "_helper.py").write_text("1 / 0\n", encoding="utf-8")
    (tmp_path / "__init__.py").write_text("1 / 0\n", encoding="utf-8")
    return tmp_path


def test_rules_are_found_in_the_folder_and_not_run(folder: Path) -> None:
    first, second = rule_pages(folder)
    assert first == RulePage("a-rule", "A rule", "", ("clear-floor",))
    assert second.name == "high-shelves"
    assert second.title == "Shelves near equipment"
    assert second.body == "Applies to: nothing; this rule is made up."
    assert second.tables == ("storage", "working-space-width")


def test_every_rule_of_the_project_reads_tables_that_exist() -> None:
    pages = rule_pages()
    files = [file.stem for file in RULES.glob("[!_]*.py")]
    assert sorted(page.name.replace("-", "_") for page in pages) == sorted(files)
    for page in pages:
        assert page.title
        assert set(page.tables) <= set(table_names())


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("TABLES = ()\n", "no docstring"),
        ('"""A rule."""\n', "no TABLES"),
        ('"""A rule."""\nTABLES = list("a")\n', "no TABLES"),
        ('"""A rule."""\nTABLES = (1,)\n', "no TABLES"),
    ],
)
def test_a_half_written_rule_is_refused(
    tmp_path: Path, text: str, message: str
) -> None:
    (tmp_path / "rule.py").write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match=message):
        rule_pages(tmp_path)


def test_values_stand_as_printed_in_both_systems() -> None:
    # NEC Table 110.26(A)(1): feet read in Electrical Contractor, July 2016, p. 68.
    first, second, third, names = values(load_book("nec-2023"), ["working-space-depth"])
    assert first.about.startswith("up to 150 V to ground")
    assert second.about.startswith("over 150 to 600 V to ground: condition 1; ")
    assert second.text == "900 mm / 3 ft; 1.0 m / 3 ft 6 in; 1.2 m / 4 ft"
    assert second.citation == "NEC 2023 110.26(A)(1)"
    assert (second.key, second.checked) == ("rows", "memory")
    assert second.note == f"SI: {VERIFY}"
    assert third.note == VERIFY
    assert (names.key, names.text) == ("condition_names", "1, 2, 3")


def test_values_of_every_kind() -> None:
    book = load_book("osha-1926")
    lines = {(one.table, one.key): one for one in values(book, table_names())}
    assert lines["working-space-width", "or_equipment"].text == "no"
    assert lines["storage", "barred"].text == "yes"
    assert lines["door-angle", "high_voltage_degrees"].text == "90 degrees"
    assert lines["unguarded-live-parts", "per_kilovolt"].text == "0.37 in"
    assert lines["large-equipment", ""].text.startswith("1926.403 has no rule")
    assert lines["large-equipment", ""].citation == "29 CFR 1926.403"
    nec = values(load_book("nec-2020"), ["working-space-height"])
    assert [line.text for line in nec] == ["2.0 m / 6 1/2 ft", "yes", "all"]


@pytest.mark.parametrize("book", BOOKS)
def test_a_value_from_memory_is_noted_and_no_other(book: str) -> None:
    lines = values(load_book(book), table_names())
    assert {line.table for line in lines} == set(table_names())
    for line in lines:
        assert line.note.endswith(VERIFY) is (line.checked == "memory")
        assert line.about
        assert line.text


def test_values_of_an_unknown_table_are_refused() -> None:
    with pytest.raises(BookError, match="is no table"):
        values(load_book("nec-2023"), ["doors"])


def test_the_page_holds_every_rule_and_every_table_once(folder: Path) -> None:
    page = page_markdown(folder)
    assert page.index("## A rule") < page.index("## Shelves near equipment")
    assert page.index("(`storage`)") < page.index("## Further values")
    assert page.index("(`door-angle`)") > page.index("## Further values")
    for table in table_names():
        assert page.count(f"### {read_table(table).title} (`{table}`)") == 1


def test_the_page_joins_books_that_agree_and_shows_dated_values(folder: Path) -> None:
    page = page_markdown(folder)
    assert "| NEC 2014, NEC 2017, NEC 2020, NEC 2023 | 762 mm / 30 in |" in page
    # 29 CFR 1910.303(g)(1)(vi)(A).
    assert "| 29 CFR 1910.303 before 2007-08-13 | 1.91 m / 6.25 ft |" in page


def test_the_page_shows_what_binds_no_older_installation(folder: Path) -> None:
    # 29 CFR 1910.302(b)(4): only installations made after 2007-08-13.
    older = "29 CFR 1910.303 before 2007-08-14"
    lines = [line for line in page_markdown(folder).splitlines() if older in line]
    large = [line for line in lines if "(g)(1)(iv) binds only" in line]
    assert large[0].startswith(f"| no such rule | {older} |")
    assert not any("1200 A" in line for line in lines)


def test_meanings_are_told_apart() -> None:
    for table in table_names():
        meanings = [key.about for key in read_table(table).keys.values()]
        assert len(set(meanings)) == len(meanings)


def test_the_page_is_written_and_then_fresh(folder: Path, tmp_path: Path) -> None:
    file = tmp_path / "RULES.md"
    assert not write_page(check=True, file=file, folder=folder)
    assert not file.exists()
    assert not write_page(file=file, folder=folder)
    assert b"\r" not in file.read_bytes()
    assert write_page(check=True, file=file, folder=folder)
    file.write_text(page_markdown(folder) + "by hand\n", encoding="utf-8")
    assert not write_page(check=True, file=file, folder=folder)
    assert not write_page(file=file, folder=folder)
    assert file.read_text(encoding="utf-8") == page_markdown(folder)


@pytest.mark.long
@pytest.mark.parametrize(("fresh", "status"), [(True, 0), (False, 1)])
def test_the_check_tells_a_stale_page_by_its_status(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    *,
    fresh: bool,
    status: int,
) -> None:
    file = tmp_path / "RULES.md"
    file.write_text(page_markdown() if fresh else "old\n", encoding="utf-8")
    monkeypatch.setitem(write_page.__globals__, "PAGE", file)
    assert main(["--check"]) == status
    assert ("stale" in capsys.readouterr().err) is not fresh
    assert main([]) == 0
    assert main(["--check"]) == 0


def test_an_unknown_argument_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--write"]) == 2
    assert "--write" in capsys.readouterr().err
