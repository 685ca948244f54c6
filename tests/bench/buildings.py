"""Print what a building model costs: ``python -m tests.bench.buildings``; ``--quick``.

Processor time of this process, which does what the reader of ``import`` does in one of
its own, against the library's opening of the same file, which nobody can spare.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from model3d.exchange.ifc.file.opening import opened
from model3d.exchange.ifc.file.reader import read_building
from tests.bench.least import least
from tests.exchange.ifc.written_models import Model


@dataclass(frozen=True, slots=True)
class Reading:
    """What reading a model costs, in seconds of the processor.

    Attributes:
        elements: Boxes that were read.
        reading: Of all: opening, shapes, properties.
        opening: Of opening the file alone.
    """

    elements: int
    reading: float
    opening: float

    @property
    def ratio(self) -> float:
        """How many times longer all of it takes than opening."""
        return self.reading / self.opening


def reading_against_opening(elements: int, folder: Path, repeats: int = 3) -> Reading:
    """Write a model of so many boxes, each with properties, and read it."""
    model = Model()
    model.room()
    for number in range(elements):
        at = (20 + number % 100, 20 + number // 100, 0)
        one = model.put("IfcBuildingElementProxy", f"B{number}", at, (0.5, 0.4, 0.3))
        model.say(one, "Pset_Bench", Reference=("IfcIdentifier", f"T{number % 7}"))
    path = model.write(folder / f"{elements}.ifc")
    found = read_building([path], lambda _: None)
    count = sum(one.name.startswith("B") for one in found.elements)
    assert count == elements
    reading = least(lambda: read_building([path], lambda _: None), repeats)
    return Reading(elements, reading, least(lambda: opened(path), repeats))


_LINE: Final = "{:<58} {:>12} {:>12} {:>8}\n"


def main() -> None:
    """Measure in this one run and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a small run")
    sizes = (200, 800) if parser.parse_args().quick else (500, 2_000)
    sys.stdout.write(_LINE.format("measured", "this", "against", "ratio"))
    with tempfile.TemporaryDirectory() as name:
        for size in sizes:
            one = reading_against_opening(size, Path(name))
            cells = (f"{one.reading:.2f} s", f"{one.opening:.2f} s", f"{one.ratio:.1f}")
            what = f"reading a building of {size} elements / opening its file"
            sys.stdout.write(_LINE.format(what, *cells))


if __name__ == "__main__":
    main()
