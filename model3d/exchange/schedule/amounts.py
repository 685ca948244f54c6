"""Numbers and lengths as lists write them: fractions, decimal commas, unit words."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.exchange.schedule.headings import UNIT_WORDS, unit_of
from model3d.scene.words.mistakes import found
from model3d.units import LengthError, from_metres, to_metres

if TYPE_CHECKING:
    from collections.abc import Iterable

Written = float | str

_UNIT: Final = re.compile(rf"(?<=[\d\s.])({'|'.join(UNIT_WORDS)})\b\.?")
_ALONE: Final = re.compile(r"([-+]?)\s*([\d., '\u00a0\u2009\u202f]*\d[.,]?)\s*(\w*)")
_COMMA_DECIDES: Final = re.compile(
    r"\d,(?:\d{1,2}|\d{4,})(?!\d)|\d\.\d{3},|(?<![\d.,])0,\d"
)
_DOT_DECIDES: Final = re.compile(
    r"\d\.(?:\d{1,2}|\d{4,})(?!\d)|\d,\d{3}\.|(?<![\d.,])0\.\d"
)
_SPACED: Final = re.compile(r"\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?![\d/])")
_THOUSANDS: Final = re.compile(r"[1-9]\d{0,2}(?:[.,]\d{3})+")
_EXAMPLES: Final = "a length with its unit: 762 mm, 30 in"
_MILLIMETRES_IN_CM: Final = 10


class AmountError(ValueError):
    """No number or length; the message says what would be right."""


class UnitError(AmountError):
    """A length without a unit, in its cell as in its heading."""


@dataclass(frozen=True, slots=True)
class NumberSigns:
    """How a list writes its numbers.

    Attributes:
        comma: Some number in it can only be one with a decimal comma.
        dot: Some number in it can only be one with a decimal point.
    """

    comma: bool
    dot: bool


def signs_of(cells: Iterable[str]) -> NumberSigns:
    """Tell from the numbers of a list how it writes them."""
    texts = [cell for cell in cells if any(one.isdigit() for one in cell)]
    return NumberSigns(
        any(_COMMA_DECIDES.search(text) for text in texts),
        any(_DOT_DECIDES.search(text) for text in texts),
    )


def number(text: str, signs: NumberSigns, *, whole: bool = False) -> float:
    """Return a number.

    Args:
        text: As it is written.
        signs: How the list writes numbers.
        whole: It is never given to the thousandth, so 1,200 is 1200, and 1.200 may be.

    Raises:
        AmountError: It is none, or may be two.

    >>> point, comma = NumberSigns(True, False), NumberSigns(False, True)
    >>> plain = NumberSigns(False, False)
    >>> number("1.234,5", point), number("1,5", point)
    (1234.5, 1.5)
    >>> number("1,200", comma), number("1 200", plain)
    (1200.0, 1200.0)
    >>> number("0,146", plain), number("1.250", plain)
    (0.146, 1.25)
    >>> number("1.200", plain, whole=True)
    Traceback (most recent call last):
    model3d.exchange.schedule.amounts.AmountError: 1200 or 1.2: it may be either
    >>> number("1,200", plain)
    Traceback (most recent call last):
    model3d.exchange.schedule.amounts.AmountError: 1200 or 1.2: it may be either
    """
    plain = text.strip()
    if spaced := _SPACED.match(plain):
        joined = re.sub(r"\D", "", spaced[0])
        plain = joined + plain[spaced.end() :]
    last = max(plain.rfind(","), plain.rfind("."))
    if last >= 0:
        plain = _with_point(plain, plain[last], signs, whole=whole)
    try:
        return float(plain)
    except ValueError:
        msg = "a number"
        raise AmountError(msg) from None


def _with_point(plain: str, last: str, signs: NumberSigns, *, whole: bool) -> str:
    beside = "." if last == "," else ","
    if beside in plain:  # both: the last one is before the decimals
        return plain.replace(beside, "").replace(last, ".")
    if plain.count(last) > 1 and _THOUSANDS.fullmatch(plain):
        return plain.replace(last, "")
    decimal = signs.comma if last == "," else signs.dot
    grouping = signs.dot if last == "," else signs.comma
    if not _THOUSANDS.fullmatch(plain):
        return plain.replace(last, ".")
    if (grouping or (whole and last == ",")) and not decimal:
        return plain.replace(last, "")
    usual = last == "." and not signs.comma and (signs.dot or not whole)
    if (decimal and not grouping and not whole) or usual:
        return plain.replace(last, ".")
    one, other = plain.replace(last, ""), float(plain.replace(last, "."))
    msg = f"{one} or {other:g}: it may be either"
    raise AmountError(msg)


def length(text: str, unit: str | None, units: str, signs: NumberSigns) -> Written:
    r"""Return a length as a scene writes it: bare in its units, else with its own.

    Args:
        text: The cell.
        unit: What a bare number means, if the heading says so.
        units: Of the scene.
        signs: How the list writes numbers.

    Raises:
        AmountError: It is no length, or has no unit.

    >>> plain = NumberSigns(False, False)
    >>> length("508 mm", None, "mm", plain), length("20", "in", "mm", plain)
    (508.0, '20 in')
    >>> length("2' 6½\"", "mm", "mm", plain), length("50,8 cm", None, "mm", plain)
    ('2 ft 6 1/2 in', 508.0)
    >>> length("30", None, "mm", plain)
    Traceback (most recent call last):
    model3d.exchange.schedule.amounts.UnitError: a length with its unit: 762 mm, 30 in
    """
    plain = _plain(text)
    alone = _ALONE.fullmatch(plain)
    if alone is None:
        _tested(plain, "mm")  # what a scene takes for a length has no need of a unit
        if re.fullmatch(r"[-+]?[\d\s./]+", plain):  # a fraction without a unit
            plain = f"{plain} {_needed(unit)}"
        return plain
    sign, digits, word = alone.groups()
    own = unit_of(word) if word else _needed(unit)
    if own is None:
        msg = f"a length with mm, cm, m, in or ft, not {found(word)}"
        raise AmountError(msg)
    value = number(digits, signs, whole=own == "mm") * (-1 if sign == "-" else 1)
    if own == "cm":
        own, value = "mm", round(value * _MILLIMETRES_IN_CM, 6)
    _tested(value, own)
    written = value if own == units else f"{value:.12g} {own}"
    _tested(written, units)
    return written


def _tested(written: Written, units: str) -> None:
    """Raise an ``AmountError`` where a scene takes something for no length."""
    try:
        to_metres(written, units)
    except LengthError as error:
        said = _EXAMPLES if "such as" in str(error) else str(error)
        raise AmountError(said) from None


def metres(written: Written, units: str) -> float:
    """Return a written length in metres."""
    return to_metres(written, units)


def bare(value: float, units: str) -> float:
    """Return metres as the bare number that a scene writes."""
    return from_metres(value, units)


def _needed(unit: str | None) -> str:
    if unit is None:
        raise UnitError(_EXAMPLES)
    return unit


def _plain(text: str) -> str:
    """Return a cell with the signs and words that lengths of a scene have.

    >>> _plain("20-3/4 Inches"), _plain("2'-6''"), _plain("5¾ in.")
    ('20 3/4 in', '2 ft 6 in', '5 3/4 in')
    """
    halves = "".join(_fraction(one) for one in text)
    plain = halves.translate({0x2032: "'", 0x2019: "'", 0x2033: '"', 0x201D: '"'})
    plain = plain.replace("''", '"').casefold().strip()
    plain = plain.replace("'", " ft ").replace('"', " in ")
    plain = re.sub(r"(\d)\s*-\s*(\d+/\d)", r"\1 \2", plain)
    plain = _UNIT.sub(lambda one: f" {unit_of(one[1])} ", plain)
    plain = re.sub(r"(?<=ft)\s*-\s*", " ", plain)
    return " ".join(re.split(r" +", plain)).strip()


def _fraction(one: str) -> str:
    kind, _, parts = unicodedata.decomposition(one).partition(" ")
    if kind != "<fraction>":
        return one
    return f" {''.join(chr(int(code, 16)) for code in parts.split())}".replace(
        "\u2044", "/"
    )
