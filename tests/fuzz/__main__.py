"""Try to break the product for a while: ``python -m tests.fuzz --minutes N --seed S``.

Parts that try to break it make examples from numbers drawn by chance, and say what is
wrong with each; a failure is made smaller as long as the same is wrong, and saved as a
case in tests/fuzz/cases, which the tests look at ever after.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter
from typing import Final

from tests.fuzz import commands, contact, exchange, meshes, more_room, relations, scenes
from tests.fuzz.part import Part, save, shrunk

PARTS: Final[dict[str, Part]] = {
    "scenes": scenes,
    "commands": commands,
    "relations": relations,
    "more-room": more_room,
    "contact": contact,
    "meshes": meshes,
    "exchange": exchange,
}


def main() -> int:
    """Run the parts in turn and return the exit status: 0 where nothing broke."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--minutes", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--part", choices=(*PARTS,), action="append")
    arguments = parser.parse_args()
    names = arguments.part or [*PARTS]
    end = time.monotonic() + 60 * arguments.minutes
    done: Counter[str] = Counter()
    broken: set[str] = set()
    number = arguments.seed * 10**9
    while time.monotonic() < end:
        for name in names:
            number += 1
            done[name] += 1
            # Each example can be made again by itself.
            made = PARTS[name].example(random.Random(number))  # noqa: S311
            if wrong := PARTS[name].wrong(made):
                kind = f"{name}: {wrong.partition(':')[0]}"
                if kind not in broken:
                    broken.add(kind)
                    _tell(f"{number}: {kind}\n  {wrong[:300]}\n")
                    less = shrunk(PARTS[name], made)
                    file = save(name, less, PARTS[name].wrong(less))
                    _tell(f"  {file}\n")
    for name in names:
        _tell(f"{name}: {done[name]} examples\n")
    return 1 if broken else 0


def _tell(words: str) -> None:
    sys.stdout.write(words)
    sys.stdout.flush()


if __name__ == "__main__":
    raise SystemExit(main())
