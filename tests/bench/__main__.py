"""Print what is measured: ``python -m tests.bench``; ``--quick`` for a small run."""

from __future__ import annotations

import argparse
import platform
import sys

from tests.bench.measures import (
    check_time,
    engine_against_all_pairs,
    engine_against_floor,
    process_times,
    reading_times,
)
from tests.bench.scans import measure


def main() -> None:
    """Measure everything in this one run and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a small run")
    quick = parser.parse_args().quick
    line = "{:<68} {:>12} {:>12} {:>8}  {}".format
    _print(f"Python {platform.python_version()}, {platform.machine()}")
    _print(line("measured", "this", "against", "ratio", "aim"))
    this, loading = process_times(3 if quick else 9)
    what = "whole check of the pump station / loading the libraries"
    _print(line(what, _s(this), _s(loading), f"{this / loading:.2f}", "<= 1.3"))
    halls = [(1_000, 2), (4_000, 1)]
    if not quick:
        halls = [(1_000, 2), (10_000, 1), (100_000, 1)]
    for crowded, kind in ((True, "crowded"), (False, "orderly")):
        for door, ways in ((False, ""), (True, ", with ways out")):
            timed = [
                engine_against_floor(boxes, repeats, door=door, crowded=crowded)
                for boxes, repeats in halls
            ]
            for one in timed:
                what = f"check of {one.boxes} boxes, {kind}{ways}, {one.hits} hits"
                what = f"{what} / least work"
                ratio = f"{one.ratio:.2f}"
                _print(line(what, _s(one.engine), _s(one.floor), ratio, "<= 5"))
    first: dict[tuple[bool, bool], float] = {}
    for boxes in (100, 300) if quick else (100, 1_000, 10_000, 100_000):
        for crowded, kind in ((True, "crowded"), (False, "orderly")):
            with_ways, without = (
                check_time(boxes, door=door, crowded=crowded) for door in (True, False)
            )
            what = f"check of {boxes} boxes, {kind}, with ways out / without"
            ratio = f"{with_ways / without:.2f}"
            _print(line(what, _s(with_ways), _s(without), ratio, "<= 1.5"))
            for door, seconds in ((True, with_ways), (False, without)):
                fewest = first.setdefault((crowded, door), seconds / boxes)
                ways = ", with ways out" if door else ""
                what = f"  time a box{ways} / of the fewest"
                ends = [f"{each * 1e6:.0f} us" for each in (seconds / boxes, fewest)]
                ratio = f"{seconds / boxes / fewest:.2f}"
                _print(line(what, *ends, ratio, "about 1"))
    items = 1_000 if quick else 10_000
    reading, parsing = reading_times(items)
    what = f"reading {items} panelboards / libyaml's parse"
    ratio = f"{reading / parsing:.2f}"
    _print(line(what, _s(reading), _s(parsing), ratio, "<= 3"))
    for crowded, aim in ((False, "> 100"), (True, "-")):
        tried = 300 if quick else 3_000
        pairs = engine_against_all_pairs(1_000, tried, 3, crowded=crowded)
        kind = "a crowded" if crowded else "an orderly"
        what = f"all pairs of {pairs.solids} solids of {kind} hall / check"
        ratio = f"{pairs.ratio:.0f}"
        _print(line(what, _s(pairs.all_pairs), _s(pairs.engine), ratio, aim))
    _print(f"  ({pairs.pairs} pairs, worked out from {tried} drawn at random)")
    for count in (1_000_000,) if quick else (1_000_000, 10_000_000):
        found = measure(count)
        what = f"a query of a scan of {found.triangles} triangles / reading it"
        _print(line(what, "", "", f"{found.query:.3f}", "<= 0.2"))


def _s(seconds: float) -> str:
    return f"{seconds:.3f} s"


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
