"""The list beside a picture: what its numbers stand for, as far as there is room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.sheet.badges import badge
from viewer.sheet.layout import SMALL
from viewer.sheet.places import Box
from viewer.stage import palette
from viewer.wording.cleaning import clean
from viewer.wording.words import first_sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.sheet.layout import Layout
    from viewer.sheet.letters import Sheet
    from viewer.sheet.places import Spot
    from viewer.stage.parts import Finding

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
class _Entry:
    """One number of the list: who, and lines below in their colours."""

    finding: Finding
    head: str
    lines: tuple[tuple[str, str], ...]


def write_list(sheet: Sheet, plan: Layout, panel: Box, edge: float) -> None:
    """List what the numbers stand for, as far as there is room.

    Reasons are told in full if all of them have room then.
    """
    scale = plan.scale
    row = _ROW * scale
    column = (panel.right - panel.left - edge) / plan.columns
    room = column - edge - 2.0 * row
    for most in (_ALL_LINES, _MOST_LINES):
        entries = [
            _entry(sheet, finding, room, SMALL * scale, most)
            for finding in plan.listed[:_MOST_ENTRIES]
        ]
        spots, end = _spots(entries, plan, panel, edge)
        left = len(plan.listed) - len(spots)
        if not left:
            break
    for entry, spot in zip(entries, spots, strict=False):
        _write_entry(sheet, entry, spot, room, scale)
    if left:
        x, y = end
        base = min(y + 0.5 * row, panel.bottom - 0.5 * row)
        more = f"and {left} more in the report"
        sheet.text((x, base), more, SMALL * scale, colour=palette.FAINT_INK)


def _spots(
    entries: Sequence[_Entry], plan: Layout, panel: Box, edge: float
) -> tuple[list[Spot], Spot]:
    """Return the place of each entry that has room, and where the list ends."""
    row, gap = _ROW * plan.scale, _GAP * plan.scale
    column = (panel.right - panel.left - edge) / plan.columns
    found: list[Spot] = []
    at, x, y = 1, panel.left + 0.8 * edge, panel.top + edge
    for entry in entries:
        tall = (1 + len(entry.lines)) * row
        last = len(plan.listed) - len(found) == 1
        end = y + tall + (0.0 if last else 1.2 * row)
        if end > panel.bottom and at < plan.columns:
            end += panel.top + edge - y
            at, x, y = at + 1, x + column, panel.top + edge
        if end > panel.bottom:
            break
        found.append((x, y))
        y += tall + gap
    return found, (x, y)


def _entry(
    sheet: Sheet, finding: Finding, room: float, size: float, most: int
) -> _Entry:
    name = ", ".join(part for part in (finding.title.lower(), finding.part) if part)
    said: list[tuple[str, str]] = []

    def say(lines: Iterable[str], colour: str = palette.INK) -> None:
        said.extend((line, colour) for line in lines)

    who = sheet.wide(clean(finding.subject), size, bold=True) + 0.5 * size
    if who + sheet.wide(name, size) > room:
        say(sheet.wrapped(name, room, size))
        name = ""
    told = [*_short(finding)] or [(text, palette.INK) for text in _needed(finding)]
    for text, colour in told:
        say(_broken(sheet, text, room, size), colour)
    if told and finding.verdict != "met" and finding.named:
        names = clean(", ".join(finding.named))
        say([sheet.fitted(f"in the way: {names}", size, room)])
    for text in _sentences(finding, in_full=not told):
        say(sheet.wrapped(text, room, size, most))
    cited = sheet.wrapped(clean(finding.citation), room, size)
    say(cited, palette.FAINT_INK)
    return _Entry(finding, name, tuple(said))


def _short(finding: Finding) -> Iterator[tuple[str, str]]:
    """Yield what is required of each size that is short, and what is there."""
    for one in finding.sizes:
        if one.short and one.most:
            yield f"{one.name} {one.required}", palette.INK
            yield f"it is {one.provided}", palette.INTRUSION_TEXT
        elif one.short:
            yield f"{one.name} {one.required} required", palette.INK
            yield f"{one.provided} there", palette.INTRUSION_TEXT


def _needed(finding: Finding) -> Iterator[str]:
    """Yield what is required of what is met."""
    for one in finding.sizes:
        if one.required and finding.verdict == "met":
            yield f"{one.name} {one.required}"


def _sentences(finding: Finding, *, in_full: bool) -> Iterator[str]:
    """Yield what is said beside sizes, or why in full where there are none."""
    if in_full:
        yield _reason(finding)
        if finding.measured:
            yield f"Measured: {finding.measured}."
    elif finding.missing:
        yield clean(finding.missing)
    if finding.exception:
        yield f"By an exception: {clean(finding.exception)}"


def _reason(finding: Finding) -> str:
    """Return why, of what is not met in a sentence."""
    reason = clean(finding.reason)
    return first_sentence(reason) if finding.verdict == "not-met" else reason


def _broken(sheet: Sheet, text: str, room: float, size: float) -> list[str]:
    """Return a size in one line, or with the other system of units below."""
    head, bracket, rest = text.partition(" (")
    if not bracket or sheet.wide(text, size) <= room:
        return sheet.wrapped(text, room, size)
    below = sheet.wrapped(f"({rest}", room, size)
    return [*sheet.wrapped(head, room, size), *below]


def _write_entry(
    sheet: Sheet, entry: _Entry, at: Spot, room: float, scale: float
) -> None:
    size, row = SMALL * scale, _ROW * scale
    radius = 0.56 * row
    x, y = at
    number = str(entry.finding.number or _CHECK)
    wide = max(2 * radius, sheet.wide(number, size * 0.9, bold=True) + 0.7 * radius)
    box = Box(x, y - radius, x + wide, y + radius)
    badge(sheet, entry.finding.verdict, box, number, size * 0.9)
    left = x + 1.75 * row
    base = y + 0.36 * size
    who = sheet.fitted(clean(entry.finding.subject), size, room * 0.6, bold=True)
    sheet.text((left, base), who, size, bold=True)
    after = sheet.wide(who, size, bold=True) + 0.5 * size
    what = sheet.fitted(entry.head, size, room - after)
    sheet.text((left + after, base), what, size)
    for line, colour in entry.lines:
        base += row
        sheet.text((left, base), line, size, colour=colour)
