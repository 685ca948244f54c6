"""Rooms that are handed to the workers of a running Dask scheduler."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from viewer.cli.given.answers import gather

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Sequence

    from viewer.portfolio.question import Question
    from viewer.portfolio.room import RoomOutcome, RoomTask


def cluster_arguments(parser: ArgumentParser) -> None:
    """Take where the scheduler is, and how long a room may take."""
    parser.add_argument(
        "--cluster",
        metavar="ADDRESS",
        help="hand the rooms to the workers of a running Dask scheduler, like "
        "tcp://host:8786, with all that they need; needs the extra [cluster]",
    )
    parser.add_argument(
        "--room-limit",
        metavar="SECONDS",
        help="with --cluster: a room that takes longer is told in its place",
    )


def cluster_faults(arguments: Namespace) -> list[str]:
    """Return a line for each thing that cannot be meant."""
    found = []
    limit = arguments.room_limit
    if arguments.cluster is not None and arguments.jobs != "1":
        found.append("--cluster: found --jobs beside it, right is one of the two")
    if arguments.cluster is None and limit is not None:
        found.append("--room-limit: found no --cluster, right is both")
    if limit is not None and _seconds(limit) is None:
        found.append(
            f"--room-limit: found {limit}, right is a number of seconds over 0"
        )
    return found


def _seconds(text: str) -> float | None:
    try:
        found = float(text)
    except ValueError:
        return None
    return found if 0 < found < math.inf else None


def cluster_answers_of(
    arguments: Namespace, rooms: Sequence[RoomTask], question: Question
) -> tuple[list[RoomOutcome], list[str]]:
    """Return what comes of each room, and a line where nobody was left for some."""
    from viewer.portfolio.cluster import NobodyLeftError, cluster_answers
    from viewer.portfolio.room import lost

    limit = _seconds(arguments.room_limit) if arguments.room_limit else None
    coming = cluster_answers(rooms, question, arguments.cluster, limit)
    found: dict[int, RoomOutcome] = {}
    try:
        gather(coming, [room.file for room in rooms], found)
    except NobodyLeftError:
        nobody = f"nobody is left at {arguments.cluster}"
        line = f"--cluster: {nobody}: {len(found)} of {len(rooms)} rooms are told"
        for number, room in enumerate(rooms):
            if number not in found:
                part = lost(room, question, f"not judged: {nobody}").part
                found[number] = _unsaid(part)
        return [found[number] for number in range(len(rooms))], [line]
    return [found[number] for number in range(len(rooms))], []


def _unsaid(part: object) -> RoomOutcome:
    """Return an answer that stands in its place and has no line of its own."""
    from viewer.portfolio.room import RoomOutcome

    return RoomOutcome(part, passed=False)
