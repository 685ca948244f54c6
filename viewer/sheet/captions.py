"""What stands about a picture: title, what the colours mean, what the numbers mean."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from viewer.sheet.badges import badge
from viewer.sheet.layout import LINE, MARGIN, SMALL, SPOKEN, TITLE
from viewer.sheet.places import Rectangle
from viewer.sheet.side_list import write_list
from viewer.stage import palette
from viewer.stage.free import FREE
from viewer.stage.ground import GRID_WORDS
from viewer.stage.layers import INTRUSIONS, SPACES, SPACES_MET, WORKING_MET
from viewer.wording.cleaning import clean
from viewer.wording.words import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.sheet.layout import Layout
    from viewer.sheet.letters import Sheet
    from viewer.sheet.places import Spot
    from viewer.sheet.signage import Measure
    from viewer.stage.parts import ListedJudgement, Stage

_SWATCH: Final = 1.5
"""Width of a sign in the legend by the size of the letters."""
_LONGEST_TITLE: Final = 160


def write_captions(sheet: Sheet, stage: Stage, plan: Layout) -> None:
    """Write title, legend and the list of numbers about a picture."""
    edge = MARGIN * plan.scale
    top, bottom = plan.room.top, plan.height - 3.2 * SMALL * plan.scale
    sheet.box(Rectangle(0, 0, plan.width, top), palette.PAPER)
    sheet.box(Rectangle(0, bottom, plan.width, plan.height), palette.PAPER)
    _title(sheet, stage, plan, edge)
    _legend(sheet, stage, plan, edge, plan.height - 1.95 * SMALL * plan.scale)
    small = 0.78 * SMALL * plan.scale
    caution = sheet.fitted(stage.caution, small, plan.width - 2 * edge)
    base = plan.height - 0.7 * SMALL * plan.scale
    sheet.text((edge, base), caution, small, colour=palette.FAINT_INK)
    if plan.panel is not None:
        panel = plan.panel
        sheet.box(panel, palette.PAPER)
        write_list(sheet, plan, panel, edge)
        ends = (panel.left, panel.bottom) if panel.left > 0 else (plan.width, panel.top)
        sheet.line([(panel.left, panel.top), ends], palette.GRID, 1.0)
    if plan.said is not None:
        sheet.box(plan.said, palette.PAPER)
        _words(sheet, plan, plan.said, edge)
        level = plan.said.top
        sheet.line([(0, level), (plan.width, level)], palette.GRID, 1.0)
    for level in (top, bottom):
        sheet.line([(0, level), (plan.width, level)], palette.GRID, 1.0)


def _title(sheet: Sheet, stage: Stage, plan: Layout, edge: float) -> None:
    size, small = TITLE * plan.scale, SMALL * plan.scale
    base = plan.room.top * 0.5 + size * 0.36
    counts = _counts(plan.listed if plan.of is not None else stage.judgements)
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


def _counts(judgements: Sequence[ListedJudgement]) -> str:
    found = Counter(judgement.verdict for judgement in judgements)
    return "   ".join(
        f"{found[verdict]} {word}" for verdict, word in WORDS.items() if found[verdict]
    )


def _legend(sheet: Sheet, stage: Stage, plan: Layout, edge: float, base: float) -> None:
    size = SMALL * plan.scale
    for kind, words, left in legend(stage, plan, sheet.wide):
        middle = (edge + left + _SWATCH * size / 2, base - 0.36 * size)
        _swatch(sheet, kind, middle, 0.6 * size)
        sheet.text((edge + left + (_SWATCH + 0.45) * size, base), words, size)


def legend(
    stage: Stage, plan: Layout, measure: Measure
) -> tuple[tuple[str, str, float], ...]:
    """Return what the legend explains, as far as there is room, what matters first.

    Returns:
        Of each sign its kind, what it means, and its place from the left, pixels.
    """
    size = SMALL * plan.scale
    room = plan.width - 2 * MARGIN * plan.scale
    signs = [*meanings(stage)]
    wide = [(_SWATCH + 0.45) * size + measure(words, size) for _, words in signs]
    spare = (room - sum(wide)) / max(len(signs) - 1, 1)
    gap = min(max(spare, 0.8 * size), 1.5 * size)
    found, at = [], 0.0
    for (kind, words), width in zip(signs, wide, strict=True):
        if at + width > room + 0.5:
            break
        found.append((kind, words, at))
        at += width + gap
    return tuple(found)


def meanings(stage: Stage) -> Iterator[tuple[str, str]]:
    """Yield every sign that a picture of a stage has, and what it means."""
    shown = {layer.id for layer in stage.layers if layer.shown}
    layers = {shape.layer for shape in stage.shapes if shape.layer in shown}
    strong = {SPACES, INTRUSIONS} & shown
    roles = {shape.role for shape in stage.shapes if shape.layer in strong}
    verdicts = {badge.verdict for badge in stage.badges}
    marks = {shape.id for shape in stage.shapes}
    if FREE in layers:
        yield "free", "may be here"
    if "space" in roles:
        yield "space", "must be clear"
    if layers & {WORKING_MET, SPACES_MET}:
        yield "clear", "clear, as required"
    if "intrusion" in roles:
        yield "intrusion", "in the way"
    if "not-met" in verdicts:
        yield "not-met", "not met"
    if "open" in verdicts:
        yield "open", "open, a person must say"
    if any(shape.ghost for shape in stage.shapes):
        yield "ghost", "faint: overhead"
    if any(mark.endswith("/head-height") for mark in marks):
        yield "head-height", "head height"
    if "grid" in marks:
        yield "grid", f"grid {GRID_WORDS[stage.units]}"


def _swatch(sheet: Sheet, kind: str, middle: Spot, half: float) -> None:
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


def _words(sheet: Sheet, plan: Layout, panel: Rectangle, edge: float) -> None:
    """Write what is said below the room, a little larger than a list."""
    size = SPOKEN * plan.scale
    lines = spoken_lines(sheet, plan)
    base = (panel.top + panel.bottom) / 2 + 0.36 * size
    base -= (len(lines) - 1) * LINE / 2 * size
    for line in lines:
        sheet.text((panel.left + edge, base), line, size)
        base += LINE * size


def spoken_lines(sheet: Sheet, plan: Layout) -> list[str]:
    """Return what is said below the room in lines that fit."""
    if plan.said is None:
        return []
    size = SPOKEN * plan.scale
    room = plan.said.right - plan.said.left - 2 * MARGIN * plan.scale
    most = int((plan.said.bottom - plan.said.top) / size / LINE)
    return sheet.wrapped(clean(plan.words), room, size, most)
