"""Where the tests find the tree and its example rooms."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[1]
SCENES: Final = ROOT / "scenes"
LESSONS: Final = SCENES / "lessons"
