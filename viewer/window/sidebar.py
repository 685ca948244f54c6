"""The list at the side: what is picked, and every finding in words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer import palette
from viewer.cleaning import clean
from viewer.placing import Box
from viewer.window.card import write_card
from viewer.window.column import LONGEST, LONGEST_ID, Column
from viewer.window.ink import LINE, Ink
from viewer.window.lesson import title_of
from viewer.window.state import Action

if TYPE_CHECKING:
    from viewer.stage.parts import Finding, Size
    from viewer.window.ink import Board
    from viewer.window.state import WindowState

_GROUPS: Final = (("not-met", "Not met"), ("open", "Open"), ("met", "Met"))
_PAD: Final = 14.0
_BRIEF: Final = 2
"""Lines of what is short, or why it is open, in the list."""
_OTHER: Final = re.compile(r" \([^()]*\d (?:mm|in|ft|m)\)")
_TICK: Final = "✓"
_WITHHELD: Final = "The findings are shown with the answer."
_WAITING: Final = "is checked again …"
_NOTHING: Final = "No requirement applies to anything here."


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """The drawn list.

    Attributes:
        board: What is seen of it.
        tall: Height of all of it, pixels.
        picked: From where to where the picked row goes, from the top of all of it.
    """

    board: Board
    tall: float
    picked: tuple[float, float] | None


def sidebar(
    state: WindowState, box: Box, scale: float, scroll: float, over: Action | None
) -> Side:
    """Draw the list.

    Args:
        state: Of the window.
        box: Where it goes, pixels.
        scale: Of letters.
        scroll: How far it is pushed up, pixels.
        over: What the mouse is over.
    """
    ink = Ink(box, scale, over)
    pad = _PAD * scale
    start = box.top - scroll
    column = Column(ink, box.left + pad, box.right - pad, start + 0.7 * pad)
    if state.item is not None:
        write_card(column, state, state.item)
    picked = _findings(column, state)
    tall = column.y - start + pad + _foot(ink, state)
    ink.line((box.left, box.top), (box.left, box.bottom), palette.GRID)
    if picked is not None:
        picked = picked[0] - start, picked[1] - start
    return Side(ink.finished(), tall, picked)


def _findings(column: Column, state: WindowState) -> tuple[float, float] | None:
    """Write all rows; return from where to where the picked one goes."""
    if state.is_withheld:
        column.write(_WITHHELD, colour=palette.FAINT_INK)
        return None
    if not state.stage.findings:
        column.write(_NOTHING)
    picked = None
    for verdict, title in _GROUPS:
        rows = state.rows(verdict)
        if not rows:
            continue
        listed = verdict != "met" or state.met_listed
        listed = listed or any(number == state.finding for number, _ in rows)
        _heading(column, f"{title} ({len(rows)})", verdict, listed=listed)
        for number, finding in rows if listed else ():
            top = column.y
            _row(column, state, number, finding)
            if number == state.finding:
                _detail(column, state, finding)
                picked = top, column.y
        column.skip(7)
    return picked


def _heading(column: Column, text: str, verdict: str, *, listed: bool) -> None:
    ink, scale = column.ink, column.ink.scale
    tall = 1.5 * LINE * ink.size
    middle = column.y + tall / 2
    left = column.left
    if verdict == "met":
        box = Box(left - 6 * scale, column.y, column.right + 6 * scale, column.y + tall)
        ink.row(box, Action("fold"))
        _arrow(ink, (left + 5 * scale, middle), down=listed)
        left += 16 * scale
    ink.text((left, middle), text, bold=True)
    column.y += tall


def _row(column: Column, state: WindowState, number: int, finding: Finding) -> None:
    ink, scale, line = column.ink, column.ink.scale, column.line
    waits = number in state.waiting
    left, right, top = column.left + 30 * scale, column.right, column.y
    brief = _WAITING if waits else _brief(finding)
    lines = ink.wrapped(brief, right - left, size=ink.small)
    if len(lines) > _BRIEF:
        rest = " ".join(lines[_BRIEF - 1 :])
        cut = ink.fitted(rest, right - left, size=ink.small)
        lines = [*lines[: _BRIEF - 1], cut]
    tall = (1 + len(lines)) * line + 8 * scale
    box = Box(column.left - 6 * scale, top, right + 6 * scale, top + tall)
    ink.row(box, Action("pick", number=number), picked=number == state.finding)
    middle = top + 4 * scale + line / 2
    _sign(ink, (column.left + 11 * scale, middle), finding)
    who = clean(finding.subject, LONGEST_ID)
    who = ink.fitted(who, 0.5 * (right - left), bold=True)
    ink.text((left, middle), who, bold=True)
    after = left + ink.wide(who, bold=True) + 6 * scale
    ink.text((after, middle), ink.fitted(title_of(finding), right - after))
    bad = finding.verdict == "not-met" and not waits
    colour = palette.INTRUSION_TEXT if bad else palette.FAINT_INK
    for text in lines:
        middle += line
        ink.text((left, middle), text, size=ink.small, colour=colour)
    column.y = top + tall


def _sign(ink: Ink, middle: tuple[float, float], finding: Finding) -> None:
    text = str(finding.number) if finding.number else _TICK
    x, y = middle
    radius = 9.5 * ink.scale
    wide = ink.wide(text, size=ink.small, bold=True) / 2 + 4 * ink.scale
    half = max(radius, wide)
    box = Box(x - half, y - radius, x + half, y + radius)
    ink.badge(box, text, finding.verdict)


def _detail(column: Column, state: WindowState, finding: Finding) -> None:
    left = column.left + 30 * column.ink.scale
    column.skip(3)
    for size in finding.sizes:
        _size(column, size, left)
    if finding.in_the_way:
        column.chips("In the way", finding.in_the_way, state.item, left)
    column.write(clean(finding.reason, LONGEST), left=left)
    column.skip(3)
    cited = clean(finding.citation, LONGEST)
    column.write(cited, left=left, colour=palette.FAINT_INK)
    column.skip(8)


def _size(column: Column, size: Size, left: float) -> None:
    """Write a size, required and there, each in both systems of units."""
    ink = column.ink
    start = left + ink.wide("clearance  ", size=ink.small)
    at = left, column.y + column.line / 2
    ink.text(at, size.name, size=ink.small, bold=True)
    if size.required:
        column.write(f"required {size.required}", left=start)
    if size.provided:
        colour = palette.INTRUSION_TEXT if size.short else palette.INK
        column.write(f"there is {size.provided}", left=start, colour=colour)
    column.skip(3)


def _arrow(ink: Ink, middle: tuple[float, float], *, down: bool) -> None:
    x, y = middle
    r = 4.5 * ink.scale
    right = [(x - 0.6 * r, y - r), (x + r, y), (x - 0.6 * r, y + r)]
    below = [(x - r, y - 0.6 * r), (x + r, y - 0.6 * r), (x, y + r)]
    ink.patch(below if down else right, palette.INK)


def _foot(ink: Ink, state: WindowState) -> float:
    """Write what a reader must know of the result; return how high that is."""
    scale, box = ink.scale, ink.box
    pad = _PAD * scale
    size = 0.86 * ink.small
    lines = ink.wrapped(state.stage.caution, box.right - box.left - 2 * pad, size=size)
    line = LINE * size
    tall = len(lines) * line + 14 * scale
    top = box.bottom - tall
    paper = Box(box.left, top, box.right, box.bottom)
    ink.control(paper, Action("rest"))
    ink.fill(paper, palette.PAPER)
    ink.line((box.left, top), (box.right, top), palette.GRID)
    for number, text in enumerate(lines):
        at = box.left + pad, top + 7 * scale + (number + 0.5) * line
        ink.text(at, text, size=size, colour=palette.FAINT_INK)
    return tall


def _brief(finding: Finding) -> str:
    """Say what is short in the scene's own units, or why it is open."""
    for size in finding.sizes:
        if size.short:
            there, needed = (_own(text) for text in (size.provided, size.required))
            return f"{size.name} {there} of {needed}"
    if finding.verdict == "met":
        return ""
    return _own(clean(finding.reason, LONGEST))


def _own(text: str) -> str:
    """Return a text without lengths in the other system, which stand in brackets."""
    return _OTHER.sub("", text)
