"""A figure on a page of its own: frame, title block, caution."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.catalogue.provenance import provenance
from model3d.wording.said import Said, parts_of, raised
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Figure, Line, Text, moved, moved_spot
from viewer.figure.drafting.scale import scale_words
from viewer.figure.drafting.typeface import wide
from viewer.figure.things.subject import arrangement_of
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION, units_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from model3d import Report
    from viewer.figure.drafting.drawing import Mark

PAPERS: Final = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
"""Width and height of the papers across, millimetres."""
_EDGE: Final = 10.0
_INSET: Final = 4.0
_BLOCK: Final = 25.0
"""Millimetres. Height of the title block."""
_COLUMNS: Final = (0.0, 0.34, 0.66, 0.83, 1.0)
"""Where the title block's columns begin, as shares of its width."""
_LABEL: Final = 1.9
_VALUE: Final = 2.7


def framed(
    report: Report, paper: str, make: Callable[[float, float], Figure]
) -> Figure:
    """Return a figure on a page with its frame and title block.

    Args:
        report: Of the scene that is drawn.
        paper: One of PAPERS.
        make: Draws the figure into a width and a height in millimetres.
    """
    width, height = PAPERS[paper]
    room = (
        width - 2 * (_EDGE + _INSET),
        height - 2 * _EDGE - 2 * _INSET - _BLOCK,
    )
    inner = make(*room)
    by = (_EDGE + _INSET, _EDGE + _INSET)
    marks = tuple(moved(mark, by) for mark in inner.marks)
    return replace(
        inner,
        width=width,
        height=height,
        home=None
        if inner.home is None
        else (moved_spot(inner.home[0], by), inner.home[1]),
        marks=(*marks, *_frame(width, height), *_block(report, inner, width, height)),
    )


def _frame(width: float, height: float) -> tuple[Mark, ...]:
    left, right, top, bottom = _EDGE, width - _EDGE, _EDGE, height - _EDGE
    level = bottom - _BLOCK
    found: list[Mark] = [
        Line(
            pens.WALL,
            ((left, top), (right, top), (right, bottom), (left, bottom)),
            closed=True,
        ),
        Line(pens.SHEET, ((left, level), (right, level))),
    ]
    for share in _COLUMNS[1:-1]:
        x = round(left + share * (right - left), 3)
        found.append(Line(pens.SHEET, ((x, level), (x, bottom))))
    words = Text(pens.SHEET, (left, round(height - 5.0, 3)), " ".join(CAUTION), 2.2)
    return (*found, words)


def _block(
    report: Report, inner: Figure, width: float, height: float
) -> tuple[Mark, ...]:
    scene = arrangement_of(report).scene
    sheet, book = scene.sheet, provenance(report)
    rules = f"{book.name} ({report.rules})" if book else report.rules
    where = ", ".join(filter(None, (sheet.project, sheet.address) if sheet else ()))
    scale = scale_words(inner.scale, units_of(report))
    columns = (
        (("Room", report.scene), ("Project", where), ("File", report.file)),
        (
            ("Drawing", _without_room(inner.title, report.scene)),
            ("Rule book", rules),
            ("Note", (sheet.note if sheet else None) or ""),
        ),
        (
            ("Scale", scale),
            ("Number", (sheet.number if sheet else None) or ""),
            ("Revision", (sheet.revision if sheet else None) or ""),
        ),
        (
            ("Date", (sheet.date if sheet else None) or ""),
            ("Drawn", (sheet.drawn if sheet else None) or ""),
            ("Checked", (sheet.checked if sheet else None) or ""),
        ),
    )
    found: list[Mark] = []
    left, whole = _EDGE, width - 2 * _EDGE
    level = height - _EDGE - _BLOCK
    for number, rows in enumerate(columns):
        x = round(left + _COLUMNS[number] * whole + 1.8, 3)
        room = (_COLUMNS[number + 1] - _COLUMNS[number]) * whole - 3.6
        for row, (label, value) in enumerate(rows):
            y = level + row * _BLOCK / len(rows)
            found.append(Text(pens.SHEET, (x, round(y + 2.9, 3)), label, _LABEL))
            heavy = row == 0
            words = fitted(clean(value), _VALUE, room, bold=heavy)
            spot = (x, round(y + 6.6, 3))
            if words:
                found.append(Text(pens.SHEET, spot, words, _VALUE, bold=heavy))
    return tuple(found)


def _without_room(title: str, room: str) -> str:
    """Return a drawing's title without the room, which has a place of its own."""
    first, *others = parts_of(title)
    return raised(Said(*others[1:])) if others and first == room else title


def fitted(text: str, size: float, room: float, *, bold: bool = False) -> str:
    """Return as much of a text as there is room for, with an ellipsis if cut.

    >>> fitted("Pump station", 2.7, 100.0), fitted("Pump station", 2.7, 12.0)
    ('Pump station', 'Pump…')
    """
    if wide(text, size, bold=bold) <= room:
        return text
    cut = text
    while cut and wide(f"{cut}…", size, bold=bold) > room:
        cut = cut[:-1]
    return f"{cut.rstrip(' ,;:')}…" if cut else ""
