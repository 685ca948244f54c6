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
