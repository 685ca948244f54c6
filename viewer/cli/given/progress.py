"""How far long work is: a bar on a terminal, and nothing anywhere else."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_LONGEST = 40


@contextmanager
def progress(whole: int | None = None) -> Iterator[Callable[[str], None]]:
    """Show what is worked on.

    Args:
        whole: How many steps there are, where that is known.

    Yields:
        What is told the name of each step when it begins.
    """
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        Progress,
        TaskProgressColumn,
        TextColumn,
        TimeRemainingColumn,
    )

    bar = Progress(
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TaskProgressColumn(),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
        disable=not sys.stderr.isatty(),
    )
    with bar:
        task = bar.add_task("", total=whole)
        yield lambda name: bar.update(
            task, advance=1, description=clean(name, _LONGEST)
        )
