"""Every label that decides is told: by more room beside the views, else in notes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.figure import pens
from viewer.figure.drawing import Text
from viewer.figure.typeface import wide, wrapped

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from viewer.figure.paper import Paper

    Draws = Callable[[float, float], tuple[Paper, float]]
    """Draws into a height with more room beside each view, both in millimetres, and
    returns the paper with its labels settled, and the scale."""

_SIZE: Final = 2.3
_STEP: Final = 3.4
"""Millimetres from one line of notes to the next."""
_ABOVE: Final = 2.0
_INDENT: Final = 6.0
_MORE: Final = 14.0
"""Millimetres of more room beside each view that are tried before notes."""
_TRIES: Final = 3


def complete(draws: Draws, height: float) -> tuple[Paper, float]:
    """Return a drawing that tells all that decides, and its scale.

    Args:
        draws: Draws it; it is asked again where labels found no place.
        height: What it must fit into, notes included, millimetres.
    """
    paper, scale = draws(height, 0.0)
    if not paper.notes:
        return paper, scale
    wider, its_scale = draws(height, _MORE)
    if not wider.notes:
        return wider, its_scale
    for _ in range(_TRIES):
        below = _high(_lines(paper.notes, paper.width))
        again, scale = draws(height - below, 0.0)
        enough = _high(_lines(again.notes, paper.width)) <= below
        paper = again
        if enough:
            break
    _write(paper)
    return paper, scale


def _lines(notes: Sequence[tuple[str, str]], width: float) -> list[tuple[str, str]]:
    """Return the lines of notes: number, "" where one goes on, and words."""
    found = []
    for number, words in notes:
        first, *rest = wrapped(words, _SIZE, width - _INDENT - 1.0) or ("",)
        found.append((number, first))
        found += [("", line) for line in rest]
    return found


def _high(lines: Sequence[tuple[str, str]]) -> float:
    return _ABOVE + _STEP * (len(lines) + 1) if lines else 0.0


def _write(paper: Paper) -> None:
    """Write the notes below all that is drawn."""
    if not paper.notes:
        return
    level = paper.lowest() + _ABOVE + _SIZE
    found = [Text(pens.SHEET, (0.5, round(level, 3)), "Notes", _SIZE, bold=True)]
    for number, words in _lines(paper.notes, paper.width):
        level = round(level + _STEP, 3)
        if number:
            left = round(_INDENT - 2.0 - wide(number, _SIZE, bold=True), 3)
            found.append(Text(pens.SHEET, (left, level), number, _SIZE, bold=True))
        found.append(Text(pens.SHEET, (_INDENT, level), words, _SIZE))
    paper.foot(*found)
