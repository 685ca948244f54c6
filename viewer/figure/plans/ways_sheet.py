"""The ways out of an item on one sheet: each that is not met or open."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.figure.drafting.drawing import Figure, moved
from viewer.figure.plans.way import way_figure
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d import Judgement, Report
    from viewer.figure.drafting.drawing import Mark, Spot

_BETWEEN: Final = 4.0
"""Millimetres between two that stand beside each other."""


def way_figures(report: Report, subject: str, width: float) -> Iterator[Figure]:
    """Yield the ways out of an item's working space, those that are in question.

    Args:
        report: What the check answered.
        subject: Id of the item.
        width: Of the paper, millimetres.
    """
    for one in _in_question(report, subject):
        yield way_figure(report, one, width)


def _in_question(report: Report, subject: str) -> list[Judgement]:
    """Return what is not met or open about an item's ways, each way once."""
    found: dict[tuple[Spot, ...], Judgement] = {}
    for one in report.judgements:
        if one.subject == subject and one.way is not None and one.verdict != "met":
            found.setdefault(one.way.points, one)
    return list(found.values())


def ways_of(report: Report, item: str) -> Callable[[float, float], Figure]:
    """Return what draws each way out of an item that is in question, on one sheet.

    Where none is, it draws the way there is.

    Raises:
        UnusableError: No way was looked for, or none was found.
    """
    there = [one for one in report.judgements if one.subject == item and one.way]
    if not there:
        words = f"no way out of {item} was found that could be drawn"
        raise UnusableError([f"standclear: {words}"])
    asked = _in_question(report, item) or there[:1]
    return lambda width, height: _on_one_sheet(report, asked, width, height)


def _on_one_sheet(
    report: Report, asked: Sequence[Judgement], width: float, height: float
) -> Figure:
    """Draw ways beside or below each other, whichever is larger, all to one scale."""
    if len(asked) == 1:
        return way_figure(report, asked[0], width, height)
    best: tuple[int, list[Figure]] | None = None
    for columns in range(1, len(asked) + 1):
        rows = -(-len(asked) // columns)
        size = (width - _BETWEEN * (columns - 1)) / columns, height / rows
        drawn = [way_figure(report, one, *size) for one in asked]
        scale = max(one.scale for one in drawn)
        drawn = [
            figure if figure.scale == scale else way_figure(report, one, *size, scale)
            for one, figure in zip(asked, drawn, strict=True)
        ]
        if best is None or scale < best[1][0].scale:
            best = columns, drawn
    assert best is not None  # noqa: S101 - something is asked for
    return _joined(*best, asked[0].subject, width)


def _joined(
    columns: int, figures: Sequence[Figure], subject: str, width: float
) -> Figure:
    """Return one figure of several, row by row."""
    across = (width + _BETWEEN) / columns
    marks: list[Mark] = []
    top = 0.0
    for first in range(0, len(figures), columns):
        row = figures[first : first + columns]
        for n, one in enumerate(row):
            marks += (moved(mark, (n * across, top)) for mark in one.marks)
        top += max(one.height for one in row)
    about = " ".join(f"{one.about}" for one in figures)
    title = f"Ways out of {subject}"
    return Figure(title, about, width, top, figures[0].scale, tuple(marks))
