"""The list beside a picture: what its numbers stand for, as far as there is room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.wording.said import sentences_of
from viewer.sheet.badges import badge
from viewer.sheet.layout import SMALL
from viewer.sheet.sign_places import Rectangle
from viewer.stage import palette
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.sheet.layout import Layout
    from viewer.sheet.letters import WrittenPicture
    from viewer.sheet.sign_places import Spot
    from viewer.stage.rows import ListedJudgement

_ROW: Final = 19.0
_GAP: Final = 12.0
"""Pixels between two entries of the list."""
_CHECK: Final = "\N{CHECK MARK}"
"""In place of the number of what is met."""
_MOST_LINES: Final = 3
"""Of a reason in a list that is full."""
_MOST_ENTRIES: Final = 100
"""So many at most are tried for room."""
_ALL_LINES: Final = 12
"""Of a reason in a list with room for all."""


@dataclass(frozen=True, slots=True)
class _Numbered:
    """One number of the list: who, and lines below in their colours."""

    judgement: ListedJudgement
    head: str
    lines: tuple[tuple[str, str], ...]


def write_list(
    sheet: WrittenPicture, plan: Layout, panel: Rectangle, edge: float
) -> None:
    """List what the numbers stand for, as far as there is room.

    Reasons are told in full if all of them have room then.
    """
    scale = plan.scale
    row = _ROW * scale
    column = (panel.right - panel.left - edge) / plan.columns
    room = column - edge - 2.0 * row
    for most in (_ALL_LINES, _MOST_LINES):
        entries = [
            _entry(sheet, judgement, room, SMALL * scale, most)
            for judgement in plan.listed[:_MOST_ENTRIES]
        ]
        spots, end = _spots(entries, plan, panel, edge)
        left = len(plan.listed) - len(spots)
        if not left:
            break
    if left:
        spots, end = _spots(entries, plan, panel, edge, kept=1.2 * row)
        left = len(plan.listed) - len(spots)
    for entry, spot in zip(entries, spots, strict=False):
        _write_entry(sheet, entry, spot, room, scale)
    if left:
        x, y = end
        base = min(y + 0.5 * row, panel.bottom - 0.5 * row)
        more = f"and {left} more in the report"
        sheet.text((x, base), more, SMALL * scale, colour=palette.FAINT_INK)


def _spots(
    entries: Sequence[_Numbered],
    plan: Layout,
    panel: Rectangle,
    edge: float,
    kept: float = 0.0,
) -> tuple[list[Spot], Spot]:
    """Return the place of each entry that has room, and where the list ends.

    What is kept free below the last column is for the words that more is left out.
    """
    row, gap = _ROW * plan.scale, _GAP * plan.scale
    column = (panel.right - panel.left - edge) / plan.columns
    found: list[Spot] = []
    at, x, y = 1, panel.left + 0.8 * edge, panel.top + edge
    for entry in entries:
        tall = (1 + len(entry.lines)) * row
        if y + tall > panel.bottom and at < plan.columns:
            at, x, y = at + 1, x + column, panel.top + edge
        if y + tall + (kept if at == plan.columns else 0.0) > panel.bottom:
            break
        found.append((x, y))
        y += tall + gap
    return found, (x, y)


def _entry(
    sheet: WrittenPicture,
    judgement: ListedJudgement,
    room: float,
    size: float,
    most: int,
) -> _Numbered:
    name = ", ".join(part for part in (judgement.title.lower(), judgement.part) if part)
    said: list[tuple[str, str]] = []

    def say(lines: Iterable[str], colour: str = palette.INK) -> None:
        said.extend((line, colour) for line in lines)

    who = sheet.wide(clean(judgement.subject), size, bold=True) + 0.5 * size
    if who + sheet.wide(name, size) > room:
        say(sheet.wrapped(name, room, size))
        name = ""
    told = [*_short(judgement)] or [*_needed(judgement)]
    for texts, colour in told:
        say(_broken(sheet, texts, room, size), colour)
    if told and judgement.verdict != "met" and judgement.named:
        names = clean(", ".join(judgement.named))
        say([sheet.fitted(f"in the way: {names}", size, room)])
    for text in _sentences(judgement, in_full=not told):
        say(sheet.wrapped(text, room, size, most))
    cited = sheet.wrapped(clean(judgement.citation), room, size)
    say(cited, palette.FAINT_INK)
    return _Numbered(judgement, name, tuple(said))


_Told = tuple[tuple[str, str], str]
"""A size in the scene's own system and in the other one or "", and its colour."""


def _short(judgement: ListedJudgement) -> Iterator[_Told]:
    """Yield what is required of each size that is short, and what is there."""
    for one in judgement.sizes:
        if one.short:
            after, before = ("", "it is ") if one.most else ("required", "")
            yield _told(f"{one.name} ", one.required, after), palette.INK
            there = _told(before, one.provided, "" if one.most else "there")
            yield there, palette.INTRUSION_TEXT


def _needed(judgement: ListedJudgement) -> Iterator[_Told]:
    """Yield what is required of what is met."""
    for one in judgement.sizes:
        if one.required[0] and judgement.verdict == "met":
            yield _told(f"{one.name} ", one.required, ""), palette.INK


def _told(before: str, size: tuple[str, str], after: str) -> tuple[str, str]:
    """Put words before a size and after it, the other system in brackets."""
    own, other = size
    first = f"{before}{own}"
    last = f"({other})" if other else ""
    if last or not after:
        return first, " ".join(filter(None, (last, after)))
    return f"{first} {after}", ""


def _sentences(judgement: ListedJudgement, *, in_full: bool) -> Iterator[str]:
    """Yield what is said beside sizes, or why in full where there are none."""
    if in_full:
        yield _reason(judgement)
        if judgement.measured:
            yield f"Measured: {judgement.measured}."
    elif judgement.missing:
        yield clean(judgement.missing)
    if judgement.exception:
        yield f"By an exception: {clean(judgement.exception)}"


def _reason(judgement: ListedJudgement) -> str:
    """Return why, of what is not met in a sentence."""
    first, *_ = sentences_of(judgement.reason)
    return clean(first if judgement.verdict == "not-met" else judgement.reason)


def _broken(
    sheet: WrittenPicture, texts: tuple[str, str], room: float, size: float
) -> list[str]:
    """Return a size in one line, or with the other system of units below."""
    text = " ".join(filter(None, texts))
    if not texts[1] or sheet.wide(text, size) <= room:
        return sheet.wrapped(text, room, size)
    return [line for part in texts for line in sheet.wrapped(part, room, size)]


def _write_entry(
    sheet: WrittenPicture, entry: _Numbered, at: Spot, room: float, scale: float
) -> None:
    size, row = SMALL * scale, _ROW * scale
    radius = 0.56 * row
    x, y = at
    number = str(entry.judgement.number or _CHECK)
    wide = max(2 * radius, sheet.wide(number, size * 0.9, bold=True) + 0.7 * radius)
    box = Rectangle(x, y - radius, x + wide, y + radius)
    badge(sheet, entry.judgement.verdict, box, number, size * 0.9)
    left = x + 1.75 * row
    base = y + 0.36 * size
    who = sheet.fitted(clean(entry.judgement.subject), size, room * 0.6, bold=True)
    sheet.text((left, base), who, size, bold=True)
    after = sheet.wide(who, size, bold=True) + 0.5 * size
    what = sheet.fitted(entry.head, size, room - after)
    sheet.text((left + after, base), what, size)
    for line, colour in entry.lines:
        base += row
        sheet.text((left, base), line, size, colour=colour)
