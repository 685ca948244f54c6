"""What is written about the room: title, judgements, lesson, keys and caution."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from PIL import Image

from model3d.wording import bracketed, length
from viewer.sheet.letters import WrittenPicture
from viewer.sheet.meanings import SIGNS, meanings
from viewer.stage import palette
from viewer.stage.taught.lesson_progress import changes, step_at, title_of
from viewer.window.keyboard import KEYS, LESSON
from viewer.wording.cleaning import clean
from viewer.wording.words import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.sheet.sign_places import Rectangle, Spot
    from viewer.stage.drawn import Point
    from viewer.stage.rows import ListedJudgement
    from viewer.window.division import Division
    from viewer.window.state import State

_SHEET: Final = WrittenPicture(Image.new("RGB", (1, 1)), 1)
"""Only measures, letters as large as the graphics draw them."""
LETTERS: Final = 14.0
"""Pixels. Size of the largest letters but the title's, in a window of 1600 by 1000."""
SMALL: Final = 12.0
_wide, _wrapped = _SHEET.wide, _SHEET.wrapped
_EDGE: Final = 14.0
"""Pixels about what is written."""
_LINE: Final = 1.42
"""Height of a line by the size of its letters."""
_LONGEST: Final = 1200
"""Characters of a text that are shown."""
_MOST_LINES: Final = 40
_LETTERS_OF: Final = {
    "space": ("■", palette.SPACE_EDGE),
    "clear": ("□", palette.CLEAR_EDGE),
    "intrusion": ("▨", palette.INTRUSION_EDGE),
    "way": ("▬", palette.WAY_EDGE),
    "not-met": ("●", palette.INTRUSION_TEXT),
    "open": ("○", palette.INK),
    "ghost": ("□", palette.FAINT_INK),
    "head-height": ("╌", palette.MARK),
    "grid": ("▦", palette.MARK),
}
"""Of each sign of the legend the letter that shows it, and its colour."""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text in the window.

    Attributes:
        text: One line.
        at: Its left end, halfway up, pixels from the top left.
        size: Height of the letters, pixels.
        colour: As #RRGGBB.
        bold: Heavy letters.
    """

    text: str
    at: Spot
    size: float
    colour: str = palette.INK
    bold: bool = False


OF_STEP: Final = "This step shows layers of its own; yours are back after it."


def words(state: State, frame: Division, eye: Point) -> Iterator[Words]:
    """Yield all that is written about the room, apart from the signs in it.

    Args:
        state: What the window shows.
        frame: How it is divided.
        eye: Where the camera is, which decides what a section shows.
    """
    yield from _head(state, frame)
    yield from _side(state, frame)
    if frame.lesson is not None:
        yield from _lesson(state, frame.lesson, frame.scale)
    foot = _Stack(frame.foot, frame.scale, 0.9 * SMALL, above=0.45)
    yield from foot.write(state.stage.caution, colour=palette.FAINT_INK)
    if state.section is not None:
        at = length(abs(state.section.at), state.stage.units)
        below = "-" if state.section.at < 0 else ""
        text = f"{state.section.cut(eye).words}, at {below}{at}"
        yield from _Stack(frame.room, frame.scale, LETTERS).write(text, bold=True)


class _Stack:
    """Writes one line below the other."""

    def __init__(
        self, box: Rectangle, scale: float, size: float, *, above: float = 1.0
    ) -> None:
        edge = _EDGE * scale
        self.left, self.right = box.left + edge, box.right - edge
        self.y, self.bottom = box.top + above * edge, box.bottom
        self.scale, self.size = scale, size * scale

    @property
    def line(self) -> float:
        return float(_LINE * self.size)

    @property
    def middle(self) -> float:
        return self.y + self.line / 2

    def write(
        self,
        text: str,
        *,
        indent: float = 0.0,
        colour: str = palette.INK,
        bold: bool = False,
        most: int = _MOST_LINES,
    ) -> Iterator[Words]:
        """Write a text in as many lines as it takes, or in the first few."""
        left = self.left + indent
        # The graphics' letters are a little wider than those that are measured, and
        # heavy ones wider still.
        room = (self.right - left) * (0.87 if bold else 0.97)
        text = clean(text, _LONGEST)
        for one in _wrapped(text, room, self.size, most) if text else ():
            yield Words(one, (left, self.middle), self.size, colour, bold=bold)
            self.y += self.line

    def sign(self, text: str, *, indent: float = 0.0, **look: Any) -> Words:  # noqa: ANN401 - as of words
        """Write a short text at the left of a line whose rest is still to come."""
        return Words(text, (self.left + indent, self.middle), self.size, **look)

    def last(self, text: str) -> Words:
        """Write a short text at the right end of a line; the column gets narrower."""
        self.right -= 1.05 * _wide(text, self.size) + self.size
        at = self.right + self.size, self.middle
        return Words(text, at, self.size, palette.FAINT_INK)


def _head(state: State, frame: Division) -> Iterator[Words]:
    size, edge = LETTERS * frame.scale, 1.2 * _EDGE * frame.scale
    middle = (frame.head.top + frame.head.bottom) / 2
    counts = Counter(one.verdict for one in state.listed)
    right = frame.head.right - edge
    for verdict, told in reversed(WORDS.items()) if state.listed else ():
        text, bad = f"{counts[verdict]} {told}", verdict == "not-met"
        bad = bad and counts[verdict] > 0
        right -= _wide(text, size, bold=True)
        colour = palette.INTRUSION_TEXT if bad else palette.INK
        yield Words(text, (right, middle), size, colour, bold=bad)
        right -= 1.4 * edge
    rules = clean(state.stage.rules, _LONGEST)
    room = 0.7 * (right - 2 * edge - _wide(rules, size))
    (title,) = _wrapped(clean(state.stage.title, _LONGEST), room, size, 1)
    yield Words(title, (edge, middle), 1.25 * size, bold=True)
    after = 2 * edge + 1.06 * _wide(title, 1.25 * size, bold=True)
    yield Words(rules, (after, middle), size, palette.FAINT_INK)


def _side(state: State, frame: Division) -> Iterator[Words]:
    column = _Stack(frame.side, frame.scale, SMALL)
    if state.panel == "keys":
        yield from _keys(column, state)
        return
    yield from _legend(column, state)
    if state.panel == "layers":
        yield from _layers(column, state)
    elif state.picked is not None:
        yield from _picked(column, state, state.picked)
    else:
        if state.item is not None:
            yield from _thing(column, state, state.item)
        yield from _list(column, state)


def _legend(column: _Stack, state: State) -> Iterator[Words]:
    """Write at the end of a column what every sign means, and leave it the rest."""
    layers, hidden = state.stage.layers, state.hidden
    shown = (replace(one, shown=one.id not in hidden) for one in layers)
    signs = [
        (*_LETTERS_OF[kind], text)
        for kind, text in meanings(replace(state.stage, layers=tuple(shown)))
        if kind in _LETTERS_OF
    ]
    signs.append(("■", palette.SELECTION, SIGNS["picked"]))
    size, x, rows = 0.92 * column.size, column.left, 1
    placed: list[tuple[float, int]] = []
    for _, _, text in signs:
        wide = 2.2 * size + 1.05 * _wide(text, size)
        if x > column.left and x + wide > column.right + size:
            x, rows = column.left, rows + 1
        placed.append((x, rows))
        x += wide
    column.bottom -= (rows + 1.6) * column.line
    for (sign, colour, text), (left, row) in zip(signs, placed, strict=True):
        y = column.bottom + (row - 0.3) * column.line
        yield Words(sign, (left, y), 1.2 * size, colour)
        yield Words(text, (left + 1.3 * size, y), size)
    hint = "Down: the next judgement   L: layers   K: keys"
    y = column.bottom + (rows + 0.7) * column.line
    yield Words(hint, (column.left, y), size, palette.FAINT_INK)


def _keys(column: _Stack, state: State) -> Iterator[Words]:
    keys = [one for one in KEYS if state.start.steps or one is not LESSON]
    indent = max(_wide(shown, column.size, bold=True) for shown, _ in keys)
    for shown, about in keys:
        yield column.sign(shown, bold=True)
        yield from column.write(about, indent=indent + column.size)
        column.y += 0.4 * column.size


def _layers(column: _Stack, state: State) -> Iterator[Words]:
    for number, layer in enumerate(state.stage.layers):
        chosen, indent = number == state.row, 2.8 * column.size
        yield column.sign("▸" if chosen else "")
        yield column.sign("☐" if layer.id in state.hidden else "☑", indent=0.4 * indent)
        yield from column.write(layer.name, indent=indent, bold=chosen, most=1)
        column.y += 0.4 * column.size
    column.y += column.size
    about = state.stage.layers[state.row].about
    yield from column.write(about, colour=palette.FAINT_INK)
    if state.own is not None:
        column.y += column.size
        yield from column.write(OF_STEP, colour=palette.FAINT_INK)


def _thing(column: _Stack, state: State, item: str) -> Iterator[Words]:
    """Write what the picked thing is, of which no judgement is picked."""
    shapes, rows = state.stage.shapes, state.stage.judgements
    about = (one.label for one in shapes if one.item == item and one.about)
    label = next(about, "")
    yield from column.write(item, bold=True, most=1)
    yield from column.write(label, colour=palette.FAINT_INK, most=3)
    if not any(item in {one.subject, *one.in_the_way} for one in rows):
        told = "No requirement applies to it."
        yield from column.write(told, colour=palette.FAINT_INK)
    column.y += column.line


def _picked(column: _Stack, state: State, row: ListedJudgement) -> Iterator[Words]:
    """Write all that is said of the picked judgement, then those that follow."""
    number, right = (state.judgement or 0) + 1, column.right
    sign = f"Number {row.number}: " if row.number else ""
    yield column.last(f"{number} of {len(state.listed)}")
    column.size *= LETTERS / SMALL
    verdict = f"{sign}{WORDS[row.verdict]}"
    yield from column.write(verdict, colour=_colour(row), bold=True, most=1)
    column.right = right
    yield from column.write(f"{row.subject} {title_of(row)}", bold=True, most=4)
    column.size /= LETTERS / SMALL
    yield from _sizes(column, row)
    names = ", ".join(row.named)
    yield from column.write(f"In the way: {names}" if names else "", bold=True)
    yield from column.write(row.reason)
    if row.verdict == "open":
        yield from column.write("" if row.missing in row.reason else row.missing)
        yield from column.write(f"Measured: {row.measured}." if row.measured else "")
    exception = f"By an exception: {row.exception}" if row.exception else ""
    yield from column.write(exception)
    yield from column.write(row.citation, colour=palette.FAINT_INK)
    unread = f"From memory: {state.stage.unread}" if state.stage.unread else ""
    yield from column.write(unread, colour=palette.FAINT_INK)
    column.y += column.line
    yield from _list(column, state, start=number)


def _sizes(column: _Stack, row: ListedJudgement) -> Iterator[Words]:
    """Write what is required and what is there, in both systems."""
    column.y += 0.5 * column.size
    names = [_wide(one.name, column.size, bold=True) for one in row.sizes]
    indent = max(names, default=0.0) + column.size
    # Where one size decides, the others say what is left beside it: often nothing.
    decides = any(one.short for one in row.sizes)
    for one in row.sizes:
        yield column.sign(one.name, bold=True)
        required = f"required {bracketed(one.required)}" if one.required[0] else ""
        yield from column.write(required, indent=indent)
        there = f"there is {bracketed(one.provided)}" if one.provided[0] else ""
        there = there if one.short or not decides else ""
        colour = palette.INTRUSION_TEXT if one.short else palette.INK
        yield from column.write(there, indent=indent, colour=colour, bold=one.short)
    column.y += 0.5 * column.size if row.sizes else 0.0


def _list(column: _Stack, state: State, start: int = 0) -> Iterator[Words]:
    """List the judgements from one on, as far as there is room."""
    if not state.listed:
        after = "The judgements are shown with the answer."
        none = "No requirement applies to anything here."
        told = after if state.is_withheld else none
        yield from column.write(told, colour=palette.FAINT_INK)
    for number, row in enumerate(state.listed[start:], start):
        if column.y + 4 * column.line > column.bottom:
            more = f"and {len(state.listed) - number} more"
            yield from column.write(more, colour=palette.FAINT_INK)
            return
        yield column.sign(str(row.number or "✓"), colour=_colour(row), bold=True)
        bad, indent = row.number is not None, 2.2 * column.size
        title = f"{row.subject} {title_of(row)}"
        yield from column.write(title, indent=indent, bold=bad, most=1)
        brief = next((f"{one.name} {one.brief}" for one in row.sizes if one.short), "")
        told = brief or row.missing or row.reason if bad else ""
        colour = _colour(row, palette.FAINT_INK)
        yield from column.write(told, indent=indent, colour=colour, most=2)
        column.y += 0.4 * column.size


def _colour(row: ListedJudgement, other: str = palette.INK) -> str:
    return palette.INTRUSION_TEXT if row.verdict == "not-met" else other


def _lesson(state: State, box: Rectangle, scale: float) -> Iterator[Words]:
    """Write the lesson: its title, how far it has come, and what is said now."""
    column, edge = _Stack(box, scale, LETTERS, above=0.8), box.right - _EDGE * scale
    step, count = step_at(state.start, state.place), len(state.start.steps)
    place = f"step {state.place.step} of {count}" if step else f"{count} steps"
    answer = "Right: show the answer"
    yield column.last(answer if state.is_withheld else "Right: go on   Left: go back")
    title = f"Lesson: {state.start.lesson} ({place})"
    yield from column.write(title, bold=True, most=1)
    column.right = edge
    told = [*changes(state.start, state.place)]
    said = [] if step is None or state.is_withheld else [step.say]
    if said and step is not None and (told or step.ask):
        said.append("; ".join(text for text, _ in told) or "No verdict changes.")
    bad = any(verdict == "not-met" for _, verdict in told)
    asked = "" if step is None else step.ask
    room, tall = 0.87 * (column.right - column.left), column.bottom - column.y
    for size in (LETTERS, SMALL, 0.9 * SMALL, 0.8 * SMALL):  # smaller before less
        column.size = size * scale
        texts = [clean(one, _LONGEST) for one in (asked, *said) if one]
        lines = [len(_wrapped(one, room, column.size, _MOST_LINES)) for one in texts]
        if sum(lines) * column.line <= tall:
            break
    yield from column.write(asked, bold=True)
    for number, text in enumerate(said):
        colour = palette.INTRUSION_TEXT if number and bad else palette.INK
        yield from column.write(text, colour=colour)
