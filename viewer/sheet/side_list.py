"""The list beside a picture: what its numbers stand for, as far as there is room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.wording.said import sentences_of
from viewer.sheet.badges import badge
from viewer.sheet.letters import SMALL, Letters
from viewer.sheet.sign_places import Rectangle
from viewer.stage import palette
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.sheet.letters import WrittenPicture
    from viewer.sheet.sign_places import Spot
    from viewer.stage.rows import ListedJudgement

_ROW: Final = 19.0
_GAP: Final = 12.0
"""Pixels between two entries of the list."""
_CHECK: Final = "\N{CHECK MARK}"
"""In place of the number of what is met."""
_LINES: Final = 12
"""Lines of a reason, at most, where there is room for them."""
_TRIED: Final = ((_LINES, False), *((most, True) for most in (_LINES, 8, 6, 5, 4, 3)))
"""Lines of a reason, at most, and whether what was said before is said by its number:
as much is said as leaves room for all entries."""
_MOST_ENTRIES: Final = 100
"""So many at most are tried for room."""


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a list.

    Attributes:
        count: How many.
        wide: Pixels from one to the next.
        edge: Pixels kept free about them.
        scale: Of letters.
    """

    count: int
    wide: float
    edge: float
    scale: float

    @property
    def room(self) -> float:
        """Pixels that a line of an entry may take."""
        return self.wide - self.edge - 2.0 * _ROW * self.scale


def columns_of(width: float, count: int, edge: float, scale: float) -> Columns:
    """Return the columns of a list that is so many pixels wide."""
    return Columns(count, (width - edge) / count, edge, scale)


@dataclass(frozen=True, slots=True)
class _Numbered:
    """One number of the list: who, and lines below in their colours."""

    judgement: ListedJudgement
    head: str
    lines: tuple[tuple[str, str], ...]


def list_height(
    listed: Sequence[ListedJudgement], columns: Columns, most: float
) -> float:
    """Return how high a list must be for all that it has to say.

    Where not all has room its reasons are short, for then the room matters more.

    Args:
        listed: What is in it.
        columns: Its columns.
        most: Where it would be higher, some is left out, and this is returned.
    """
    letters = Letters()
    for tried in (*_TRIED[:2], _TRIED[-1]):
        entries = _entries(letters, listed, columns, *tried)
        talls = [_tall(one, columns.scale) for one in entries]
        for height in _heights(talls, columns, most):
            if len(_spots(talls, columns, height)[0]) == len(listed):
                return height
    return most


def write_list(
    sheet: WrittenPicture,
    listed: Sequence[ListedJudgement],
    panel: Rectangle,
    columns: Columns,
) -> None:
    """List what the numbers stand for, as far as there is room.

    Reasons are told in full if all of them have room then.
    """
    scale, height = columns.scale, panel.bottom - panel.top
    row = _ROW * scale
    for tried in _TRIED:
        entries = _entries(sheet, listed, columns, *tried)
        talls = [_tall(one, scale) for one in entries]
        spots, end = _spots(talls, columns, height)
        left = len(listed) - len(spots)
        if not left:
            break
    if left:
        spots, end = _spots(talls, columns, height, kept=1.2 * row)
        left = len(listed) - len(spots)
    for entry, (x, y) in zip(entries, spots, strict=False):
        at = (panel.left + x, panel.top + y)
        _write_entry(sheet, entry, at, columns.room, scale)
    if left:
        x, y = end
        base = min(panel.top + y + 0.5 * row, panel.bottom - 0.5 * row)
        more = f"and {left} more in the report"
        at = (panel.left + x, base)
        sheet.text(at, more, SMALL * scale, colour=palette.FAINT_INK)


def _entries(
    letters: Letters,
    listed: Sequence[ListedJudgement],
    columns: Columns,
    lines: int,
    by_number: bool,  # noqa: FBT001 - as it is tried
) -> list[_Numbered]:
    size = SMALL * columns.scale
    first: dict[str, int] = {}
    found = []
    for judgement in listed[:_MOST_ENTRIES]:
        texts = [*_sentences(judgement, in_full=not _sizes_told(judgement))]
        again = [f"As at {first[one]}." if one in first else one for one in texts]
        found.append(_entry(letters, judgement, again, columns.room, size, lines))
        if judgement.number is not None and by_number:
            first.update({one: judgement.number for one in texts if one not in first})
    return found


def _tall(entry: _Numbered, scale: float) -> float:
    return (1 + len(entry.lines)) * _ROW * scale


def _heights(talls: Sequence[float], columns: Columns, most: float) -> list[float]:
    """Return heights of which one is the least that holds all, the least first.

    A column is full where entries in a row end, so no other height needs to be tried.
    """
    gap = _GAP * columns.scale
    if len(_spots(talls, columns, most)[0]) < len(talls):
        return []
    found = set()
    for first in range(len(talls)):
        height = columns.edge
        for tall in talls[first:]:
            height += tall
            if height > most:
                break
            found.add(height)
            height += gap
    return sorted(found)


def _spots(
    talls: Sequence[float], columns: Columns, height: float, kept: float = 0.0
) -> tuple[list[Spot], Spot]:
    """Return the place of each entry that has room, and where the list ends.

    Places are from the corner of the list. What is kept free below the last column is
    for the words that more is left out.
    """
    gap, slack = _GAP * columns.scale, 1e-6
    found: list[Spot] = []
    at, x, y = 1, 0.8 * columns.edge, columns.edge
    for tall in talls:
        if y + tall > height + slack and at < columns.count:
            at, x, y = at + 1, x + columns.wide, columns.edge
        if y + tall + (kept if at == columns.count else 0.0) > height + slack:
            break
        found.append((x, y))
        y += tall + gap
    return found, (x, y)


def _entry(
    letters: Letters,
    judgement: ListedJudgement,
    texts: Sequence[str],
    room: float,
    size: float,
    most: int,
) -> _Numbered:
    name = ", ".join(part for part in (judgement.title.lower(), judgement.part) if part)
    said: list[tuple[str, str]] = []

    def say(lines: Iterable[str], colour: str = palette.INK) -> None:
        said.extend((line, colour) for line in lines)

    who = letters.wide(clean(judgement.subject), size, bold=True) + 0.5 * size
    if who + letters.wide(name, size) > room:
        say(letters.wrapped(name, room, size))
        name = ""
    told = _sizes_told(judgement)
    for words, colour in told:
        say(_broken(letters, words, room, size), colour)
    if told and judgement.verdict != "met" and judgement.named:
        names = clean(", ".join(judgement.named))
        say([letters.fitted(f"in the way: {names}", size, room)])
    for text in texts:
        say(letters.wrapped(text, room, size, most))
    cited = letters.wrapped(clean(judgement.citation), room, size)
    say(cited, palette.FAINT_INK)
    return _Numbered(judgement, name, tuple(said))


_Told = tuple[tuple[str, str], str]
"""A size in the scene's own system and in the other one or "", and its colour."""


def _sizes_told(judgement: ListedJudgement) -> list[_Told]:
    return [*_short(judgement)] or [*_needed(judgement)]


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
    letters: Letters, texts: tuple[str, str], room: float, size: float
) -> list[str]:
    """Return a size in one line, or with the other system of units below."""
    text = " ".join(filter(None, texts))
    if not texts[1] or letters.wide(text, size) <= room:
        return letters.wrapped(text, room, size)
    return [line for part in texts for line in letters.wrapped(part, room, size)]


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
