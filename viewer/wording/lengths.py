"""Lengths for people: the scene's own system first, the other in brackets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.units import feet_inches, millimetres

if TYPE_CHECKING:
    from model3d import Report

INCH_POUND: Final = frozenset({"in", "ft"})
"""The units of scenes whose lengths are written in feet and inches."""


def units_of(report: Report) -> str:
    """Return the unit that a report's scene is written in."""
    return report.arrangement.scene.units if report.arrangement else "mm"


def own(metres: float, units: str) -> str:
    """Write a length in the system of ``units``.

    >>> own(0.762, "mm"), own(0.762, "ft"), own(0.0005, "in")
    ('762 mm', '2 ft 6 in', 'under 1/16 in')
    """
    return _feet_inches(metres) if units in INCH_POUND else _millimetres(metres)


def other(metres: float, units: str) -> str:
    """Write a length in the system that is not that of ``units``."""
    return _millimetres(metres) if units in INCH_POUND else _feet_inches(metres)


def both(metres: float, units: str) -> str:
    """Write a length in both systems, that of ``units`` first.

    >>> both(0.762, "m"), both(0.762, "in")
    ('762 mm (2 ft 6 in)', '2 ft 6 in (762 mm)')
    """
    return f"{own(metres, units)} ({other(metres, units)})"


# What is short by too little to be written is short all the same: never "0 in".


def _feet_inches(metres: float) -> str:
    text = feet_inches(metres)
    return "under 1/16 in" if metres > 0 and text == "0 in" else text


def _millimetres(metres: float) -> str:
    text = millimetres(metres)
    return "under 0.1 mm" if metres > 0 and text == "0 mm" else text
