"""Print what many rooms cost: ``python -m tests.bench.portfolio``; ``--quick``: less.

Elapsed times of the whole command, so other work on the machine counts; beside them
processor time, which says what a free machine would need.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import yaml

from tests.bench.halls import hall
from tests.bench.measures import PROGRAM, ROOT

if TYPE_CHECKING:
    from collections.abc import Iterator

QUICK: Final = (24, 100)
FULL: Final = (200, 300)
"""Rooms, and boxes of each."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What a run costs.

    Attributes:
        elapsed: Seconds.
        processor: Seconds of all its processes together.
    """

    elapsed: float
    processor: float


def write_halls(folder: Path, rooms: int, boxes: int) -> None:
    """Write so many halls of so many boxes, each a little other than the next."""
    folder.mkdir()
    written = hall(boxes).written()
    for number in range(rooms):
        text = yaml.safe_dump({**written, "title": f"Hall {number}"}, sort_keys=False)
        (folder / f"{number:05}.yaml").write_text(text, encoding="utf-8")


def cost(folder: Path, output: Path, *words: str) -> Cost:
    """Check a folder by the whole command and return what that costs."""
    start, before = time.perf_counter(), _of_children()
    done = subprocess.run(  # noqa: S603 - this Python
        [sys.executable, "-c", PROGRAM, "check", folder, "-o", output, *words],
        cwd=ROOT,
        check=False,
    )
    assert done.returncode in {0, 1}
    return Cost(time.perf_counter() - start, _of_children() - before)


def halves(folder: Path, output: Path) -> Cost:
    """Check a folder by two programs at the same time, each half of the rooms."""

    def half(number: int) -> None:
        cost(folder, output.with_suffix(f".{number}"), "--shard", f"{number}/2")

    start, before = time.perf_counter(), _of_children()
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(half, (1, 2)))
    return Cost(time.perf_counter() - start, _of_children() - before)


def _of_children() -> float:
    """Return the processor time of all ended processes that this one started."""
    told = os.times()
    return told.children_user + told.children_system


def measured(rooms: int, boxes: int) -> Iterator[tuple[str, tuple[float, float, str]]]:
    """Yield what is measured: seconds of this, against which seconds, and the aim."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "rooms"
        write_halls(folder, rooms, boxes)
        one, two = (Path(name) / f"{jobs}.jsonl" for jobs in (1, 2))
        alone = cost(folder, one)
        pair = cost(folder, two, "--jobs", "2")
        assert one.read_bytes() == two.read_bytes()
        shards = halves(folder, Path(name) / "half.jsonl")
        again = cost(folder, two, "--changed-since", str(one))
        assert one.read_bytes() == two.read_bytes()
    what = f"{rooms} rooms of {boxes} boxes"
    yield f"{what}: one job / two, elapsed", (alone.elapsed, pair.elapsed, ">= 1.7")
    used = pair.processor, alone.processor, "about 1"
    yield f"{what}: two jobs / one, processor", used
    apart = pair.processor, shards.processor, "about 1"
    yield f"{what}: two jobs / two halves at once, processor", apart
    kept = again.processor, alone.processor, "-"
    yield f"{what}: nothing changed since / all", kept


_LINE: Final = "{:<58} {:>12} {:>12} {:>8}  {}\n"


def main() -> None:
    """Measure in this one run and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a small run")
    size = QUICK if parser.parse_args().quick else FULL
    sys.stdout.write(_LINE.format("measured", "this", "against", "ratio", "aim"))
    for what, (this, against, aim) in measured(*size):
        ratio = f"{this / against:.2f}"
        cells = (f"{this:.2f} s", f"{against:.2f} s", ratio, aim)
        sys.stdout.write(_LINE.format(what, *cells))


if __name__ == "__main__":
    main()
