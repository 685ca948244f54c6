"""What stands about a picture: title, what the colours mean, what the numbers mean."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from viewer.sheet.badges import badge
from viewer.sheet.layout import (
    CAUTION_LETTERS,
    CAUTION_ROW,
    LEGEND_ROW,
    LINE,
    MARGIN,
    SPOKEN,
    TITLE,
    heading,
)
from viewer.sheet.letters import SMALL
from viewer.sheet.meanings import meanings
from viewer.sheet.side_list import write_list
from viewer.sheet.sign_places import Rectangle
from viewer.stage import palette
from viewer.wording.cleaning import clean
from viewer.wording.words import WORDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.sheet.layout import Layout
    from viewer.sheet.letters import WrittenPicture
    from viewer.sheet.sign_places import Spot
    from viewer.sheet.signage import Measure
    from viewer.stage.parts import Stage
    from viewer.stage.rows import ListedJudgement

_SWATCH: Final = 1.5
"""Width of a sign in the legend by the size of the letters."""
_LEAST_TITLE: Final = 0.7
"""A title that is too long gets so much smaller before it is cut."""


def write_captions(sheet: WrittenPicture, stage: Stage, plan: Layout) -> None:
    """Write title, legend and the list of numbers about a picture."""
    edge = MARGIN * plan.scale
    top, bottom = plan.room.top, plan.height - plan.foot
    sheet.box(Rectangle(0, 0, plan.width, top), palette.PAPER)
    sheet.box(Rectangle(0, bottom, plan.width, plan.height), palette.PAPER)
    _title(sheet, stage, plan, edge)
    _legend(sheet, stage, plan, edge, bottom + 1.25 * SMALL * plan.scale)
    _caution(sheet, stage, plan, edge)
    if plan.panel is not None and plan.columns is not None:
        panel = plan.panel
        sheet.box(panel, palette.PAPER)
        write_list(sheet, plan.listed, panel, plan.columns)
        ends = (panel.left, panel.bottom) if panel.left > 0 else (plan.width, panel.top)
        sheet.line([(panel.left, panel.top), ends], palette.GRID, 1.0)
    if plan.said is not None:
        sheet.box(plan.said, palette.PAPER)
        _words(sheet, plan, plan.said, edge)
        level = plan.said.top
        sheet.line([(0, level), (plan.width, level)], palette.GRID, 1.0)
    for level in (top, bottom):
        sheet.line([(0, level), (plan.width, level)], palette.GRID, 1.0)


def _title(sheet: WrittenPicture, stage: Stage, plan: Layout, edge: float) -> None:
    size, small = TITLE * plan.scale, SMALL * plan.scale
    apart = plan.room.top > 2.5 * size  # all but the title has a row of its own
    base = plan.room.top * (0.33 if apart else 0.5) + size * 0.36
    below = plan.room.top * 0.8 if apart else base
    # What is met is counted where it has no room in the list.
    about = [one for one in stage.judgements if plan.of in {None, one.subject}]
    counts = _counts(about if plan.of is None or plan.listed else ())
    right = plan.width - edge
    sheet.text((right, below), counts, small, place="rs", bold=True)
    beside = right - sheet.wide(counts, small, bold=True) - edge - edge
    room = right - edge if apart else beside
    title, more = heading(stage, plan.of, plan.title)
    wide = sheet.wide(title, size, bold=True)
    size *= min(max(room / wide, _LEAST_TITLE), 1.0) if wide else 1.0
    title = sheet.fitted(title, size, room, bold=True)
    sheet.text((edge, base), title, size, bold=True)
    at = 0.0 if apart else sheet.wide(title, size, bold=True) + 0.7 * size
    more = sheet.fitted(more, small, beside - at)
    sheet.text((edge + at, below), more, small, colour=palette.FAINT_INK)


def _counts(judgements: Sequence[ListedJudgement]) -> str:
    found = Counter(judgement.verdict for judgement in judgements)
    return "   ".join(
        f"{found[verdict]} {word}" for verdict, word in WORDS.items() if found[verdict]
    )


def _legend(
    sheet: WrittenPicture, stage: Stage, plan: Layout, edge: float, base: float
) -> None:
    size = SMALL * plan.scale
    for kind, words, left, row in legend(stage, plan, sheet.wide):
        level = base + row * LEGEND_ROW * size
        middle = (edge + left + _SWATCH * size / 2, level - 0.36 * size)
        _swatch(sheet, kind, middle, 0.6 * size)
        sheet.text((edge + left + (_SWATCH + 0.45) * size, level), words, size)


def _caution(sheet: WrittenPicture, stage: Stage, plan: Layout, edge: float) -> None:
    """Write what a reader must know, all of it."""
    small = CAUTION_LETTERS * plan.scale
    lines = sheet.wrapped(stage.caution, plan.width - 2 * edge, small)
    base = plan.height - 0.7 * SMALL * plan.scale
    for line in reversed(lines):
        sheet.text((edge, base), line, small, colour=palette.FAINT_INK)
        base -= CAUTION_ROW * SMALL * plan.scale


def legend(
    stage: Stage, plan: Layout, measure: Measure
) -> tuple[tuple[str, str, float, int], ...]:
    """Return what the legend explains, all of it, what matters first.

    Returns:
        Of each sign its kind, what it means, its place from the left, pixels, and its
        row.
    """
    size = SMALL * plan.scale
    room = plan.width - 2 * MARGIN * plan.scale
    signs = [*meanings(stage)]
    wide = [(_SWATCH + 0.45) * size + measure(words, size) for _, words in signs]
    spare = (room - sum(wide)) / max(len(signs) - 1, 1)
    gap = min(max(spare, 0.8 * size), 1.5 * size)
    found, at, row = [], 0.0, 0
    for (kind, words), width in zip(signs, wide, strict=True):
        if at and at + width > room + 0.5:
            at, row = 0.0, row + 1
        found.append((kind, words, at, row))
        at += width + gap
    return tuple(found)


def _swatch(sheet: WrittenPicture, kind: str, middle: Spot, half: float) -> None:
    x, y = middle
    box = Rectangle(x - half, y - half, x + half, y + half)
    match kind:
        case "space":
            fill = palette.mixed(palette.PAPER, palette.SPACE, 0.35)
            sheet.box(box, fill, edge=palette.SPACE_EDGE, width=2.0)
        case "free":
            fill = palette.mixed(palette.PAPER, palette.FREE, 0.55)
            sheet.box(box, fill, edge=palette.FREE_EDGE, width=1.5)
        case "clear":
            fill = palette.mixed(palette.PAPER, palette.SPACE, 0.12)
            sheet.box(box, fill, edge=palette.CLEAR_EDGE, width=1.0)
        case "intrusion":
            edge = palette.INTRUSION_EDGE
            sheet.box(box, palette.INTRUSION, edge=edge, width=1.5)
            for off in (-half, 0.0, half):
                one = max(-half, off - half), min(half, off + half)
                other = min(half, off + half), max(-half, off - half)
                ends = [(x + one[0], y + one[1]), (x + other[0], y + other[1])]
                sheet.line(ends, edge, 1.0)
        case "ghost":
            fill = palette.mixed(palette.PAPER, palette.EDGE, 0.12)
            edge = palette.mixed(palette.PAPER, palette.EDGE, 0.45)
            sheet.box(box, fill, edge=edge, width=1.0)
        case "not-met" | "open":
            badge(sheet, kind, box, "n", 1.15 * half)
        case _:
            _lines_swatch(sheet, kind, middle, half)


def _lines_swatch(sheet: WrittenPicture, kind: str, middle: Spot, half: float) -> None:
    """Draw a sign that is made of lines."""
    x, y = middle
    match kind:
        case "way":
            box = Rectangle(x - half, y - half, x + half, y + half)
            sheet.box(box, palette.WAY)
            sheet.dashes((x - half, y), (x + half, y), palette.WAY_EDGE, 1.5)
        case "person":
            head = (x, y - 0.55 * half)
            sheet.disc(head, 0.4 * half, palette.MARK, edge=palette.MARK, width=0.0)
            body = Rectangle(x - half / 2, y - 0.1 * half, x + half / 2, y + half)
            sheet.box(body, palette.MARK, radius=0.3 * half)
        case "head-height":
            wide = 1.2 * half
            sheet.dashes((x - wide, y), (x + wide, y), palette.MARK, 1.5)
        case "grid":
            for one in (-half / 3, half / 3):
                sheet.line([(x - half, y + one), (x + half, y + one)], palette.MARK, 1)
                sheet.line([(x + one, y - half), (x + one, y + half)], palette.MARK, 1)


def _words(sheet: WrittenPicture, plan: Layout, panel: Rectangle, edge: float) -> None:
    """Write what is said below the room, a little larger than a list."""
    size = SPOKEN * plan.scale
    lines = spoken_lines(sheet, plan)
    base = (panel.top + panel.bottom) / 2 + 0.36 * size
    base -= (len(lines) - 1) * LINE / 2 * size
    for line in lines:
        sheet.text((panel.left + edge, base), line, size)
        base += LINE * size


def spoken_lines(sheet: WrittenPicture, plan: Layout) -> list[str]:
    """Return what is said below the room in lines that fit."""
    if plan.said is None:
        return []
    size = SPOKEN * plan.scale
    room = plan.said.right - plan.said.left - 2 * MARGIN * plan.scale
    most = int((plan.said.bottom - plan.said.top) / size / LINE)
    return sheet.wrapped(clean(plan.words), room, size, most)
