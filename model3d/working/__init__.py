"""The working space an item needs.

Several rules start from it: the working space itself, its floor, the way out of it.
"""

from __future__ import annotations

from model3d.working.box import working_space
from model3d.working.front import faces, is_high_voltage
from model3d.working.needs import Needs, needs

__all__ = [
    "Needs",
    "faces",
    "is_high_voltage",
    "needs",
    "working_space",
]
