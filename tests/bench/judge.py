"""How long the page takes to judge an item that is moved among very many solids.

Run ``python -m tests.bench.judge``. Times are elapsed time in node, the same engine as
that of the browser the tests use.
"""

from __future__ import annotations

import sys
from typing import Final

from tests.bench.halls import hall
from tests.viewer.page.judging import Asked, Way, judged

REPEATS: Final = 20
_TENTHS: Final = 10


def judging_time(solids: int, *, crowded: bool = True) -> float:
    """Return milliseconds for a judgement of a moved item of a hall.

    A gear and a box before one are moved by turns, to thirty places each; of many
    rounds the quickest counts.
    """
    asked = Asked(hall(solids, crowded=crowded))
    gear = next(one.id for one in asked.scene.items if one.supply)
    box = next(one.id for one in asked.scene.items if one.kind == "furniture")
    tries: list[tuple[str, Way]] = [
        (name, (step * 40 * _TENTHS, -step * 20 * _TENTHS, 0))
        for step in range(1, 31)
        for name in (gear, box)
    ]
    return float(judged(asked, tries, repeat=REPEATS)["each"])


def main() -> None:
    """Measure and print."""
    for solids in (50, 200, 1000):
        each = judging_time(solids)
        sys.stdout.write(f"{solids:>5} solids: {each:.2f} ms a judgement (aim: 4)\n")


if __name__ == "__main__":
    main()
