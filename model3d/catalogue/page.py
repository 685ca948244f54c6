"""The page of all rules, with the values of every rule book."""

from __future__ import annotations

from datetime import timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Final

from model3d.catalogue.rule_pages import RULES, rule_pages
from model3d.catalogue.values import values
from model3d.codebook import BOOKS, load_book, read_table, table_names

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from model3d.catalogue.values import ValueLine
    from model3d.codebook import RuleBook

PAGE: Final = RULES / "RULES.md"
"""The page of all rules, made from their docstrings and the tables."""

_HEAD = """
# The rules

Made by `python -m model3d.catalogue` from the docstrings of the rules and the tables
of the rule books; do not edit it by hand. Figures stand as printed, SI / inch-pound;
where a book prints one system only, that figure serves in both. *Checked* says how a
value was checked: read in the source, read in a copy, or from memory (to verify
against the adopted code).
"""


def page_markdown(folder: Path = RULES) -> str:
    """Return the page of all rules with the values of every rule book."""
    pages = rule_pages(folder)
    used = {table for page in pages for table in page.tables}
    rest = [table for table in table_names() if table not in used]
    parts = [_HEAD.strip()]
    for page in pages:
        parts += [f"## {page.title}", f"Rule `{page.name}`.", page.body]
        parts += [_table_markdown(table) for table in page.tables]
    if rest:
        parts += ["## Further values", *(_table_markdown(table) for table in rest)]
    return "\n\n".join(part for part in parts if part) + "\n"


def write_page(
    *, check: bool = False, file: Path | None = None, folder: Path = RULES
) -> bool:
    """Write the page of all rules; with ``check`` only look at it.

    Returns:
        Whether the page was already as it should be.
    """
    file = file or PAGE
    wanted = page_markdown(folder)
    fresh = file.is_file() and file.read_text(encoding="utf-8") == wanted
    if not fresh and not check:
        file.write_text(wanted, encoding="utf-8", newline="\n")
    return fresh


def _table_markdown(name: str) -> str:
    """Return one table: every value of every book, books that agree in one row."""
    rows = [
        "| value | book | printed | section | checked | note |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    lines = [
        (label, book, line)
        for label, book in _all_books(name)
        for line in values(book, [name])
    ]
    order = [*read_table(name).keys, ""]
    meant = dict.fromkeys((line.key, line.about) for _, _, line in lines)
    for key, about in sorted(meant, key=lambda one: order.index(one[0])):
        same = [one for one in lines if (one[2].key, one[2].about) == (key, about)]
        for said, group in groupby(same, key=lambda one: _said(one[1], one[2])):
            books = ", ".join(label for label, _, _ in group)
            rows.append(f"| {about} | {books} | {' | '.join(said)} |")
    return "\n".join([f"### {read_table(name).title} (`{name}`)", "", *rows])


def _said(book: RuleBook, line: ValueLine) -> tuple[str, ...]:
    section = line.citation.removeprefix(book.name).strip()
    return line.text, section, line.checked, line.note


def _all_books(table: str) -> Iterator[tuple[str, RuleBook]]:
    """Yield every rule book with its label, older installations after new ones."""
    for name in BOOKS:
        book = load_book(name)
        yield book.name, book
        for day in read_table(table).blocks[name].dated:
            older = load_book(name, installed=day - timedelta(days=1))
            yield f"{book.name} before {day.isoformat()}", older
