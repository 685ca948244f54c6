"""The rules and their printed values as plain data, and the page made of them.

``python -m model3d.catalogue`` writes the page of all rules, and the page of the scene
format with its figures; with ``--check`` it only says whether one of them is stale, by
exit status 1.
"""

from __future__ import annotations

import ast
import inspect
import sys
from dataclasses import dataclass
from datetime import timedelta
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d.codebook import BOOKS, VoltageRow, load_book, read_table, table_names
from model3d.codebook.entry import Entry, Value, VoltageRows
from model3d.codebook.figures import PrintedFigure, worst
from model3d.judging.requirement import requirement_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from model3d.codebook import Mark, RuleBook
    from model3d.codebook.written.keys import Key

RULES: Final = Path(__file__).parent / "rules"
"""The folder of the rules, one module each."""

PAGE: Final = RULES / "RULES.md"
"""The page of all rules, made from their docstrings and the tables."""

ROOT: Final = Path(__file__).parents[1]
"""The tree, where the page of the scene format is written."""

VERIFY: Final = "verify against the adopted code"
"""The note beside a value from memory."""

_NEWLINE = "\n"


@dataclass(frozen=True, slots=True)
class RulePage:
    """One rule, as its module says it.

    Attributes:
        name: The module's name in kebab-case.
        title: First line of its docstring.
        body: The rest of it, Markdown.
        tables: The tables of the rule books it reads.
    """

    name: str
    title: str
    body: str
    tables: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ValueLine:
    """One printed value of one rule book.

    Attributes:
        table: Name of the table.
        key: Key in the table; empty where the book has no such rule.
        about: What the value means, for people.
        text: The value in both systems as printed, or why there is none.
        citation: Book and section that say it.
        checked: How it was checked.
        note: A warning where it is from memory, else empty.
    """

    table: str
    key: str
    about: str
    text: str
    citation: str
    checked: Mark
    note: str


def rule_pages(folder: Path = RULES) -> tuple[RulePage, ...]:
    """Return every rule by looking in the folder, sorted by name.

    Modules whose name starts with an underscore are no rules. The modules are read,
    not run.

    Raises:
        ValueError: A module has no docstring or no tuple of names called TABLES.
    """
    files = sorted(folder.glob("*.py"))
    return tuple(_page(file) for file in files if not file.name.startswith("_"))


def values(book: RuleBook, tables: Iterable[str]) -> tuple[ValueLine, ...]:
    """Return what a rule book prints in some tables, one line a value.

    Raises:
        BookError: There is no such table.
    """
    return tuple(line for table in tables for line in _lines(book.entry(table), table))


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
        file.write_text(wanted, encoding="utf-8", newline=_NEWLINE)
    return fresh


def write_format(*, check: bool = False, root: Path = ROOT) -> list[Path]:
    """Write the page of the scene format and its figures; with ``check`` only look.

    Returns:
        What was not as it should be, by its place in the tree.
    """
    # Only who writes the page needs it, and not whoever asks for the rules.
    from model3d.scene.handbook.format_page import FIGURE_FOLDER, files  # noqa: PLC0415

    made = files()
    stale = [
        name
        for name, wanted in made.items()
        if not (root / name).is_file()
        or (root / name).read_text(encoding="utf-8") != wanted
    ]
    there = {one.relative_to(root) for one in (root / FIGURE_FOLDER).glob("*.svg")}
    left = sorted(there - made.keys())
    if not check:
        (root / FIGURE_FOLDER).mkdir(parents=True, exist_ok=True)
        for name in stale:
            (root / name).write_text(made[name], encoding="utf-8", newline=_NEWLINE)
        for name in left:
            (root / name).unlink()
    return [*stale, *left]


def main(arguments: Sequence[str]) -> int:
    """Write or check the generated pages; returns the exit status."""
    check = "--check" in arguments
    if unknown := [word for word in arguments if word != "--check"]:
        sys.stderr.write(f"{unknown[0]} is not known; only --check is\n")
        return 2
    stale = [] if write_page(check=check) else [PAGE.name]
    stale += [name.as_posix() for name in write_format(check=check)]
    for name in stale if check else ():
        sys.stderr.write(f"{name} is stale: run python -m model3d.catalogue\n")
    return int(check and bool(stale))


_HEAD = """
# The rules

Made by `python -m model3d.catalogue` from the docstrings of the rules and the tables
of the rule books; do not edit it by hand. Figures stand as printed, SI / inch-pound;
where a book prints one system only, that figure serves in both. *Checked* says how a
value was checked: read in the source, read in a copy, or from memory (to verify
against the adopted code).
"""


def _page(file: Path) -> RulePage:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    docstring = inspect.cleandoc(ast.get_docstring(tree) or "")
    title, _, body = docstring.partition("\n")
    if not title:
        msg = f"{file.name}: no docstring; right would be the rule's page"
        raise ValueError(msg)
    name = requirement_of(file.stem)
    return RulePage(name, title.rstrip("."), body.strip(), _tables_of(tree, file.name))


def _tables_of(tree: ast.Module, file: str) -> tuple[str, ...]:
    for node in tree.body:
        targets: list[ast.expr] = []
        if isinstance(node, ast.Assign):
            targets = node.targets
        elif isinstance(node, ast.AnnAssign):
            targets = [node.target]
        else:
            continue
        named = any(isinstance(one, ast.Name) and one.id == "TABLES" for one in targets)
        if named and isinstance(node.value, ast.Tuple):
            found = ast.literal_eval(node.value)
            if all(isinstance(table, str) for table in found):
                return tuple(found)
    msg = f"{file}: no TABLES; right would be a tuple of the tables' names"
    raise ValueError(msg)


def _lines(entry: Entry, table: str) -> Iterator[ValueLine]:
    keys = read_table(table).keys
    if entry.absent is not None:
        mark, why = entry.marked, entry.absent
        note = _note(mark, mark)
        yield ValueLine(table, "", "no such rule", why, entry.citation, mark, note)
    for name, value in entry.values.items():
        if entry.absent is not None and not keys[name].apart:
            # It is printed, but does not bind an installation of that day.
            continue
        for about, text, si, inch_pound in _texts(keys[name], value):
            mark, note = worst((si, inch_pound)), _note(si, inch_pound)
            yield ValueLine(table, name, about, text, value.citation, mark, note)


def _note(si: Mark, inch_pound: Mark) -> str:
    match si, inch_pound:
        case "memory", "memory":
            return VERIFY
        case "memory", _:
            return f"SI: {VERIFY}"
        case _, "memory":
            return f"inch-pound: {VERIFY}"
        case _:
            return ""


def _texts(key: Key, value: Value) -> Iterator[tuple[str, str, Mark, Mark]]:
    """Yield meaning, words and both marks of a value; of a voltage table, one a row."""
    mark = value.checked
    match value.content:
        case VoltageRows(rows):
            columns = f": {'; '.join(key.columns)}" if len(key.columns) > 1 else ""
            for row in rows:
                si = worst(cell.checked_si for cell in row.cells)
                inch_pound = worst(cell.checked_inch_pound for cell in row.cells)
                text = "; ".join(cell.text for cell in row.cells)
                yield f"{_volts(row)} {key.volts}{columns}", text, si, inch_pound
        case PrintedFigure() as figure:
            yield key.about, figure.text, figure.checked_si, figure.checked_inch_pound
        case bool() as flag:
            yield key.about, "yes" if flag else "no", mark, mark
        case float() as number:
            yield key.about, f"{number:g} {key.unit}".strip(), mark, mark
        case words:
            yield key.about, ", ".join(words) or "all", mark, mark


def _volts(row: VoltageRow) -> str:
    """Name the voltages of a row.

    >>> rows = (0, 150), (150, 600), (75e3, 1e999)
    >>> tuple(_volts(VoltageRow(*row, ())) for row in rows)
    ('up to 150 V', 'over 150 to 600 V', 'over 75000 V')
    """
    if row.above == 0:
        return f"up to {row.up_to:.0f} V"
    if row.up_to == float("inf"):
        return f"over {row.above:.0f} V"
    return f"over {row.above:.0f} to {row.up_to:.0f} V"


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


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
