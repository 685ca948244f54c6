"""What was made for one stage, used again for the next one where nothing of it changed.

While an item moves, a stage is built for every picture; most of it is as it was.
"""

from __future__ import annotations

from itertools import compress, count
from operator import is_not, ne
from typing import TYPE_CHECKING, Any, Final, Generic, NamedTuple, TypeVar, cast

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable, Sequence

_T = TypeVar("_T")
_P = TypeVar("_P")

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
        own: Sequence[Hashable],
        same: Sequence[Sequence[object]],
        alike: Sequence[Sequence[object]],
        make: Callable[[int, _T | None], _T],
    ) -> list[_T]:
        """Return many things of one sort, as ``again`` does, in the order wanted.

        Args:
            name: Of the sort, which is asked for once between two calls of ``forget``.
            own: For each its own name.
            same: Of what decides how each comes out all that must be the very same,
                one part of all of them after the other.
            alike: The same of what is compared by what it is.
            make: Makes one, given its number in that order and the one that there was
                by its name, if any.
        """
        _, last = self._made.get(name, ((), None))
        found: list[_T | None] = [None] * len(own)
        anew: Iterable[int] = range(len(own))
        if last is not None:
            then: _Many[_T] = last
            if then.own != own:
                then = then.in_order_of(own)
            found = then.found[:]
            anew = sorted(then.unlike(same, alike))
        for number in anew:
            found[number] = make(number, found[number])
        self._used[name] = (), _Many(own, same, alike, found)
        return cast("list[_T]", found[:])

    def forget(self) -> None:
        """Drop what has not been asked for since the last time."""
        self._made, self._used = self._used, {}


class _Many(NamedTuple, Generic[_T]):
    """Things of one sort, and what they were made from, part by part."""

    own: Sequence[Hashable]
    same: Sequence[Sequence[object]]
    alike: Sequence[Sequence[object]]
    found: list[_T | None]

    def in_order_of(self, own: Sequence[Hashable]) -> _Many[_T]:
        """Return what there is of other names; where there is nothing, nothing."""
        numbers = {name: number for number, name in enumerate(self.own)}
        order = [numbers.get(name, -1) for name in own]

        def put(part: Sequence[_P | None]) -> list[_P | None]:
            more = [*part, None]
            return [more[number] for number in order]

        same, alike = [*map(put, self.same)], [*map(put, self.alike)]
        return _Many(own, same, alike, put(self.found))

    def unlike(
        self, same: Sequence[Sequence[object]], alike: Sequence[Sequence[object]]
    ) -> set[int]:
        """Return the numbers of those that no longer come out as they did."""
        # Of a thousand things this is asked at every move: no line runs for each.
        pairs = [(is_not, *some) for some in zip(self.same, same, strict=True)]
        pairs += [(ne, *some) for some in zip(self.alike, alike, strict=True)]
        found = {number for number, one in enumerate(self.found) if one is None}
        for differs, then, now in pairs:
            found.update(compress(count(), map(differs, then, now)))
        return found


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
