"""The list at the side: what is picked, and every finding in words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.sheet.places import Rectangle
from viewer.stage import palette
from viewer.window.card import write_card
from viewer.window.column import LONGEST, LONGEST_ID, Column
from viewer.window.ink import LINE, Ink
from viewer.window.lesson import title_of
from viewer.window.state import Action
from viewer.wording.cleaning import clean
from viewer.wording.words import SENTENCE

if TYPE_CHECKING:
    from viewer.sheet.places import Spot
    from viewer.stage.parts import ListedJudgement, Size
    from viewer.window.ink import Board
    from viewer.window.state import WindowState

_GROUPS: Final = (("not-met", "Not met"), ("open", "Open"), ("met", "Met"))
_PAD: Final = 14.0
_CAUTION: Final = 0.88
"""Size of the letters of what must be known, by that of small letters."""
_OTHER_SYSTEM: Final = 0.92
_BRIEF: Final = 2
"""Lines of what is short in the list."""
_LONGEST_BRIEF: Final = 3
"""Lines of a first sentence, or of why it is open."""
_OTHER: Final = re.compile(r" \([^()]*\d (?:mm|in|ft|m)\)")
_TICK: Final = "✓"
_REQUIRED: Final = "required"
_THERE: Final = "there is"
_WITHHELD: Final = "The findings are shown with the answer."
_WAITING: Final = "is checked again …"
_EXCEPTION: Final = "By an exception"
_MEASURED: Final = "Measured"
_UNREAD: Final = "From memory"
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
    state: WindowState, box: Rectangle, scale: float, scroll: float, over: Action | None
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
    if not state.stage.judgements:
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
    if state.stage.unread:
        told = f"{_UNREAD}: {clean(state.stage.unread, LONGEST)}"
        column.write(told, colour=palette.FAINT_INK)
    return picked


def _heading(column: Column, text: str, verdict: str, *, listed: bool) -> None:
    ink, scale = column.ink, column.ink.scale
    tall = 1.5 * LINE * ink.size
    middle = column.y + tall / 2
    left = column.left
    if verdict == "met":
        box = Rectangle(
            left - 6 * scale, column.y, column.right + 6 * scale, column.y + tall
        )
        ink.row(box, Action("fold"))
        _arrow(ink, (left + 5 * scale, middle), down=listed)
        left += 16 * scale
    ink.text((left, middle), text, bold=True)
    column.y += tall


def _row(
    column: Column, state: WindowState, number: int, finding: ListedJudgement
) -> None:
    ink, scale, line = column.ink, column.ink.scale, column.line
    waits = number in state.waiting
    left, right, top = column.left + 30 * scale, column.right, column.y
    brief = _brief(finding, in_full=number == state.finding)
    most = _LONGEST_BRIEF if finding.verdict == "open" else _BRIEF
    lines = _few_lines(ink, _WAITING if waits else brief, right - left, most)
    tall = (1 + len(lines)) * line + 8 * scale
    box = Rectangle(column.left - 6 * scale, top, right + 6 * scale, top + tall)
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


def _sign(ink: Ink, middle: tuple[float, float], finding: ListedJudgement) -> None:
    text = str(finding.number) if finding.number else _TICK
    x, y = middle
    radius = 9.5 * ink.scale
    wide = ink.wide(text, size=ink.small, bold=True) / 2 + 4 * ink.scale
    half = max(radius, wide)
    box = Rectangle(x - half, y - radius, x + half, y + radius)
    ink.badge(box, text, finding.verdict)


def _detail(column: Column, state: WindowState, finding: ListedJudgement) -> None:
    left = column.left + 30 * column.ink.scale
    column.skip(3)
    if finding.sizes:
        _sizes(column, finding, left)
    if finding.in_the_way:
        items = zip(finding.in_the_way, finding.named, strict=True)
        column.chips("In the way", items, state.item, left)
    column.write(clean(finding.reason, LONGEST), left=left)
    if finding.exception:
        exception = f"{_EXCEPTION}: {clean(finding.exception, LONGEST)}"
        column.skip(3)
        column.write(exception, left=left)
    column.skip(3)
    cited = clean(finding.citation, LONGEST)
    column.write(cited, left=left, colour=palette.FAINT_INK)
    column.skip(8)


def _sizes(column: Column, finding: ListedJudgement, left: float) -> None:
    """Write a table of what is required and what is there, in both systems."""
    ink = column.ink
    names = (ink.wide(one.name, size=ink.small, bold=True) for one in finding.sizes)
    first = left + max(names) + 12 * ink.scale
    second = first + (column.right - first) / 2
    titles = [(first, _REQUIRED)]
    if any(one.provided[0] and _is_told(finding, one) for one in finding.sizes):
        titles.append((second, _THERE))
    for at, title in titles:
        spot = at, column.y + column.line / 2
        ink.text(spot, title, size=ink.small, colour=palette.FAINT_INK)
    column.y += column.line
    for size in finding.sizes:
        told = size.provided if _is_told(finding, size) else ("", "")
        spot = left, column.y + column.line / 2
        ink.text(spot, size.name, size=ink.small, bold=True)
        bad = palette.INTRUSION_TEXT if size.short else palette.INK
        lines = [_amount(ink, (first, column.y), size.required, palette.INK)]
        lines += [_amount(ink, (second, column.y), told, bad)]
        column.y += max(1, *lines) * column.line
        column.skip(2)
    column.skip(3)


def _is_told(finding: ListedJudgement, size: Size) -> bool:
    # Where one size decides, the others say what is left beside it: often nothing.
    return size.short or not any(one.short for one in finding.sizes)


def _amount(ink: Ink, at: Spot, texts: tuple[str, str], colour: str) -> int:
    """Write an amount, the other system below; return how many lines that is."""
    own, other = texts
    parts = [(own, ink.small, colour)]
    if other:
        small = _OTHER_SYSTEM * ink.small
        parts.append((other, small, palette.FAINT_INK))
    line = LINE * ink.small
    for number, (told, size, shade) in enumerate(parts):
        ink.text((at[0], at[1] + (number + 0.5) * line), told, size=size, colour=shade)
    return len(parts)


def _few_lines(ink: Ink, text: str, room: float, most: int) -> list[str]:
    """Return as many whole sentences as fit into some lines, at least some of one."""
    sentences = SENTENCE.split(text)
    for count in range(len(sentences), 0, -1):
        lines = ink.wrapped(" ".join(sentences[:count]), room, size=ink.small)
        if len(lines) <= (most if count > 1 else _LONGEST_BRIEF):
            return lines
    rest = " ".join(lines[_LONGEST_BRIEF - 1 :])
    cut = ink.fitted(rest, room, size=ink.small)
    return [*lines[: _LONGEST_BRIEF - 1], cut]


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
    size = _CAUTION * ink.small
    lines = ink.wrapped(state.stage.caution, box.right - box.left - 2 * pad, size=size)
    line = LINE * size
    tall = len(lines) * line + 14 * scale
    top = box.bottom - tall
    paper = Rectangle(box.left, top, box.right, box.bottom)
    ink.control(paper, Action("rest"))
    ink.fill(paper, palette.PAPER)
    ink.line((box.left, top), (box.right, top), palette.GRID)
    for number, text in enumerate(lines):
        at = box.left + pad, top + 7 * scale + (number + 0.5) * line
        ink.text(at, text, size=size, colour=palette.FAINT_INK)
    return tall


def _brief(finding: ListedJudgement, *, in_full: bool) -> str:
    """Say what is short in the scene's own units, or why it is open.

    Args:
        finding: The row.
        in_full: All of it stands below.
    """
    if finding.verdict == "open":
        return "" if in_full else _own(clean(_asked(finding), LONGEST))
    for size in finding.sizes:
        if size.short:
            return f"{size.name} {size.brief}"
    if in_full or finding.verdict == "met":
        return ""
    return _own(clean(finding.reason, LONGEST))


def _asked(finding: ListedJudgement) -> str:
    """Say what is missing where something is open, and what was measured."""
    asked = finding.missing or finding.reason
    return f"{asked} {_MEASURED}: {finding.measured}." if finding.measured else asked


def _own(text: str) -> str:
    """Return a text without lengths in the other system, which stand in brackets."""
    return _OTHER.sub("", text)
