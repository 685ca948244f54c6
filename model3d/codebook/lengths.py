"""From the printed words of a length to a figure in both systems."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.codebook.errors import BookError, wrong
from model3d.codebook.figures import Figure, Mark, System
from model3d.units import LengthError, to_metres

if TYPE_CHECKING:
    from model3d.codebook.marks import Marks

_METRIC = re.compile(r".*\d\s*(mm|m)")
_INCH_POUND = re.compile(r".*\d\s*(ft|in|'|\")")
_LIKE: Final = 'a length such as "762 mm", "30 in" or "6 ft 6 in"'

_APART = 1.1
"""Printed pairs lie within 9 % (0.7 m and 2.5 ft); beyond it one is mistyped."""


@dataclass(frozen=True, slots=True)
class _Side:
    system: System
    text: str
    metres: float
    mark: Mark


def read_length(raw: object, marks: Marks, where: str) -> Figure:
    """Return a length that is printed in one system.

    Raises:
        BookError: It is no length above zero.

    >>> from model3d.codebook.marks import Marks
    >>> figure = read_length("30 in", Marks("read", "read"), "a.toml")
    >>> figure.text, round(figure.si, 6), figure.printed
    ('30 in', 0.762, ('inch-pound',))
    """
    if isinstance(raw, str) and _METRIC.fullmatch(raw.strip()):
        return read_pair(raw, None, marks, where)
    return read_pair(None, raw, marks, where)


def read_pair(si: object, inch_pound: object, marks: Marks, where: str) -> Figure:
    """Return a figure from its SI and inch-pound words; None where none is printed.

    Raises:
        BookError: One is no length of its system, or they cannot be the same limit.
    """
    left = None if si is None else _side("si", si, marks.si, where)
    right = None
    if inch_pound is not None:
        right = _side("inch-pound", inch_pound, marks.inch_pound, where)
    # What is printed in one system only serves in both measures.
    metric, imperial = left or right, right or left
    if metric is None or imperial is None:
        raise wrong(None, where, _LIKE)
    low, high = sorted((metric.metres, imperial.metres))
    if high > _APART * low:
        msg = f"{where}: {si} and {inch_pound} are too far apart to be one limit"
        raise BookError(msg)
    return Figure(
        si=metric.metres,
        inch_pound=imperial.metres,
        text_si=metric.text,
        text_inch_pound=imperial.text,
        checked_si=metric.mark,
        checked_inch_pound=imperial.mark,
        printed=tuple(side.system for side in (left, right) if side is not None),
    )


def _side(system: System, raw: object, mark: Mark, where: str) -> _Side:
    pattern = _METRIC if system == "si" else _INCH_POUND
    if not isinstance(raw, str) or not pattern.fullmatch(raw.strip()):
        unit = "in mm or m, " if system == "si" else "in ft or in, "
        raise wrong(raw, where, unit + _LIKE)
    try:
        metres = to_metres(raw, "m")
    except LengthError:
        raise wrong(raw, where, _LIKE) from None
    if metres <= 0:
        raise wrong(raw, where, "a length above zero")
    return _Side(system, raw.strip(), metres, mark)
