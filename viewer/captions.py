"""What stands about a picture: title, what the colours mean, what the numbers mean."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer import palette
from viewer.cleaning import clean
from viewer.layout import SMALL, TITLE
from viewer.placing import Box
from viewer.stage.ground import GRID_WORDS
from viewer.text import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.layout import Layout
    from viewer.lettering import Sheet
    from viewer.placing import Spot
    from viewer.stage.parts import Finding, Stage

_MARGIN: Final = 22.0
_ROW: Final = 19.0
_GAP: Final = 12.0
"""Pixels between two entries of the list."""
_CHECK: Final = "\N{CHECK MARK}"
"""In place of the number of what is met."""
_LONGEST_TITLE: Final = 160
_MOST_LINES: Final = 3
"""Of a reason in the list."""


def write_captions(sheet: Sheet, stage: Stage, plan: Layout) -> None:
    """Write title, legend and the list of numbers about a picture."""
    edge = _MARGIN * plan.scale
    top, bottom = plan.room.top, plan.height - 3.2 * SMALL * plan.scale
    sheet.box(Box(0, 0, plan.width, top), palette.PAPER)
    sheet.box(Box(0, bottom, plan.width, plan.height), palette.PAPER)
    _title(sheet, stage, plan, edge)
    _legend(sheet, stage, plan, edge, plan.height - 1.95 * SMALL * plan.scale)
    small = 0.78 * SMALL * plan.scale
    caution = sheet.fitted(stage.caution, small, plan.width - 2 * edge)
    base = plan.height - 0.7 * SMALL * plan.scale
    sheet.text((edge, base), caution, small, colour=palette.FAINT_INK)
    if plan.panel is not None:
        sheet.box(plan.panel, palette.PAPER)
        if plan.words:
            _words(sheet, plan, plan.panel, edge)
        else:
            _list(sheet, plan, plan.panel, edge)
        left, level = plan.panel.left, plan.panel.top
        if left > 0:
            sheet.line([(left, level), (left, bottom)], palette.GRID, 1.0)
        else:
            sheet.line([(0, level), (plan.width, level)], palette.GRID, 1.0)
    for level in (top, bottom):
        sheet.line([(0, level), (plan.width, level)], palette.GRID, 1.0)


def _title(sheet: Sheet, stage: Stage, plan: Layout, edge: float) -> None:
    size, small = TITLE * plan.scale, SMALL * plan.scale
    base = plan.room.top * 0.5 + size * 0.36
    counts = _counts(plan.listed if plan.of is not None else stage.findings)
    right = plan.width - edge
    sheet.text((right, base), counts, small, place="rs", bold=True)
    room = right - sheet.wide(counts, small, bold=True) - edge - edge
    title, more = clean(stage.title, _LONGEST_TITLE), clean(stage.rules)
    if plan.of is not None:
        words = next(s.label for s in stage.shapes if s.item == plan.of)
        title, more = clean(words or plan.of, _LONGEST_TITLE), f"{title}, {more}"
    if plan.title:
        title, more = clean(plan.title, _LONGEST_TITLE), f"{title}, {more}"
    title = sheet.fitted(title, size, room, bold=True)
    sheet.text((edge, base), title, size, bold=True)
    at = sheet.wide(title, size, bold=True) + 0.7 * size
    more = sheet.fitted(more, small, room - at)
    sheet.text((edge + at, base), more, small, colour=palette.FAINT_INK)


def _counts(findings: Sequence[Finding]) -> str:
    found = Counter(finding.verdict for finding in findings)
    return "   ".join(
        f"{found[verdict]} {word}" for verdict, word in WORDS.items() if found[verdict]
    )


def _legend(sheet: Sheet, stage: Stage, plan: Layout, edge: float, base: float) -> None:
    size = SMALL * plan.scale
    at = edge
    for kind, words in _meanings(stage):
        wide = 1.5 * size
        if at + wide + sheet.wide(words, size) > plan.width - edge:
            break
        middle = (at + wide / 2, base - 0.36 * size)
        _swatch(sheet, kind, middle, 0.6 * size)
        sheet.text((at + wide + 0.45 * size, base), words, size)
        at += wide + sheet.wide(words, size) + 1.9 * size


def _meanings(stage: Stage) -> Iterator[tuple[str, str]]:
    shown = {layer.id for layer in stage.layers if layer.shown}
    roles = {shape.role for shape in stage.shapes if shape.layer in shown}
    verdicts = {badge.verdict for badge in stage.badges}
    marks = {shape.id for shape in stage.shapes}
    if "space" in roles:
        yield "space", "must be clear"
    if "intrusion" in roles:
        yield "intrusion", "in the way"
    if "not-met" in verdicts:
        yield "not-met", "not met"
    if "open" in verdicts:
        yield "open", "open, a person must say"
    if any(shape.ghost for shape in stage.shapes):
        yield "ghost", "overhead, in no finding"
    if any(mark.endswith("/head-height") for mark in marks):
        yield "head-height", "head height"
    if "grid" in marks:
        yield "grid", f"grid {GRID_WORDS[stage.units]}"


def _swatch(sheet: Sheet, kind: str, middle: Spot, half: float) -> None:
    x, y = middle
    box = Box(x - half, y - half, x + half, y + half)
    match kind:
        case "space":
            fill = palette.mixed(palette.PAPER, palette.SPACE, 0.35)
            sheet.box(box, fill, edge=palette.SPACE_EDGE, width=2.0)
        case "intrusion":
            edge = palette.INTRUSION_EDGE
            sheet.box(box, palette.INTRUSION, edge=edge, width=1.5)
        case "ghost":
            fill = palette.mixed(palette.PAPER, palette.EDGE, 0.12)
            edge = palette.mixed(palette.PAPER, palette.EDGE, 0.45)
            sheet.box(box, fill, edge=edge, width=1.0)
        case "not-met" | "open":
            badge(sheet, kind, box, "n", 1.15 * half)
        case "head-height":
            wide = 1.2 * half
            sheet.dashes((x - wide, y), (x + wide, y), palette.MARK, 1.5)
        case "grid":
            for one in (-half / 3, half / 3):
                sheet.line([(x - half, y + one), (x + half, y + one)], palette.MARK, 1)
                sheet.line([(x + one, y - half), (x + one, y + half)], palette.MARK, 1)


def badge(sheet: Sheet, kind: str, box: Box, text: str, size: float) -> None:
    """Draw a badge: filled for what is not met, a ring for what is open.

    What is met has a faint ring.
    """
    bad = kind == "not-met"
    rim = palette.FAINT_INK if kind == "met" else palette.INK
    radius = (box.bottom - box.top) / 2
    sheet.box(box.wider(1.5), palette.PAPER, radius=radius + 1.5)
    sheet.box(
        box,
        palette.INTRUSION if bad else palette.PAPER,
        edge=palette.INTRUSION_EDGE if bad else rim,
        width=2.0 if kind == "open" else 1.2,
        radius=radius,
    )
    colour = palette.PAPER if bad else rim
    x, y = box.middle
    sheet.text((x, y + 0.36 * size), text, size, colour=colour, bold=True, place="ms")


@dataclass(frozen=True, slots=True)
class _Entry:
    """One number of the list: who, and lines below in their colours."""

    finding: Finding
    head: str
    lines: tuple[tuple[str, str], ...]


def _list(sheet: Sheet, plan: Layout, panel: Box, edge: float) -> None:
    """List what the numbers stand for, as far as there is room."""
    scale = plan.scale
    row, gap = _ROW * scale, _GAP * scale
    column = (panel.right - panel.left - edge) / plan.columns
    room = column - edge - 2.0 * row
    x, y, at = panel.left + 0.8 * edge, panel.top + edge, 0
    for count, finding in enumerate(plan.listed):
        entry = _entry(sheet, finding, room, SMALL * scale)
        tall = (1 + len(entry.lines)) * row
        last = len(plan.listed) - count == 1
        spare = 0.0 if last else 1.2 * row
        if y + tall + spare > panel.bottom and at < plan.columns - 1:
            at += 1
            x, y = x + column, panel.top + edge
        if y + tall + spare > panel.bottom:
            more = f"and {len(plan.listed) - count} more in the report"
            base = min(y + 0.5 * row, panel.bottom - 0.5 * row)
            sheet.text((x, base), more, SMALL * scale, colour=palette.FAINT_INK)
            break
        _write_entry(sheet, entry, (x, y), room, scale)
        y += tall + gap


def _words(sheet: Sheet, plan: Layout, panel: Box, edge: float) -> None:
    """Write what is said below the room, a little larger than a list."""
    size = 1.1 * SMALL * plan.scale
    room = panel.right - panel.left - 2 * edge
    lines = _wrapped(sheet, clean(plan.words), room, size, _MOST_LINES)
    base = (panel.top + panel.bottom) / 2 + 0.36 * size
    base -= (len(lines) - 1) * 0.7 * size
    for line in lines:
        sheet.text((panel.left + edge, base), line, size)
        base += 1.4 * size


def _entry(sheet: Sheet, finding: Finding, room: float, size: float) -> _Entry:
    name = ", ".join(part for part in (finding.title.lower(), finding.part) if part)
    said: list[tuple[str, str]] = []
    who = sheet.wide(clean(finding.subject), size, bold=True) + 0.5 * size
    if who + sheet.wide(name, size) > room:
        said += [(line, palette.INK) for line in _wrapped(sheet, name, room, size)]
        name = ""
    told = len(said)
    for one in finding.sizes:
        if one.short:
            needs, there = (
                f"{one.name} {one.required} required",
                f"{one.provided} there",
            )
            said += [(line, palette.INK) for line in _wrapped(sheet, needs, room, size)]
            there_lines = _wrapped(sheet, there, room, size)
            said += [(line, palette.INTRUSION_TEXT) for line in there_lines]
    if len(said) > told and finding.in_the_way:
        names = clean(", ".join(finding.in_the_way))
        way = sheet.fitted(f"in the way: {names}", size, room)
        said.append((way, palette.INK))
    if len(said) == told and finding.verdict == "met":
        said += [
            (line, palette.INK)
            for s in finding.sizes
            if s.required
            for line in _wrapped(sheet, f"{s.name} {s.required}", room, size)
        ]
    if len(said) == told:
        reason = clean(finding.reason)
        if finding.verdict == "not-met":
            reason = reason.split(". ")[0].rstrip(".") + "."
        lines = _wrapped(sheet, reason, room, size, _MOST_LINES)
        said += [(line, palette.INK) for line in lines]
    cited = sheet.fitted(clean(finding.citation), size, room)
    return _Entry(finding, name, (*said, (cited, palette.FAINT_INK)))


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


def _wrapped(
    sheet: Sheet, text: str, room: float, size: float, most: int = 2
) -> list[str]:
    """Return a text in lines that fit; what is too long ends in an ellipsis."""
    lines: list[str] = []
    now = ""
    words = text.split()
    for place, word in enumerate(words):
        longer = f"{now} {word}".strip()
        if now and sheet.wide(longer, size) > room:
            if len(lines) == most - 1:
                now = " ".join([now, *words[place:]])
                break
            lines.append(sheet.fitted(now, size, room))
            now = word
        else:
            now = longer
    return [*lines, sheet.fitted(now, size, room)]
