"""The one error of the rule books, and how several mistakes become one."""

from __future__ import annotations

import difflib
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_LONGEST = 80
"""So much of a wrong value is shown."""


class BookError(ValueError):
    """A rule book cannot be used, or does not hold what was asked for.

    Attributes:
        mistakes: One line a mistake: the file, the place, and what would be right.
    """

    def __init__(self, *mistakes: str) -> None:
        super().__init__("\n".join(mistakes))
        self.mistakes = mistakes


@contextmanager
def gathered(mistakes: list[str]) -> Iterator[None]:
    """Collect the mistakes of the block instead of stopping at the first.

    >>> found: list[str] = []
    >>> with gathered(found):
    ...     raise BookError("a.toml: no name")
    >>> found
    ['a.toml: no name']
    """
    try:
        yield
    except BookError as error:
        mistakes.extend(error.mistakes)


def nearest(word: str, known: Iterable[str]) -> str:
    """Say which known word is meant, or list them all.

    >>> nearest("nec-2032", ["nec-2020", "nec-2023"])
    'did you mean nec-2023?'
    >>> nearest("atlas", ["nec-2020", "nec-2023"])
    'known are nec-2020, nec-2023'
    """
    words = list(known)
    close = difflib.get_close_matches(word, words, n=3)
    # Another year is not a misspelling: nobody knows which one was meant.
    close = [one for one in close if not _is_another_number(word, one)]
    if close:
        return f"did you mean {close[0]}?"
    return f"known are {', '.join(words)}"


def _is_another_number(word: str, known: str) -> bool:
    same = [*filter(str.isalpha, word)] == [*filter(str.isalpha, known)]
    digits = (sorted(filter(str.isdecimal, one)) for one in (word, known))
    return same and len({tuple(one) for one in digits}) > 1


def wrong(found: object, right: str, where: str = "") -> BookError:
    """Make the error of one value: what it is, what would be right, where it stands.

    >>> str(wrong(762, 'a length such as "762 mm"', "a.toml: [b] width"))
    'a.toml: [b] width: 762; right would be a length such as "762 mm"'
    """
    shown = "nothing" if found is None else repr(found)
    if len(shown) > _LONGEST:
        shown = f"{shown[:_LONGEST]}..."
    return BookError(f"{where and f'{where}: '}{shown}; right would be {right}")


def refuse_unknown(found: Iterable[str], known: Iterable[str], where: str = "") -> None:
    """Raise BookError for the first word that is not known there."""
    words = list(known)
    for word in found:
        if word not in words:
            place = where and f"{where}: "
            msg = f"{place}{word!r} is not known there; {nearest(word, words)}"
            raise BookError(msg)
