"""What stands about a picture: title, what the colours mean, what the numbers mean."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer import palette
from viewer.cleaning import clean
from viewer.placing import Box
from viewer.stage.ground import GRID_WORDS
from viewer.text import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.lettering import Sheet
    from viewer.placing import Spot
    from viewer.stage.parts import Finding, Stage

TITLE: Final = 22.0
"""Pixels. Size of the title's letters in a picture 1000 pixels high."""
SMALL: Final = 13.5
"""Pixels. Size of all other letters about the picture."""
_MARGIN: Final = 22.0
_ROW: Final = 22.0
_MOST_SHARE: Final = 0.24
"""Of the picture's height that the list of numbers may take."""
_LONGEST_TITLE: Final = 120


@dataclass(frozen=True, slots=True)
class Layout:
    """How a picture is divided, pixels.

    Attributes:
        scale: Of letters.
        room: Where the room is drawn.
        rows: How many rows the list of numbers has.
        columns: How many columns.
    """

    scale: float
    room: Box
    rows: int
    columns: int


def layout(stage: Stage, width: int, height: int) -> Layout:
    """Divide a picture into title, room, and the two strips below it."""
    scale = min(max((width / 1600 + height / 1000) / 2, 0.8), 4.0)
    numbered = sum(finding.number is not None for finding in stage.findings)
    columns = 2 if width >= 1000 * scale else 1
    most = max(1, int(_MOST_SHARE * height / (_ROW * scale)))
    rows = min(-(-numbered // columns), most)
    top = 2.3 * TITLE * scale
    below = (rows + 1.5) * _ROW * scale + (0.5 * _ROW * scale if rows else 0)
    return Layout(scale, Box(0.0, top, width, height - below), rows, columns)


def write_captions(sheet: Sheet, stage: Stage, plan: Layout, subtitle: str) -> None:
    """Write title, legend and the list of numbers about a picture."""
    edge = _MARGIN * plan.scale
    room = plan.room
    sheet.box(Box(0, 0, sheet.width, room.top), palette.PAPER)
    sheet.box(Box(0, room.bottom, sheet.width, sheet.height), palette.PAPER)
    for level in (room.top, room.bottom):
        sheet.line([(0, level), (sheet.width, level)], palette.GRID, 1.0)
    _title(sheet, stage, plan, edge, subtitle)
    below = room.bottom + _ROW * plan.scale
    _legend(sheet, stage, plan, edge, below)
    if plan.rows:
        _numbers(sheet, stage, plan, edge, below + 1.2 * _ROW * plan.scale)


def _title(
    sheet: Sheet, stage: Stage, plan: Layout, edge: float, subtitle: str
) -> None:
    size, small = TITLE * plan.scale, SMALL * plan.scale
    base = plan.room.top * 0.5 + size * 0.36
    counts = _counts(stage)
    right = sheet.width - edge
    sheet.text((right, base), counts, small, place="rs", bold=True)
    room = sheet.width - 3 * edge - sheet.wide(counts, small, bold=True)
    title = clean(stage.title, _LONGEST_TITLE)
    title = sheet.fitted(title, size, room, bold=True)
    sheet.text((edge, base), title, size, bold=True)
    at = edge + sheet.wide(title, size, bold=True) + 0.7 * size
    more = sheet.fitted(
        clean(subtitle), small, right - at - 2 * small - sheet.wide(counts, small)
    )
    sheet.text((at, base), more, small, colour=palette.FAINT_INK)


def _counts(stage: Stage) -> str:
    found = Counter(finding.verdict for finding in stage.findings)
    return "   ".join(
        f"{found[verdict]} {word}" for verdict, word in WORDS.items() if found[verdict]
    )


def _legend(
    sheet: Sheet, stage: Stage, plan: Layout, edge: float, base: float
) -> None:
    size = SMALL * plan.scale
    at = edge
    for kind, words in _meanings(stage):
        wide = 1.5 * size
        middle = (at + wide / 2, base - 0.36 * size)
        _swatch(sheet, kind, middle, 0.62 * size)
        sheet.text((at + wide + 0.45 * size, base), words, size)
        at += wide + sheet.wide(words, size) + 2.2 * size
        if at > sheet.width - edge:
            break


def _meanings(stage: Stage) -> Iterator[tuple[str, str]]:
    roles = {shape.role for shape in stage.shapes}
    verdicts = {badge.verdict for badge in stage.badges}
    marks = {shape.id for shape in stage.shapes}
    if "space" in roles:
        yield "space", "space that must be clear"
    if "intrusion" in roles:
        yield "intrusion", "in the way"
    if "not-met" in verdicts:
        yield "not-met", "not met"
    if "open" in verdicts:
        yield "open", "open: somebody must say"
    if "head-height" in marks:
        yield "head-height", "head height of the working space"
    if "grid" in marks:
        yield "grid", f"floor grid {GRID_WORDS[stage.units]}"


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
        case "not-met":
            badge(sheet, kind, box, "n", 1.15 * half)
        case "open":
            badge(sheet, kind, box, "n", 1.15 * half)
        case "head-height":
            sheet.dashes((x - half, y), (x + half, y), palette.MARK, 1.5)
        case "grid":
            for one in (-half / 3, half / 3):
                sheet.line([(x - half, y + one), (x + half, y + one)], palette.MARK, 1)
                sheet.line([(x + one, y - half), (x + one, y + half)], palette.MARK, 1)


def badge(sheet: Sheet, kind: str, box: Box, text: str, size: float) -> None:
    """Draw a badge: filled for what is not met, a ring for what is open."""
    bad = kind == "not-met"
    radius = (box.bottom - box.top) / 2
    sheet.box(box.wider(1.5), palette.PAPER, radius=radius + 1.5)
    sheet.box(
        box,
        palette.INTRUSION if bad else palette.PAPER,
        edge=palette.INTRUSION_EDGE if bad else palette.INK,
        width=1.2 if bad else 2.0,
        radius=radius,
    )
    colour = palette.PAPER if bad else palette.INK
    x, y = box.middle
    sheet.text((x, y + 0.36 * size), text, size, colour=colour, bold=True, place="ms")


def _numbers(
    sheet: Sheet, stage: Stage, plan: Layout, edge: float, top: float
) -> None:
    """List what the numbers stand for, as far as there is room."""
    size, row = SMALL * plan.scale, _ROW * plan.scale
    numbered = [finding for finding in stage.findings if finding.number is not None]
    places = plan.rows * plan.columns
    shown = numbered if len(numbered) <= places else numbered[: places - 1]
    wide = (sheet.width - 2 * edge) / plan.columns
    radius = 0.44 * row
    for place, finding in enumerate(shown):
        column, line = divmod(place, plan.rows)
        x, y = edge + column * wide, top + (line + 0.1) * row
        number = str(finding.number)
        across = max(radius, sheet.wide(number, size * 0.85, bold=True) / 2 + 3)
        box = Box(x, y - radius, x + 2 * across, y + radius)
        badge(sheet, finding.verdict, box, number, size * 0.85)
        x += 2 * radius + 0.6 * size
        head = f"{clean(finding.subject, 40)}  "
        base = y + 0.36 * size
        sheet.text((x, base), head, size, bold=True)
        x += sheet.wide(head, size, bold=True)
        room = edge + (column + 1) * wide - size - x
        sheet.text((x, base), sheet.fitted(sentence(finding), size, room), size)
    if len(shown) < len(numbered):
        x = edge + (plan.columns - 1) * wide
        y = top + (plan.rows - 0.9) * row + 0.36 * size
        more = f"and {len(numbered) - len(shown)} more in the report"
        sheet.text((x, y), more, size, colour=palette.FAINT_INK)


def sentence(finding: Finding) -> str:
    """Say in a line what is required and what is there."""
    name = ", ".join(part for part in (finding.title.lower(), finding.part) if part)
    for size in finding.sizes:
        if size.short:
            return f"{name}: {size.name} {size.required}, there {size.provided}"
    return f"{name}: {clean(finding.reason)}"
