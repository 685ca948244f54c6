"""Where the tests find the tree and its example rooms."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[1]
SCENES: Final = ROOT / "scenes"
GEAR: Final = SCENES / "gear.yaml"
"""A file of gear, which some of the rooms name, and no room itself."""
ROOMS: Final = tuple(file for file in sorted(SCENES.glob("*.yaml")) if file != GEAR)
LESSONS: Final = SCENES / "lessons"
