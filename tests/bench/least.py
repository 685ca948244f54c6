"""How long something takes where nothing else does: the least of some rounds."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


def least(work: Callable[[], object], rounds: int) -> float:
    """Return the least processor time: other work on the machine does not count."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def by_turns(rounds: int, *works: Callable[[], object]) -> tuple[float, ...]:
    """Return the least processor time of each, done by turns.

    A ratio of two holds then though the machine was slow for some seconds: a neighbour
    on it has doubled the time of whatever ran just then.
    """
    turns = [[least(work, 1) for work in works] for _ in range(rounds)]
    return tuple(min(times) for times in zip(*turns, strict=True))
