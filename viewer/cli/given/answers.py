"""Many rooms, each worked on in its turn or beside others, and how far that is."""

from __future__ import annotations

from contextlib import closing, suppress
from typing import TYPE_CHECKING, Final, TypeVar

from viewer.cli.given.progress import counted
from viewer.cli.given.scene_files import STANDARD_INPUT

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Sequence
    from pathlib import Path

    from viewer.portfolio.pool import Lost

LOST: Final = "not judged: the process that was at work on it ended ({})"
"""What is said of a room whose process is gone, with how it ended."""
Task = TypeVar("Task")
Result = TypeVar("Result")
Found = TypeVar("Found")


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

    order = [*range(len(tasks))]
    if jobs > 1:  # a large one at the end would keep one process busy, and only one
        order.sort(key=lambda number: -_size(files[number]))
    coming = results(work, [tasks[one] for one in order], jobs)
    found: dict[int, Result | Lost] = {}
    gather(coming, [files[one] for one in order], found)
    return [
        found[place] for _, place in sorted(zip(order, range(len(order)), strict=True))
    ]


def gather(
    coming: Generator[tuple[int, Found]],
    files: Sequence[Path],
    found: dict[int, Found],
) -> None:
    """Take what comes, and show how far that is.

    Args:
        coming: Numbers of files, and what comes of each.
        files: All files; how long each takes is told by its size.
        found: Gets what has come, also where it comes to an early end.
    """
    sizes = [_size(file) for file in files]
    done, whole = 0, sum(sizes)
    with counted() as told, closing(coming):
        told(0, whole, f"0 of {len(files)} rooms")
        for number, one in coming:
            found[number] = one
            done += sizes[number]
            told(done, whole, f"{len(found)} of {len(files)} rooms")


def _size(file: Path) -> int:
    if file != STANDARD_INPUT:
        with suppress(OSError, ValueError):
            return file.stat().st_size + 1
    return 1
