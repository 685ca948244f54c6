"""Which necks join all bodies, the narrowest first, and which close a ring."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Forest:
    """The necks that join bodies which no narrower ones join, and those left over.

    Attributes:
        tour: The necks of the forest in the order of a walk round all of it, each
            there and back.
        rest: The necks that are left over, the narrowest first.
        ends: For both bodies of each of those how many steps of the walk come before,
            shape (n, 2).
    """

    tour: Numbers
    rest: Numbers
    ends: Numbers


def grown(bodies: int, pairs: Numbers) -> Forest:
    """Join bodies by the narrowest necks first, and walk round what that gives."""
    root = _roots(bodies)
    beside: list[list[tuple[int, int]]] = [[] for _ in range(bodies)]
    rest: list[int] = []
    for number, (a, b) in enumerate(pairs.tolist()):
        if root(a, b):
            beside[a].append((number, b))
            beside[b].append((number, a))
        else:
            rest.append(number)
    tour: list[int] = []
    reached = [-1] * bodies
    for start in range(bodies):
        if reached[start] < 0:
            _walk(start, beside, tour, reached)
    left = np.array(rest, dtype=np.int64)
    ends = np.array(reached, dtype=np.int64)[pairs[left]]
    return Forest(np.array(tour, dtype=np.int64), left, ends)


def _roots(bodies: int) -> Callable[[int, int], bool]:
    """Return what joins two bodies, and tells whether they were apart before."""
    above = list(range(bodies))

    def top(one: int) -> int:
        while above[one] != one:
            above[one] = above[above[one]]
            one = above[one]
        return one

    def join(one: int, other: int) -> bool:
        first, second = top(one), top(other)
        above[first] = second
        return first != second

    return join


def _walk(
    start: int, beside: list[list[tuple[int, int]]], tour: list[int], reached: list[int]
) -> None:
    reached[start] = len(tour)
    open_ones = [(start, -1, iter(beside[start]))]
    while open_ones:
        _, back, others = open_ones[-1]
        for number, body in others:
            if number != back:
                tour.append(number)
                reached[body] = len(tour)
                open_ones.append((body, number, iter(beside[body])))
                break
        else:
            open_ones.pop()
            if back >= 0:
                tour.append(back)
