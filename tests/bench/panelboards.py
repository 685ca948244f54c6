"""A long scene as text: panelboards in a row, each with two doors."""

from __future__ import annotations

HEAD = """\
title: Many panelboards
units: mm
rules: nec-2023
room:
  size: [64000, {wide}]
  height: 3000
  walls: {{north: concrete, east: concrete, south: gypsum, west: brick}}
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


def many_panelboards(items: int) -> str:
    """Write a scene of so many items."""
    wide = max(64_000, 10 * items + 1_000)
    rows = (ROW.format(n=n, along=n * 10) for n in range(items))
    return HEAD.format(wide=wide) + "".join(rows)
