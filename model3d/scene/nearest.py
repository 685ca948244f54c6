"""The known word nearest to one that is not known, for a message that helps."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable

_LONGEST: Final = 60
"""Characters; comparing longer text costs time and no known word is as long."""
_LIKE: Final = 0.6


def nearest(word: str, known: Iterable[str], like: float = _LIKE) -> str | None:
    """Return the known word most like ``word``, or None where none is like it.

    ``like`` is the least ratio of likeness, from 0 to 1.

    >>> nearest("panelbord", ["panelboard", "pad"])
    'panelboard'
    >>> nearest("zebra", ["panelboard", "pad"]) is None
    True
    """
    if len(word) > _LONGEST:
        return None
    # Only a mistake needs it, so a good file does not pay for the import.
    from difflib import get_close_matches  # noqa: PLC0415

    by_small = {name.casefold(): name for name in known}
    found = get_close_matches(word.casefold(), by_small, n=1, cutoff=like)
    return by_small[found[0]] if found else None


def hint(word: str, known: Iterable[str]) -> str:
    """Return `` (nearest: X)`` to put behind a message, or nothing.

    >>> hint("nroth", ["north", "east"])
    ' (nearest: north)'
    >>> hint("up", ["north", "east"])
    ''
    """
    found = nearest(word, known)
    return f" (nearest: {found})" if found else ""


def listed(words: Iterable[str], last: str = "or") -> str:
    """Write words as a list in a sentence.

    >>> listed(["mm", "m", "ft"]), listed(["a"]), listed([])
    ('mm, m or ft', 'a', '')
    """
    *some, end = [*words] or [""]
    return f"{', '.join(some)} {last} {end}" if some else end
