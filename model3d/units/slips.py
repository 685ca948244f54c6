"""What was probably meant by text that is no length: a guess to be told, never taken.

The slips are common practice: words for units, a comma for a point, inches without
their mark, centimetres.
"""

from __future__ import annotations

import re
from typing import Final

_SIGNS: Final = str.maketrans(
    {
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{ACUTE ACCENT}": "'",
        "`": "'",
        "\N{NO-BREAK SPACE}": " ",
        "\N{EN DASH}": "-",
        "\N{MINUS SIGN}": "-",
        "\N{VULGAR FRACTION ONE HALF}": " 1/2",
        "\N{VULGAR FRACTION ONE QUARTER}": " 1/4",
        "\N{VULGAR FRACTION THREE QUARTERS}": " 3/4",
        "\N{NON-BREAKING HYPHEN}": "-",
    }
)
_UNITS: Final = {
    "mm": r"mm|millimet(?:er|re)s?",
    "cm": r"cm|centimet(?:er|re)s?",
    "m": r"m|met(?:er|re)s?",
    "in": r"in|ins|inch|inches|\"|''",
    "ft": r"ft|feet|foot|'",
}
_NUMBER: Final = r"(?:\d+\s+\d{1,2}/\d{1,3}|\d{1,2}/\d{1,3}|\d+(?:[.,]\d+)?)"
_IN: Final = _UNITS["in"]
_PART: Final = "|".join(f"(?P<{unit}>{words})" for unit, words in _UNITS.items())
_ONE: Final = re.compile(
    rf"(?P<sign>[-+]?)(?P<n>{_NUMBER})\s*(?:{_PART})?\.?", re.ASCII
)
_FEET: Final = re.compile(
    rf"(?P<sign>[-+]?)(?P<ft>\d+)\s*(?:{_UNITS['ft']})\.?\s*(?:-|and|,)?\s*"
    rf"(?P<in>{_NUMBER})\s*(?:{_IN})?\.?"
    # 6-6, and 6-6 1/2": whoever writes so means feet and inches.
    rf"|(?P<feet>\d{{1,2}})-(?P<rest>(?:\d|1[01])(?:\s+\d{{1,2}}/\d{{1,3}})?)(?:{_IN})?",
    re.ASCII,
)
_SPACED: Final = re.compile(r"([-+]?[1-9]\d{0,2}(?:[ '_]\d{3})+)\s*(mm|m|in|ft)?")
"""Thousands that are parted by another sign than a comma."""
_GROUPED: Final = re.compile(r"[1-9]\d{0,2},\d{3}")
_CM: Final = "cm"


def meant(text: str) -> str | None:
    r"""Return what would be right in the place of a miswritten length, or None.

    >>> meant("3'6"), meant("3 feet"), meant("0,9 m"), meant("90 cm"), meant("36 in.")
    ('3 ft 6 in', '3 ft', '0.9 m', '900 mm', '36 in')
    >>> meant("1,500 mm"), meant("900 MM"), meant("about 900")
    ('1500 mm, or 1.500 mm with a point', '900 mm', None)
    >>> meant("6-6"), meant("1 500 mm"), meant("36\N{VULGAR FRACTION ONE HALF} in")
    ('6 ft 6 in', '1500 mm', '36 1/2 in')
    """
    words = text.translate(_SIGNS).strip().casefold()
    if words[:1] == '"' == words[-1:]:
        words = words[1:-1]
    if match := _SPACED.fullmatch(words):
        return f"{re.sub(r'[^-+0-9]', '', match[1])} {match[2] or ''}".strip()
    if match := _FEET.fullmatch(words):
        if match["feet"]:
            return f"{match['feet']} ft {match['rest']} in"
        inches = _pointed(match["in"])
        return (
            None if inches is None else f"{match['sign']}{match['ft']} ft {inches} in"
        )
    match = _ONE.fullmatch(words)
    if match is None:
        return None
    unit = next((name for name in _UNITS if match[name]), "")
    if _GROUPED.fullmatch(match["n"]):
        whole, pointed = match["n"].replace(",", ""), match["n"].replace(",", ".")
        if unit == _CM:
            return None
        ends = [f"{match['sign']}{one} {unit}".strip() for one in (whole, pointed)]
        return f"{ends[0]}, or {ends[1]} with a point"
    number = _pointed(match["n"])
    if number is not None and unit == _CM:
        if "/" in number:
            return None
        number, unit = (
            f"{round(float(number) * 10, 6):.6f}".rstrip("0").rstrip("."),
            "mm",
        )
    return None if number is None else f"{match['sign']}{number} {unit}".strip()


def _pointed(number: str) -> str | None:
    """Return a number with a point; None where nobody can tell what a comma is."""
    return None if _GROUPED.fullmatch(number) else number.replace(",", ".")
