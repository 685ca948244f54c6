"""Supply systems as lists of equipment write them."""

from __future__ import annotations

import math
import re
from typing import Final

from model3d.scene.parts.supply import to_ground

_PHASES: Final = re.compile(
    r"[-/]\s*[13]\s*[-/]\s*[56]0(?:\s*hz)?\b|\b[13][\s-]*(?:phase|ph|p|\u00f8|\u03c6)\b|\b[2-5][\s-]*(?:wire|w)\b|\b[56]0\s*hz\b"
)
_TWO: Final = re.compile(
    r"(\d[^-:>]*?)(?:\s*-\s*|\s*:\s*|\s*-?>\s*|\s+to\s+)(\d[^-:>]*)"
)
"""The voltages of the two sides of a transformer."""
_ROOT3: Final = math.sqrt(3)
_ROUNDING: Final = 0.05
"""Nominal voltages are rounded: 400 and 230 are both 1 to the root of 3."""


def system_of(text: str) -> str:
    """Return a supply system as a scene writes it.

    Raises:
        ValueError: It is none; the message says what would be right.

    >>> system_of("480Y/277V, 3PH, 4W"), system_of("125VDC"), system_of("12.47Y/7.2 kV")
    ('480Y/277', '125 dc', '12.47Y/7.2 kV')

    Of gear of two voltages, such as a transformer, it is the one with the higher.

    >>> system_of("480-208Y/120V"), system_of("480V/3/60"), system_of("13kV-480Y/277")
    ('480', '480', '13kV')
    """
    plain = _PHASES.sub(" ", text.casefold()).replace(",", " ")
    plain = re.sub(r"\u0394|\u03b4|\u2206", " delta", plain)
    plain = re.sub(r"(?<=\d)\s*v?(ac|dc)\b", r" \1", plain)
    plain = re.sub(r"\b(volts?|v)\b", " ", plain)
    plain = re.sub(r"(?<=[\dy])\s*v(?=[\s/:>-]|$)", "", " ".join(plain.split()))
    plain = " ".join(plain.split()).replace("y/", "Y/").replace("kv", "kV")
    if ends := _TWO.fullmatch(plain):
        sides = [*ends.groups()]
        if {*"Y/"} & {*sides[1]} or _conductors(sides[0]) > _conductors(sides[1]):
            plain = max(sides, key=_conductors)
    to_ground(plain)
    return plain


def system_of_volts(line: float, ground: float | None) -> str:
    """Return the system of the voltages between conductors and to ground.

    >>> system_of_volts(480, 277), system_of_volts(240, 120), system_of_volts(480, None)
    ('480Y/277', '240/120', '480')
    """
    if ground is None:
        return f"{line:g}"
    wye = abs(line - ground * _ROOT3) < line * _ROUNDING
    return f"{line:g}{'Y' if wye else ''}/{ground:g}"


def _conductors(system: str) -> float:
    """Return the first voltage of a system, in volts."""
    first = re.match(r"[\d.]+", system)
    return float(first[0]) * (1000 if "kV" in system else 1) if first else 0.0
