"""A room with a panelboard, before which heaps of shells are put; invented."""

from __future__ import annotations

from typing import Final

ROOM: Final = """\
title: A
units: m
rules: nec-2023
room:
  size: [4, 3]
  height: 3
  walls: {north: gypsum, east: gypsum, south: gypsum, west: gypsum}
  doors:
    - {id: D1, wall: south, along: 2.5, width: 0.9, height: 2.1, opens: out}
items:
  - id: P
    kind: panelboard
    size: [0.6, 0.2, 0.9]
    place: {wall: north, along: 1, bottom: 0.9}
    supply: {system: 208Y/120, amps: 100}
"""
