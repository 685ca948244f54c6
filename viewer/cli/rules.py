"""``standclear rules``: list the rule books, or the rules of one."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from model3d import BOOKS, BookError, load_book
from model3d.catalogue import rule_pages, values
from viewer.output.terminal import wants_colour, width_of
from viewer.output.whole import emit
from viewer.report.rules_text import books_text, rules_text
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import Namespace


def run(arguments: Namespace) -> int:
    """Print the rule books, or one book's rules, and return the exit status.

    Raises:
        UnusableError: There is no such rule book, or it has mistakes.
    """
    try:
        text = _rules(arguments.book) if arguments.book else _books()
    except BookError as error:
        raise UnusableError(str(error).splitlines()) from error
    emit(text)
    return 0


def _books() -> str:
    return books_text({book: load_book(book).name for book in BOOKS})


def _rules(name: str) -> str:
    path = Path(name)  # an amendment is looked for in a folder, by its name
    book = load_book(path.name if path.suffix else name, path.parent)
    return rules_text(
        book.name,
        [(page, values(book, page.tables)) for page in rule_pages()],
        width=width_of(sys.stdout),
        colour=wants_colour(sys.stdout),
    )
