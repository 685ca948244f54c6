"""What was made for one stage, used again for the next one where nothing of it changed.

While an item moves, a stage is built for every picture; most of it is as it was.
"""

from __future__ import annotations

from operator import is_
from typing import TYPE_CHECKING, Any, Final, TypeVar, cast

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

_T = TypeVar("_T")

_PLAIN: Final = (str, int, float)
"""Compared by what they are, in tuples too; all else must be the very same."""


class Kept:
    """Things by name, each with what it was made from.

    Whatever is not asked for between two calls of ``forget`` is dropped.
    """

    def __init__(self) -> None:
        """Start with nothing."""
        self._made: dict[Hashable, tuple[tuple[object, ...], Any]] = {}
        self._used: set[Hashable] = set()

    def again(
        self, name: Hashable, made_from: tuple[object, ...], make: Callable[[], _T]
    ) -> _T:
        """Return the thing of a name, made anew only if what it is made from changed.

        Args:
            name: Of the thing.
            made_from: All that decides how it comes out.
            make: Makes it.
        """
        self._used.add(name)
        known = self._made.get(name)
        if known is None or not _is_same(known[0], made_from):
            known = made_from, make()
            self._made[name] = known
        return cast("_T", known[1])

    def forget(self) -> None:
        """Drop what has not been asked for since the last time."""
        self._made = {name: self._made[name] for name in self._used}
        self._used = set()


def _is_same(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    if len(old) != len(new):
        return False
    # Nearly all is the very same, which is found out the quickest.
    return all(map(is_, old, new)) or all(map(_is_alike, old, new))


def _is_alike(old: object, new: object) -> bool:
    if old is new:
        return True
    if isinstance(old, tuple) and isinstance(new, tuple):
        return _is_same(old, new)
    return isinstance(old, _PLAIN) and old == new
