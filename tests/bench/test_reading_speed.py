"""Reading a scene costs less than parsing its YAML without libyaml."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest
import yaml

from model3d.scene.text.reader import read_text

if TYPE_CHECKING:
    from collections.abc import Callable

HEAD = """\
title: Many panelboards
units: mm
rules: nec-2023
room:
  size: [64000, 42000]
  height: 3000
  walls: {north: concrete, east: concrete, south: gypsum, west: brick}
items:
"""
ROW = """\
  - id: LP{n}
    kind: panelboard
    size: [500, 150, 900]
    place: {{wall: west, along: {along}, bottom: 900}}
    supply: {{system: 208Y/120, amps: 200}}
    doors:
      - {{hinge: left, width: 250}}
      - {{hinge: right, width: 250, offset: 250}}
"""


def _best(work: Callable[[], object], rounds: int) -> float:
    """Return the least processor time: other work on the machine does not count."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def _text(items: int) -> str:
    return HEAD + "".join(ROW.format(n=n, along=n * 10) for n in range(items))


@pytest.mark.bench
def test_checking_costs_less_than_parsing() -> None:
    text = _text(30)
    parsing = _best(lambda: [*yaml.parse(text, Loader=yaml.BaseLoader)], 5)
    assert _best(lambda: read_text(text, "many.yaml"), 5) < parsing


@pytest.mark.bench
def test_ten_times_the_items_take_ten_times_as_long() -> None:
    small, large = _text(30), _text(300)
    few = _best(lambda: read_text(small, "few.yaml"), 3)
    assert _best(lambda: read_text(large, "many.yaml"), 3) < 20 * few
