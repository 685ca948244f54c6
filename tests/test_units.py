"""Lengths as people write them.

The inch is 25.4 mm and the foot 12 inches exactly (ISO 80000-3:2019, annex; NIST
Handbook 44, appendix C). The written forms are the scene format's; feet and inches with
a dash are how US drawings are dimensioned (common practice).
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model3d.units import (
    METRES,
    LengthError,
    check_length,
    feet_inches,
    from_metres,
    millimetres,
    to_metres,
)
from model3d.wording import lengths

LENGTHS = st.floats(-1e4, 1e4, allow_nan=False)
UNITS = st.sampled_from(sorted(METRES))


def test_the_inch_and_the_foot_are_exact() -> None:
    assert Fraction(str(METRES["in"])) == Fraction(254, 10_000)
    assert Fraction(str(METRES["ft"])) == 12 * Fraction(254, 10_000)


@pytest.mark.parametrize(
    ("written", "metres"),
    [
        # Soft conversions as the codes print them: 30 in 762 mm, 24 in 610 mm (609.6).
        ("30 in", 0.762),
        ("24 in", 0.6096),
        ("3 ft 6 in", 1.0668),
        ("6 1/2 ft", 1.9812),
        ("6.5 ft", 1.9812),
        ("6 ft 6 1/2 in", 1.9939),
        ("6'-6 1/2\"", 1.9939),
        ("6' 6 1/2\"", 1.9939),
        ("6'6.5\"", 1.9939),
        ("6\u2032-6\u2033", 1.9812),
        ('6\u2019-6"', 1.9812),
        ("6'", 1.8288),
        ('30"', 0.762),
        ("1/2 in", 0.0127),
        (".5 in", 0.0127),
        ("762 mm", 0.762),
        ("762mm", 0.762),
        ("0.9 m", 0.9),
        ("+1 m", 1.0),
        ("-25 mm", -0.025),
        ("-1 ft 6 in", -0.4572),
        ("- 1 m", -1.0),
        ("762", 0.762),
        (" 762 ", 0.762),
        (762, 0.762),
        (0.5, 0.0005),
        (-0.0, 0.0),
    ],
)
def test_written_forms(written: float | str, metres: float) -> None:
    assert to_metres(written, "mm") == metres


@pytest.mark.parametrize(
    ("written", "right"),
    [
        ("", "a length such as"),
        ("30 cm", "a length such as"),
        ("6 in 6 ft", "a length such as"),
        ("6 ft 6", "a length such as"),
        ("1e3 mm", "a length such as"),
        ("1,5 m", "a length such as"),
        ("--1 m", "a length such as"),
        ("1 m 2 m", "a length such as"),
        ("\u0663 m", "a length such as"),
        ("9" * 5000, "a length such as"),
        ("1/0 in", "a denominator above zero"),
        (True, "a length such as"),
        (None, "a length such as"),
        ([1], "a length such as"),
        (math.nan, "a finite length"),
        (math.inf, "a finite length"),
        (1e300, "a length below 10000 km"),
        (10**400, "a length below 10000 km"),
        ("99999999999 m", "a length below 10000 km"),
    ],
)
def test_what_is_no_length(written: object, right: str) -> None:
    with pytest.raises(LengthError, match=right):
        to_metres(written, "m")
    with pytest.raises(LengthError, match=right):
        check_length(written)


def test_signs() -> None:
    assert check_length(-3) == -3.0
    assert check_length(" -3 in ") == "-3 in"
    assert check_length(0, not_below_zero=True) == 0.0
    for bad in (0, "0 mm", -1, "-1 in"):
        with pytest.raises(LengthError, match="above zero"):
            check_length(bad, above_zero=True)
    with pytest.raises(LengthError, match="zero or more"):
        check_length("-1/16 in", not_below_zero=True)


@given(LENGTHS, UNITS)
def test_there_and_back(length: float, unit: str) -> None:
    back = from_metres(to_metres(length, unit), unit)
    assert back == pytest.approx(length, abs=1e-8)


@given(st.integers(-10_000, 10_000), UNITS)
def test_whole_numbers_come_back_exactly(length: int, unit: str) -> None:
    assert from_metres(to_metres(length, unit), unit) == length


@given(st.integers(-10_000, 10_000), st.integers(0, 11), st.integers(0, 15))
def test_sixteenths_come_back_exactly(feet: int, inches: int, part: int) -> None:
    exact = (abs(feet) * 12 + inches + Fraction(part, 16)) * Fraction(254, 10_000)
    metres = float(-exact if feet < 0 else exact)
    assert to_metres(feet_inches(metres), "mm") == pytest.approx(metres, abs=1e-12)


@given(LENGTHS)
def test_feet_and_inches_are_near(length: float) -> None:
    half_a_sixteenth = 0.0254 / 32
    assert abs(to_metres(feet_inches(length), "mm") - length) <= half_a_sixteenth + 1e-9


def test_feet_and_inches_of_nothing() -> None:
    assert feet_inches(0.0) == "0 in"
    assert feet_inches(-0.0001) == "0 in"
    assert feet_inches(0.3048) == "1 ft"
    assert feet_inches(0.3047) == "1 ft"


def test_millimetres_are_whole_where_they_can_be() -> None:
    assert millimetres(1.9812) == "1981.2 mm"
    assert millimetres(0.7619999) == "762 mm"
    assert millimetres(-0.01) == "-10 mm"


@pytest.mark.long
@given(st.floats(0.01, 20.0), st.floats(-0.005, 0.005), st.sampled_from(["mm", "in"]))
def test_what_differs_is_not_written_as_the_same(
    required: float, over: float, units: str
) -> None:
    there = required + over
    assume(abs(over) > 1e-5)
    told = lengths(there, units, required)
    for text, needed in zip(told, lengths(required, units), strict=True):
        told_over = to_metres(text, "mm") - to_metres(needed, "mm")
        assert (told_over > 0) == (over > 0) or text == needed
        # The same words only where the required figure itself was rounded further.
        rounded_away = abs(to_metres(needed, "mm") - required)
        assert text != needed or rounded_away >= abs(over) - 1e-9
