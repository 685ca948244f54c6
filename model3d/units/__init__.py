"""Lengths as people write them, in metres and back: the only conversion there is."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Final

from model3d.units.slips import meant

METRES: Final[dict[str, float]] = {"mm": 0.001, "m": 1.0, "in": 0.0254, "ft": 0.3048}
"""Metres in one unit. The inch is 25.4 mm exactly (ISO 80000-3)."""

_TENTHS_OF_MM: Final = {"mm": 10, "m": 10_000, "in": 254, "ft": 3048}

_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)"
_BARE = re.compile(rf"(?P<sign>[-+]?)\s*(?P<n>{_NUMBER})", re.ASCII)
_ONE = re.compile(
    rf"(?P<sign>[-+]?)\s*(?P<n>{_NUMBER})\s*(?P<unit>mm|m|in|ft|'|\")", re.ASCII
)
_FEET_INCHES = re.compile(
    rf"(?P<sign>[-+]?)\s*(?P<ft>\d+)\s*(?:ft|')\s*-?\s*(?P<in>{_NUMBER})\s*(?:in|\")",
    re.ASCII,
)
_MARKS: Final = {"'": "ft", '"': "in"}
_TYPOGRAPHIC: Final = str.maketrans(
    {"\N{PRIME}": "'", "\N{DOUBLE PRIME}": '"', "\N{RIGHT SINGLE QUOTATION MARK}": "'"}
    | {"\N{RIGHT DOUBLE QUOTATION MARK}": '"'}
)
FARTHEST: Final = 1e7
"""Metres; models come with the coordinates of a country's grid, and no further."""
_FARTHEST_TENTHS: Final = FARTHEST * 10_000
"""The same in tenths of a millimetre."""
_SURELY_SHORT: Final = 1e6
"""A bare number below this is short enough in any unit."""
_LONGEST_TEXT: Final = 60
_FINEST: Final = 128
"""The largest denominator: beyond, the stroke stands between two lengths."""
_TOLD_PARTS: Final = 16
"""An inch is told in so many parts."""
Rounding = Callable[[float], int]
"""round, math.floor or math.ceil."""
_DECIMALS: Final = {"mm": 8, "m": 10, "in": 10, "ft": 10}
"""Kept when a length is written: finer than a nanometre, coarser than a float."""


class LengthError(ValueError):
    """What is written is no length; the message says what would be right."""


def check_length(
    value: object, *, above_zero: bool = False, not_below_zero: bool = False
) -> float | str:
    r"""Return the length as it was written, or say what would be right.

    Text is stripped, a number becomes a float; the unit is left as it is.

    Raises:
        LengthError: It is no length, not finite, or has the wrong sign.

    >>> check_length("6'-6 1/2\"")
    '6\'-6 1/2"'
    >>> check_length(-3, above_zero=True)
    Traceback (most recent call last):
    model3d.units.LengthError: a length above zero
    """
    if (type(value) is int or type(value) is float) and 0 < value < _SURELY_SHORT:
        return float(value)
    # What a bare number means is not known here; it is too long by no unit if it is
    # not in the shortest one. The checks of a scene, which know, look at it again.
    metres = to_metres(value, "mm")
    if above_zero and metres <= 0:
        msg = "a length above zero"
        raise LengthError(msg)
    if not_below_zero and metres < 0:
        msg = "a length of zero or more"
        raise LengthError(msg)
    if isinstance(value, str):
        return value.strip()
    return float(value)  # type: ignore[arg-type]


def to_metres(value: object, unit: str) -> float:
    r"""Return a written length in metres; a bare number is in ``unit``.

    Raises:
        LengthError: It is no length that is known here.

    >>> to_metres(762, "mm"), to_metres("30 in", "mm"), to_metres("6 ft 6 in", "mm")
    (0.762, 0.762, 1.9812)
    >>> to_metres("30", "in"), to_metres("-1/2 in", "mm"), to_metres("7'-0\"", "mm")
    (0.762, -0.0127, 2.1336)
    """
    if type(value) is int or type(value) is float:
        # A million times in a large scene: no call for what is no mistake.
        tenths = value * _TENTHS_OF_MM[unit]
        if -_FARTHEST_TENTHS <= tenths <= _FARTHEST_TENTHS:
            return tenths / 10_000
        return _finite(value, unit)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        msg = 'a length such as 762, "30 in" or "6 ft 6 in"'
        raise LengthError(msg)
    if isinstance(value, str):
        return _written(value.translate(_TYPOGRAPHIC).strip(), unit)
    return _finite(value, unit)


def from_metres(metres: float, unit: str) -> float:
    """Return a length as the bare number that means it in ``unit``.

    Rounded below a nanometre, so that 0.8 m is 800 mm and not 800.0000000000001 mm.

    >>> from_metres(0.762, "in"), from_metres(0.1 + 0.2, "mm")
    (30.0, 300.0)
    """
    return round(metres * 10_000 / _TENTHS_OF_MM[unit], _DECIMALS[unit])


def _finite(number: float, unit: str) -> float:
    tenths = _TENTHS_OF_MM[unit]
    if not -_FARTHEST_TENTHS <= number * tenths <= _FARTHEST_TENTHS:
        msg = "a finite length" if _endless(number) else "a length below 10000 km"
        raise LengthError(msg)
    # A whole number over another is exact to the last digit: 6 ft 6 in is 1.9812 m,
    # where 78 times 0.0254 is 1.9811999999999999.
    return number * tenths / 10_000


def _endless(number: float) -> bool:
    try:
        return not math.isfinite(number)
    except OverflowError:  # an integer of hundreds of digits
        return False


def _written(text: str, unit: str) -> float:
    match = None
    if len(text) <= _LONGEST_TEXT:
        match = _BARE.fullmatch(text) or _ONE.fullmatch(text)
        match = match or _FEET_INCHES.fullmatch(text)
    if match is None:
        near = meant(text) if len(text) <= _LONGEST_TEXT else None
        known = '762, "30 in", "6 ft 6 1/2 in" or "6\'-6 1/2\\""'
        msg = f"a length such as {near or known}"
        raise LengthError(msg)
    groups = match.groupdict()
    if "ft" in groups:
        metres = _finite(12 * int(groups["ft"]) + _number(groups["in"]), "in")
    else:
        word = groups.get("unit") or unit
        metres = _finite(_number(groups["n"]), _MARKS.get(word, word))
    return -metres if groups["sign"] == "-" else metres


def _number(text: str) -> float:
    try:
        parts = [Fraction(part) for part in text.split()]
    except ZeroDivisionError:
        msg = "a fraction with a denominator above zero"
        raise LengthError(msg) from None
    if "/" in text and int(text.rpartition("/")[2]) > _FINEST:
        msg = f"one length, or a fraction with a denominator up to {_FINEST}"
        raise LengthError(msg)
    return float(sum(parts))


def feet_inches(metres: float, rounded: Rounding = round) -> str:
    """Write a length in feet and inches, in sixteenths of an inch.

    Args:
        metres: The length.
        rounded: How it comes to whole sixteenths: to the nearest, or all one way.

    >>> feet_inches(1.9939)
    '6 ft 6 1/2 in'
    >>> feet_inches(0.762), feet_inches(-0.05)
    ('2 ft 6 in', '-1 15/16 in')
    >>> feet_inches(0.609), feet_inches(0.609, math.floor)
    ('2 ft', '1 ft 11 15/16 in')
    """
    steps = rounded(abs(metres) / METRES["in"] * _TOLD_PARTS)
    feet, rest = divmod(steps, 12 * _TOLD_PARTS)
    whole, part = divmod(rest, _TOLD_PARTS)
    inches = " ".join(
        word
        for word in (
            str(whole) if whole or not part else "",
            str(Fraction(part, _TOLD_PARTS)) if part else "",
        )
        if word
    )
    sign = "-" if metres < 0 and steps else ""
    if not feet:
        return f"{sign}{inches} in"
    return f"{sign}{feet} ft" + (f" {inches} in" if rest else "")


def millimetres(metres: float, rounded: Rounding = round) -> str:
    """Write a length in whole millimetres, in tenths where that is not exact.

    Args:
        metres: The length.
        rounded: How it comes to whole tenths: to the nearest, or all one way.

    >>> millimetres(0.762), millimetres(0.0254)
    ('762 mm', '25.4 mm')
    """
    value = rounded(metres * 10_000) / 10 + 0.0  # never "-0 mm"
    return f"{value:.0f} mm" if value == round(value) else f"{value} mm"
