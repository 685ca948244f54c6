"""Show the rule books and rules."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.output.outlet import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

RANK: Final = 3
MORE: Final = """\
examples:
  standclear rules                 the rule books
  standclear rules osha-1910       every rule with what this book prints
  standclear rules my-city.toml    the same as a local amendment changes it
"""


def take(parser: ArgumentParser) -> None:
    """Take a rule book, or none."""
    parser.add_argument(
        "book",
        metavar="BOOK",
        nargs="?",
        help="a rule book, or an amendment file; without it the books are listed",
    )


def run(arguments: Namespace) -> int:
    """Print the rule books, or one book's rules, and return the exit status.

    Raises:
        UnusableError: There is no such rule book, or it has mistakes.
    """
    from model3d import BookError

    try:
        text = _rules(arguments.book) if arguments.book else _books()
    except BookError as error:
        raise UnusableError(str(error).splitlines()) from error
    emit(text)
    return 0


def _books() -> str:
    from model3d import BOOKS, load_book
    from viewer.report.text.rules import books_text

    return books_text({book: load_book(book).name for book in BOOKS})


def _rules(name: str) -> str:
    from model3d import load_book
    from model3d.catalogue.rule_pages import rule_pages
    from model3d.catalogue.values import values
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.text.rules import rules_text

    path = Path(name)  # an amendment is looked for in a folder, by its name
    book = load_book(path.name if path.suffix else name, path.parent)
    return rules_text(
        book.name,
        [(page, values(book, page.tables)) for page in rule_pages()],
        width=width_of(sys.stdout),
        colour=wants_colour(sys.stdout),
    )
