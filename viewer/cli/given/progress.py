"""How far long work is: a bar on a terminal, and nothing anywhere else."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING, Protocol

from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from rich.progress import Progress

_LONGEST = 40


@contextmanager
def progress(whole: int | None = None) -> Iterator[Callable[[str], None]]:
    """Show what is worked on.

    Args:
        whole: How many steps there are, where that is known.

    Yields:
        What is told the name of each step when it begins.
    """
    with _bar() as bar:
        task = bar.add_task("", total=whole)
        yield lambda name: bar.update(
            task, advance=1, description=clean(name, _LONGEST)
        )


class Told(Protocol):
    """Is told how many steps are done, of how many, and what to say of it."""

    def __call__(self, done: int, whole: int, words: str = "") -> None:
        """Show it."""


@contextmanager
def counted() -> Iterator[Told]:
    """Show how much of some work is done.

    Yields:
        What is told how many steps are done, and of how many.
    """
    with _bar() as bar:
        task = bar.add_task("", total=None)

        def tell(done: int, whole: int, words: str = "") -> None:
            said = clean(words, _LONGEST)
            bar.update(task, completed=done, total=whole, description=said)

        yield tell


def _bar() -> Progress:
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        Progress,
        TaskProgressColumn,
        TextColumn,
        TimeRemainingColumn,
    )

    return Progress(
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TaskProgressColumn(),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
        disable=not sys.stderr.isatty(),
    )
