"""Many rooms, each worked on in its turn or beside others, and how far that is."""

from __future__ import annotations

from contextlib import closing, suppress
from typing import TYPE_CHECKING, Final, TypeVar

from viewer.cli.given.files import STANDARD_INPUT
from viewer.cli.given.progress import counted

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from viewer.portfolio.pool import Lost

LOST: Final = "not judged: the process that was at work on it ended ({})"
"""What is said of a room whose process is gone, with how it ended."""
Task = TypeVar("Task")
Result = TypeVar("Result")


def answers(
    work: Callable[[Task], Result],
    tasks: Sequence[Task],
    files: Sequence[Path],
    jobs: int,
) -> list[Result | Lost]:
    """Return what comes of each task, in their order; how far that is is shown.

    Args:
        work: What is done with a task.
        tasks: A room each.
        files: Their files; how long each takes is told by its size.
        jobs: How many processes work at them.
    """
    if len(tasks) == 1:
        return [work(tasks[0])]
    from viewer.portfolio.pool import results

    sizes = [_size(file) for file in files]
    order = [*range(len(tasks))]
    if jobs > 1:  # a large one at the end would keep one process busy, and only one
        order.sort(key=lambda number: -sizes[number])
    found: dict[int, Result | Lost] = {}
    done, whole = 0, sum(sizes)
    with (
        counted() as told,
        closing(results(work, [tasks[one] for one in order], jobs)) as coming,
    ):
        told(0, whole, f"0 of {len(tasks)} rooms")
        for place, result in coming:
            number = order[place]
            found[number] = result
            done += sizes[number]
            told(done, whole, f"{len(found)} of {len(tasks)} rooms")
    return [found[number] for number in range(len(tasks))]


def _size(file: Path) -> int:
    if file != STANDARD_INPUT:
        with suppress(OSError, ValueError):
            return file.stat().st_size + 1
    return 1
