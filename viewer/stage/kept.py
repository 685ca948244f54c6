"""What was made for one stage, used again for the next one where nothing of it changed.

While an item moves, a stage is built for every picture; most of it is as it was.
"""

from __future__ import annotations

from operator import is_
from typing import TYPE_CHECKING, Any, Final, TypeAlias, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable

    Wanted: TypeAlias = tuple[Hashable, tuple[object, ...], tuple[object, ...]]

_T = TypeVar("_T")

_PLAIN: Final = (str, bytes, int, float)
"""Compared by what they are, in tuples too; all else must be the very same."""


class Kept:
    """Things by name, each with what it was made from.

    Whatever is not asked for between two calls of ``forget`` is dropped.
    """

    def __init__(self) -> None:
        """Start with nothing."""
        self._made: dict[Hashable, tuple[tuple[object, ...], Any]] = {}
        self._used: dict[Hashable, tuple[tuple[object, ...], Any]] = {}

    def again(
        self, name: Hashable, made_from: tuple[object, ...], make: Callable[[], _T]
    ) -> _T:
        """Return the thing of a name, made anew only if what it is made from changed.

        Args:
            name: Of the thing.
            made_from: All that decides how it comes out.
            make: Makes it.
        """
        known = self._made.get(name)
        if known is None or not _is_same(known[0], made_from):
            known = made_from, make()
            self._made[name] = known
        self._used[name] = known
        found: _T = known[1]
        return found

    def each(
        self,
        name: Hashable,
        wanted: Iterable[Wanted],
        make: Callable[[int, _T | None], _T],
    ) -> list[_T]:
        """Return many things of one sort, as ``again`` does, in the order wanted.

        Args:
            name: Of the sort, which is asked for once between two calls of ``forget``.
            wanted: For each its own name, and all that decides how it comes out: what
                must be the very same, and what is compared by what it is.
            make: Makes one, given its number in that order and the one that there was
                by its name, if any.
        """
        _, last = self._made.get(name, ((), {}))
        now: dict[Hashable, tuple[tuple[object, ...], tuple[object, ...], _T]] = {}
        found = []
        for number, (own, same, alike) in enumerate(wanted):
            known = last.get(own)
            # Of a thousand things this is asked at every move: no line runs for each.
            if (
                known is None
                or known[1] != alike
                or len(known[0]) != len(same)
                or not all(map(is_, known[0], same))
            ):
                made = make(number, None if known is None else known[2])
                known = same, alike, made
            now[own] = known
            found.append(known[2])
        self._used[name] = (), now
        return found

    def forget(self) -> None:
        """Drop what has not been asked for since the last time."""
        self._made, self._used = self._used, {}


def _is_same(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    if len(old) != len(new):
        return False
    for one, other in zip(old, new, strict=True):
        # Nearly all is the very same.
        if one is not other and not _is_alike(one, other):
            return False
    return True


def _is_alike(old: object, new: object) -> bool:
    if isinstance(old, _PLAIN):
        return old == new
    if isinstance(old, tuple) and isinstance(new, tuple):
        return _is_same(old, new)
    return False
