"""Answers that are worked out some at a time, though they are asked for one by one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

_MOST: Final = 64
"""How many are worked out together at most, which bounds the memory that takes."""

_Asked = TypeVar("_Asked")
_Found = TypeVar("_Found")


class Lookahead(Generic[_Asked, _Found]):
    """Works out what is asked, together with what is likely to be asked next.

    Twice as many at a time as were asked of those before: whoever asks for one has one
    worked out, whoever asks for all of them has most of them worked out together.
    """

    def __init__(
        self,
        order: Iterable[_Asked],
        work: Callable[[Sequence[_Asked]], Iterable[_Found]],
    ) -> None:
        """Take what may be asked in the order in which it is, and what answers it."""
        self._order = tuple(dict.fromkeys(order))
        self._places = {one: place for place, one in enumerate(self._order)}
        self._work = work
        self._found: dict[_Asked, _Found] = {}
        self._asked: set[_Asked] = set()

    def of(self, one: _Asked) -> _Found:
        """Return the answer for one."""
        if one not in self._found:
            some = self._with_next(one)
            self._asked.clear()
            self._found.update(zip(some, self._work(some), strict=True))
        self._asked.add(one)
        return self._found[one]

    def _with_next(self, one: _Asked) -> list[_Asked]:
        place = self._places.get(one)
        if place is None:
            return [one]
        far = place + min(2 * len(self._asked), _MOST)
        after = self._order[place + 1 : far]
        return [one, *(other for other in after if other not in self._found)]
