"""How many rooms are worked on at once, and which of them."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import whole_number
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from pathlib import Path

_MOST_JOBS: Final = 9999
"""More processes than any one machine has room for."""


def portfolio_arguments(parser: ArgumentParser) -> None:
    """Take how many processes work, and which part of the rooms is meant."""
    about = "so many processes work side by side, with the same result; default: 1"
    jobs_argument(parser, about, "1")
    parser.add_argument(
        "--shard",
        metavar="PART/PARTS",
        help="only this part of the scenes, like 3/40: for a batch system, which takes "
        "1/40 to 40/40 each by itself",
    )


def jobs_argument(parser: ArgumentParser, about: str, default: str) -> None:
    """Take how many processes work."""
    parser.add_argument("--jobs", metavar="N", default=default, help=about)


def cores() -> int:
    """Return how many processes this machine can do justice to at once."""
    if sys.platform.startswith("linux"):
        return len(os.sched_getaffinity(0))  # some may be given to others
    return os.cpu_count() or 1


def jobs_of(arguments: Namespace) -> int:
    """Return how many processes are asked for.

    Raises:
        UnusableError: It is no whole number from 1, or beyond any machine.
    """
    try:
        return whole_number(arguments.jobs, 1, _MOST_JOBS)
    except ValueError as error:
        raise UnusableError([f"--jobs: {error}"]) from error


def shard_files(arguments: Namespace, files: list[Path]) -> list[Path]:
    """Return the scene files of the part that is asked for.

    Raises:
        UnusableError: There is no such part.
    """
    if arguments.shard is None:
        return files
    from viewer.portfolio.shard import shard_of

    return shard_of(arguments.shard, files)
