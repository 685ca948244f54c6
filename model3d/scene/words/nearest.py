"""The known word nearest to one that is not known, for a message that helps."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.wording.said import joined, say

if TYPE_CHECKING:
    from collections.abc import Iterable

_LONGEST: Final = 60
"""Characters; comparing longer text costs time and no known word is as long."""
_MOST_WORDS: Final = 500
"""Comparing with all ids of a large scene, for each of its mistakes, takes minutes."""
_LIKE: Final = 0.7
_SHORTEST_START: Final = 3
"""Letters; so many at the start of a word name it, as amp does amps."""


def nearest(word: str, known: Iterable[str], like: float = _LIKE) -> str | None:
    """Return the known word most like ``word``, or None where none is like it.

    ``like`` is the least ratio of likeness, from 0 to 1.

    >>> nearest("panelbord", ["panelboard", "pad"])
    'panelboard'
    >>> nearest("nec-2032", ["nec-2023", "nec-2026"])
    'nec-2023'
    >>> nearest("diam", ["at", "diameter"])
    'diameter'
    >>> nearest("left-hand", ["left", "right"]), nearest("S", ["north", "south"])
    ('left', 'south')
    >>> nearest("zebra", ["panelboard", "pad"]) is None
    True

    Another number is not a misspelling: nobody knows which one was meant.

    >>> nearest("nec-2011", ["nec-2014", "nec-2017"]) is None
    True
    """
    words = [*known]
    if len(word) > _LONGEST or len(words) > _MOST_WORDS:
        return None
    # Only a mistake needs it, so a good file does not pay for the import.
    from difflib import SequenceMatcher, get_close_matches  # noqa: PLC0415

    by_small = {name.casefold(): name for name in words}
    small = word.casefold()
    found = get_close_matches(small, by_small, n=3, cutoff=like)
    found = [name for name in found if not _is_another_number(small, name)]
    if not found:
        found = [name for name in by_small if sorted(name) == sorted(small)]
    if not found:
        found = _by_its_start(small, [*by_small])
    if not found:
        return None

    def likeness(name: str) -> tuple[float, int]:
        # Two letters that changed places: all are there, and that settles a tie.
        shared = sum(min(small.count(c), name.count(c)) for c in {*small})
        return SequenceMatcher(None, name, small).ratio(), shared

    return by_small[max(found, key=likeness)]


def _by_its_start(word: str, names: list[str]) -> list[str]:
    """Return the names that begin as a word does, or with which it begins."""
    longer = [name for name in names if word and name.startswith(word)]
    if len(word) >= _SHORTEST_START or len(longer) == 1:
        return longer or [
            name
            for name in names
            if len(name) >= _SHORTEST_START
            and word.startswith(name)
            and not _is_another_number(word, name)
        ]
    return []


def _is_another_number(word: str, name: str) -> bool:
    """Tell whether two words differ in their digits alone, and not in their order."""
    same = [*filter(str.isalpha, word)] == [*filter(str.isalpha, name)]
    digits = (sorted(filter(str.isdecimal, one)) for one in (word, name))
    return same and len({tuple(one) for one in digits}) > 1


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
    return say("{} {} {}", joined(", ", some), last, end) if some else end
