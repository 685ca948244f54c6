"""Every tolerance there is, with its reason."""

from __future__ import annotations

from typing import Final

TOUCH: Final = 1e-4
"""Metres. An overlap thinner than 0.1 mm is contact: no drawing is finer than that."""

SLACK: Final = 0.005
"""Metres. Drawings lay things in one another by as little as this without meaning it:
a unit set into plaster, a pipe through a lining."""

SAGITTA: Final = 1e-5
"""Metres. How far a many-sided prism may differ from the round it stands for."""

ARC: Final = 5e-5
"""Metres. The same for the round of a door: only volumes and drawings ask for it,
angles are exact, and every side more costs time in the boolean engine."""

PARALLEL: Final = 1e-12
"""Sine of the angle below which two directions are one: rounding of a turn."""

WALL: Final = 4.0
"""Metres. How thick walls, floor and ceiling are made: more than the deepest space
of any rule book (12 ft), so that no required space reaches through one."""
