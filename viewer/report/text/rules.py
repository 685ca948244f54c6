"""Rule books as text: every rule, and what the book prints for it."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Final

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.report.text.table import LONGEST_LINE
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from rich.console import RenderableType

    from model3d.catalogue.rule_pages import RulePage
    from model3d.catalogue.values import ValueLine

_INDENT: Final = 2
_ABOUT: Final = (
    "Figures stand as printed, SI / inch-pound. "
    "A figure from memory is marked: verify it against the adopted code."
)


def books_text(names: Mapping[str, str]) -> str:
    """Return the list of rule books, their names by id."""
    column = max(map(len, names))
    lines = [f"{book:{column}}  {name}\n" for book, name in names.items()]
    return "".join(lines)


def rules_text(
    book: str,
    rules: Sequence[tuple[RulePage, Sequence[ValueLine]]],
    *,
    width: int = PLAIN_WIDTH,
    colour: bool = False,
) -> str:
    """Return every rule with what a book prints for it.

    Args:
        book: Name of the rule book.
        rules: Each rule with its values.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences.
    """
    width = min(width, LONGEST_LINE)
    parts = chain(
        [Text(clean(book), style="bold"), Text(_ABOUT)],
        *(_rule(page, lines) for page, lines in rules),
    )
    return rendered(parts, width=width, colour=colour)


def _rule(page: RulePage, lines: Iterable[ValueLine]) -> Iterator[RenderableType]:
    yield ""
    yield Text(f"{page.name}: {page.title}", style="bold")
    for paragraph in page.body.split("\n\n"):
        yield _indented(Text(clean(paragraph)))
    table = Table.grid(padding=(0, _INDENT, 0, 0), pad_edge=False, expand=True)
    for ratio in (4, 4, 3):
        table.add_column(ratio=ratio, overflow="fold")
    table.add_row(
        *(Text(head, style="underline") for head in ("Value", "Printed", "Where"))
    )
    for line in lines:
        where = (line.citation, f"({line.note})" if line.note else "")
        table.add_row(
            Text(clean(line.about)),
            Text(clean(line.text)),
            Text("\n".join(clean(words) for words in where if words)),
        )
    yield ""
    yield _indented(table)


def _indented(part: RenderableType) -> RenderableType:
    return Padding(part, (0, 0, 0, _INDENT))
