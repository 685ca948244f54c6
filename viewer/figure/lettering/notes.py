"""Every label that decides is told: by more room beside the views, else in notes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import Text
from viewer.figure.drafting.typeface import wide, wrapped

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from viewer.figure.drafting.paper import Paper

    _Line = tuple[str, str]
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
_SMALLER: Final = 1.4
"""So many times smaller a drawing may become to have room for its words."""
_BETWEEN: Final = 4.0
_FEWEST: Final = 3
"""So many notes at least stand in a column."""
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
    # A drawing that is far smaller for it would be no gain.
    if not wider.notes and its_scale <= scale * _SMALLER:
        return wider, its_scale
    for _ in range(_TRIES):
        below = _high(paper.notes, paper.width)
        again, scale = draws(height - below, 0.0)
        enough = _high(again.notes, paper.width) <= below
        paper = again
        if enough:
            break
    _write(paper)
    return paper, scale


def _columns(notes: Sequence[tuple[str, str]], width: float) -> list[list[_Line]]:
    """Return the lines of notes in columns: number, "" where one goes on, and words.

    Short notes, as names are, stand in several columns beside each other.
    """
    longest = max(wide(words, _SIZE) for _, words in notes) + _INDENT + _BETWEEN
    count = max(1, min(int(width // longest), -(-len(notes) // _FEWEST)))
    found: list[_Line] = []
    for number, words in notes:
        first, *rest = wrapped(words, _SIZE, width / count - _INDENT - 1.0) or ("",)
        found.append((number, first))
        found += [("", line) for line in rest]
    high = -(-len(found) // count)
    return [found[start : start + high] for start in range(0, len(found), high)]


def _high(notes: Sequence[tuple[str, str]], width: float) -> float:
    if not notes:
        return 0.0
    return _ABOVE + _STEP * (len(_columns(notes, width)[0]) + 1)


def _write(paper: Paper) -> None:
    """Write the notes below all that is drawn."""
    if not paper.notes:
        return
    top = paper.lowest() + _ABOVE + _SIZE
    found = [Text(pens.SHEET, (0.5, round(top, 3)), "Notes", _SIZE, bold=True)]
    columns = _columns(paper.notes, paper.width)
    for place, column in enumerate(columns):
        left = place * paper.width / len(columns)
        for row, (number, words) in enumerate(column, start=1):
            level = round(top + row * _STEP, 3)
            x = left + _INDENT - 2.0 - wide(number, _SIZE, bold=True)
            told = Text(pens.SHEET, (round(left + _INDENT, 3), level), words, _SIZE)
            found.append(told)
            if number:
                at = (round(x, 3), level)
                found.append(Text(pens.SHEET, at, number, _SIZE, bold=True))
    paper.foot(*found)
