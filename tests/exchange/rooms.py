"""A room of which something is not met, as it comes from a model far from here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.scene.text.reader import read_text

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene

PANEL = "0panel0000000000000000"
TANK = "0tank00000000000000000"

TEXT = f"""\
title: Harbour works
units: m
rules: nec-2023
origin: [100, 200, 3]
room:
  size: [5, 4]
  height: 3
  doors: [{{id: D1, wall: south, along: 1, width: 0.9, height: 2.1, opens: out,
    hinge: left}}]
items:
  - id: LP1
    kind: panelboard
    size: [0.6, 0.2, 0.9]
    place: {{wall: north, along: 2, bottom: 0.9}}
    supply: {{system: 208Y/120, amps: 100}}
    door: left
    guid: {PANEL}
  - id: Tank
    kind: machine
    size: [0.8, 0.8, 1.2]
    place: {{at: [2.3, 2.8], facing: south}}
    guid: {TANK}
  - id: Crate
    kind: storage
    size: [0.2, 0.2, 0.3]
    place: {{at: [2.1, 3.4], facing: south}}
"""
"""The tank's north side is at 3.2, the panel's front at 3.8: 0.6 m is clear."""


def crowded(folder: Path) -> Scene:
    return read_text(TEXT, folder / "room.yaml")


def copied(folder: Path) -> Scene:
    """Return the same room with a copy of the tank, which has its GlobalId too."""
    copy = f"""\
  - id: Copy
    kind: machine
    size: [0.2, 0.2, 1.2]
    place: {{at: [2.5, 3.5], facing: south}}
    guid: {TANK}
"""
    return read_text(TEXT + copy, folder / "room.yaml")


def free(folder: Path) -> Scene:
    """Return the same room with nothing in the way."""
    return read_text(TEXT[: TEXT.index("  - id: Tank")], folder / "room.yaml")
