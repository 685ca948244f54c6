"""From the printed words of a length to a figure in both systems."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Annotated, Final, NamedTuple

from pydantic import PlainValidator, model_validator

from model3d.codebook.errors import BookError, wrong
from model3d.codebook.figures import PrintedFigure
from model3d.codebook.written.models import Checked, Marks, Section, Written
from model3d.units import LengthError, to_metres

if TYPE_CHECKING:
    from model3d.codebook.figures import System

_METRIC = re.compile(r".*\d\s*(mm|m)")
_INCH_POUND = re.compile(r".*\d\s*(ft|in|'|\")")
_LIKE: Final = 'a length such as "762 mm", "30 in" or "6 ft 6 in"'

_APART = 1.1
"""Printed pairs lie within 9 % (0.7 m and 2.5 ft); beyond it one is mistyped."""


class Printed(NamedTuple):
    """A length as one system prints it."""

    text: str
    metres: float


@cache
def _metres(text: str) -> float:
    # Editions print the same lengths again and again.
    return to_metres(text, "m")


def _printed(pattern: re.Pattern[str], unit: str) -> PlainValidator:
    def printed(raw: object) -> Printed:
        if not isinstance(raw, str) or not pattern.fullmatch(raw.strip()):
            raise wrong(raw, unit + _LIKE)
        try:
            metres = _metres(raw)
        except LengthError:
            raise wrong(raw, _LIKE) from None
        if metres <= 0:
            raise wrong(raw, "a length above zero")
        return Printed(raw.strip(), metres)

    return PlainValidator(printed)


Metric = Annotated[Printed, _printed(_METRIC, "in mm or m, ")]
InchPound = Annotated[Printed, _printed(_INCH_POUND, "in ft or in, ")]


class Length(Written):
    """A length, as one system prints it or under both of them."""

    si: Metric | None = None
    inch_pound: InchPound | None = None
    section: Section | None = None
    checked: Checked | None = None

    @model_validator(mode="before")
    @classmethod
    def _spelled_out(cls, raw: object) -> object:
        if isinstance(raw, dict):
            return raw
        metric = isinstance(raw, str) and _METRIC.fullmatch(raw.strip())
        return {"si" if metric else "inch_pound": raw}

    @model_validator(mode="after")
    def _is_one_limit(self) -> Length:
        self.content(Marks("read", "read"))
        return self

    def content(self, marks: Marks) -> PrintedFigure:
        """Return the figure."""
        return figure(self.si, self.inch_pound, marks)


def figure(
    si: Printed | None, inch_pound: Printed | None, marks: Marks
) -> PrintedFigure:
    """Return a figure from what the systems print; None where one prints nothing.

    What is printed in one system only serves in both measures.

    Raises:
        BookError: Neither prints anything, or they cannot be the same limit.
    """
    left, right = si or inch_pound, inch_pound or si
    if left is None or right is None:
        raise wrong(None, _LIKE)
    low, high = sorted((left.metres, right.metres))
    if high > _APART * low:
        msg = f"{left.text} and {right.text} are too far apart to be one limit"
        raise BookError(msg)
    printed: dict[System, Printed | None] = {"si": si, "inch-pound": inch_pound}
    return PrintedFigure(
        si=left.metres,
        inch_pound=right.metres,
        text_si=left.text,
        text_inch_pound=right.text,
        checked_si=marks.si if si else marks.inch_pound,
        checked_inch_pound=marks.inch_pound if inch_pound else marks.si,
        printed=tuple(system for system, side in printed.items() if side),
    )
