"""Print what is measured: ``python -m tests.bench``; ``--quick`` for a small run."""

from __future__ import annotations

import argparse
import platform
import statistics
import sys
from typing import TYPE_CHECKING, Final

from tests.bench import portfolio
from tests.bench.live import move_time
from tests.bench.measures import (
    check_time,
    engine_against_all_pairs,
    engine_against_floor,
    peak_memory,
    process_times,
    reading_times,
)
from tests.bench.scans import measure

if TYPE_CHECKING:
    from collections.abc import Iterator

_LINE: Final = "{:<76} {:>10} {:>10} {:>7}  {}\n"
_WAYS: Final = ((False, ""), (True, ", with ways out"))
_CROWDS: Final = ((True, "crowded"), (False, "orderly"))

_Row = tuple[str, str, str, str, str]
"""What is measured, this, against what, the ratio, the aim."""


def main() -> None:
    """Measure everything in this one run and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a small run")
    quick = parser.parse_args().quick
    sys.stdout.write(f"Python {platform.python_version()}, {platform.machine()}\n")
    sys.stdout.write(_LINE.format("measured", "this", "against", "ratio", "aim"))
    measured = (_engine, _ways_out, _read, _scans, _pairs, _memory, _move, _rooms)
    for rows in (_process, *measured):
        for row in rows(quick):
            sys.stdout.write(_LINE.format(*row))
            sys.stdout.flush()


def _process(quick: bool) -> Iterator[_Row]:  # noqa: FBT001 - as all below
    what = "whole check of the pump station / loading the libraries"
    yield _compared(what, *process_times(3 if quick else 9), "<= 1.3")


def _engine(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    halls = [(1_000, 2), (10_000, 1), (100_000, 1)]
    for crowded, kind in _CROWDS:
        for door, ways in _WAYS:
            for boxes, repeats in [(1_000, 2), (4_000, 1)] if quick else halls:
                one = engine_against_floor(boxes, repeats, door=door, crowded=crowded)
                what = f"check of {boxes} boxes, {kind}{ways}, {one.hits} hits"
                yield _compared(f"{what} / least work", one.engine, one.floor, "<= 5")


def _ways_out(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    first: dict[tuple[bool, bool], float] = {}
    for boxes in (100, 300) if quick else (100, 1_000, 10_000, 100_000):
        for crowded, kind in _CROWDS:
            taken = [check_time(boxes, door=d, crowded=crowded) for d, _ in _WAYS]
            what = f"check of {boxes} boxes, {kind}, with ways out / without"
            yield _compared(what, taken[1], taken[0], "<= 1.5")
            for (door, ways), seconds in zip(_WAYS, taken, strict=True):
                each = seconds / boxes
                fewest = first.setdefault((crowded, door), each)
                ends = f"{each * 1e6:.0f} us", f"{fewest * 1e6:.0f} us"
                what = f"  time a box{ways} / of the fewest"
                yield what, *ends, f"{each / fewest:.2f}", "about 1"


def _read(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    items = 1_000 if quick else 10_000
    what = f"reading {items} panelboards / libyaml's parse"
    yield _compared(what, *reading_times(items), "<= 3")


def _scans(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    for triangles in (1_000_000,) if quick else (1_000_000, 10_000_000):
        one = measure(triangles)
        what = f"a query of a scan of {one.triangles} triangles / reading it"
        yield what, "", "", f"{one.query:.3f}", "<= 0.2"


def _pairs(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    tried = 300 if quick else 3_000
    for crowded, kind in _CROWDS:
        one = engine_against_all_pairs(1_000, tried, 3, crowded=crowded)
        what = f"all pairs of {one.solids} solids, {kind}, from {tried} drawn / check"
        yield _compared(what, one.all_pairs, one.engine, "-" if crowded else "> 100")


def _memory(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    few, many = (100, 1_000) if quick else (1_000, 10_000)
    for door, ways in () if sys.platform == "win32" else _WAYS:
        least, most = (peak_memory(boxes, door=door) for boxes in (few, many))
        each = (most - least) / (many - few) / 1000
        what = f"memory of {many} boxes, orderly{ways} / of {few}, read and checked"
        ends = f"{most / 1e6:.0f} MB", f"{least / 1e6:.0f} MB"
        yield what, *ends, f"{most / least:.2f}", f"{each:.0f} kB a box, <= 20"


def _move(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    boxes, moves = (100, 10) if quick else (1_000, 40)
    one = move_time(boxes, moves)
    what = f"check and stage of {boxes} boxes / one moves, answered to the page"
    this = statistics.median(one.each)
    yield _compared(what, one.whole, this, "two frames: 0.033 s")


def _rooms(quick: bool) -> Iterator[_Row]:  # noqa: FBT001
    for what, row in portfolio.measured(*portfolio.QUICK if quick else portfolio.FULL):
        yield _compared(what, *row)


def _compared(what: str, this: float, against: float, aim: str) -> _Row:
    return what, f"{this:.3f} s", f"{against:.3f} s", f"{this / against:.2f}", aim


if __name__ == "__main__":
    main()
