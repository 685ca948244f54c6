"""Lengths as people write them, in metres and back: the only conversion there is."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Final, Literal

Unit = Literal["mm", "m", "in", "ft"]

METRES: Final[dict[str, float]] = {"mm": 0.001, "m": 1.0, "in": 0.0254, "ft": 0.3048}
"""Metres in one unit. The inch is 25.4 mm exactly (ISO 80000-3)."""

_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)"
_BARE = re.compile(rf"^(?P<sign>[-+]?)\s*(?P<n>{_NUMBER})$")
_ONE = re.compile(rf"^(?P<sign>[-+]?)\s*(?P<n>{_NUMBER})\s*(?P<unit>mm|m|in|ft|'|\")$")
_FEET_INCHES = re.compile(
    rf"^(?P<sign>[-+]?)\s*(?P<ft>\d+)\s*(?:ft|')\s*-?\s*(?P<in>{_NUMBER})\s*(?:in|\")$"
)
_MARKS = {"'": "ft", '"': "in"}
_LONGEST = 1e6


class LengthError(ValueError):
    """What is written is no length; the message says what would be."""


def check_length(
    value: object, *, above_zero: bool = False, not_below_zero: bool = False
) -> float | str:
    """Return the length as it was written, or say what is wrong with it.

    Raises:
        LengthError: It is no length, not finite, or has the wrong sign.

    >>> check_length("6'-6 1/2\\"")
    '6\\'-6 1/2"'
    """
    metres = to_metres(value, "mm")
    if above_zero and metres <= 0:
        msg = "a length above zero"
        raise LengthError(msg)
    if not_below_zero and metres < 0:
        msg = "a length of zero or more"
        raise LengthError(msg)
    return value.strip() if isinstance(value, str) else float(value)  # type: ignore[arg-type]


def to_metres(value: object, unit: str) -> float:
    """Return a written length in metres; a bare number is in ``unit``.

    Raises:
        LengthError: It is no length that is known here.

    >>> to_metres(762, "mm"), to_metres("30 in", "mm"), to_metres("6 ft 6 in", "mm")
    (0.762, 0.762, 1.9812)
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        msg = 'a length such as 762, "30 in" or "6 ft 6 in"'
        raise LengthError(msg)
    if isinstance(value, str):
        return _written(value.strip(), unit)
    return _finite(float(value), unit)


def _finite(number: float, unit: str) -> float:
    # Dividing keeps whole millimetres exact to the last digit (0.762, not 0.762000…1).
    metres = number / 1000 if unit == "mm" else number * METRES[unit]
    if not math.isfinite(metres) or abs(metres) > _LONGEST:
        msg = "a finite length"
        raise LengthError(msg)
    return metres


def _written(text: str, unit: str) -> float:
    if match := _BARE.match(text):
        metres = _finite(_number(match["n"]), unit)
    elif match := _ONE.match(text):
        metres = _finite(_number(match["n"]), _MARKS.get(match["unit"], match["unit"]))
    elif match := _FEET_INCHES.match(text):
        metres = _finite(12 * int(match["ft"]) + _number(match["in"]), "in")
    else:
        msg = 'a length such as 762, "30 in", "6 ft 6 1/2 in" or "6\'-6 1/2\\""'
        raise LengthError(msg)
    return -metres if match["sign"] == "-" else metres


def _number(text: str) -> float:
    try:
        return float(sum(Fraction(part) for part in text.split()))
    except ZeroDivisionError:
        msg = "a fraction with a denominator above zero"
        raise LengthError(msg) from None


def feet_inches(metres: float, *, sixteenths: int = 16) -> str:
    """Write a length in feet and inches, to the nearest sixteenth of an inch.

    >>> feet_inches(1.9939)
    '6 ft 6 1/2 in'
    >>> feet_inches(0.762), feet_inches(-0.05)
    ('2 ft 6 in', '-1 15/16 in')
    """
    steps = round(abs(metres) / METRES["in"] * sixteenths)
    feet, rest = divmod(steps, 12 * sixteenths)
    whole, part = divmod(rest, sixteenths)
    inches = " ".join(
        word
        for word in (
            str(whole) if whole or not part else "",
            str(Fraction(part, sixteenths)) if part else "",
        )
        if word
    )
    sign = "-" if metres < 0 and steps else ""
    if not feet:
        return f"{sign}{inches} in"
    return f"{sign}{feet} ft" + (f" {inches} in" if rest else "")


def millimetres(metres: float) -> str:
    """Write a length in whole millimetres, in tenths where that is not exact.

    >>> millimetres(0.762), millimetres(0.0254)
    ('762 mm', '25.4 mm')
    """
    value = round(metres * 1000, 1)
    return f"{value:.0f} mm" if value == round(value) else f"{value} mm"
