"""What every example room must show."""

from __future__ import annotations

from typing import Final

from tests.scenes.ordinary_rooms import ORDINARY
from tests.scenes.special_rooms import SPECIAL

STORIES: Final = {**ORDINARY, **SPECIAL}
