"""What another rule book changes in many rooms, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.report.editions import (
    alike,
    changed,
    summary,
    turns,
    unchanged,
    verdict_words,
)
from viewer.report.text.findings import COLOURS
from viewer.report.text.table import LONGEST_LINE, LONGEST_NAME, LONGEST_REASON
from viewer.wording.cleaning import clean
from viewer.wording.refusal import Refused
from viewer.wording.words import CAUTION, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d.judging.results import Verdict
    from viewer.report.editions import RoomChanges

_MOST_NAMES: Final = 60
"""So many rooms in which nothing changes are named; the JSON names them all."""
_INDENT: Final = 2


def editions_text(
    rooms: Sequence[RoomChanges | Refused],
    books: tuple[str, str],
    *,
    width: int = PLAIN_WIDTH,
    colour: bool = False,
) -> str:
    """Return what a rule book changes, as text for people.

    Args:
        rooms: In their order; of one that cannot be used a line in its place.
        books: The one rule book and the other.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences; they say nothing that words do not.
    """
    old, new = map(clean, books)
    parts: list[RenderableType] = [
        Text(f"{old}, then {new}", style="bold"),
        Text(summary(rooms)),
        *_turns(rooms),
        "",
    ]
    for one in rooms:
        if isinstance(one, Refused):
            words = f"{clean(str(one.file))}: refused, {one.count}"
            parts += [Text(words, style=COLOURS["not-met"], no_wrap=True), ""]
        elif one.changes:
            parts += [*_room(one, width), ""]
    parts += [*_unchanged(rooms)]
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def _turns(rooms: Sequence[RoomChanges | Refused]) -> Iterator[RenderableType]:
    if not changed(rooms):
        return
    table = Table.grid(padding=(0, 2, 0, 0), pad_edge=False)
    for _ in range(3):
        table.add_column(overflow="fold")
    for requirement, (old, new), places, judgements in turns(rooms):
        many = f"{judgements} in {places} room{'' if places == 1 else 's'}"
        verdicts = Text.assemble(_verdict(old), ", then ", _verdict(new))
        table.add_row(Text(requirement_words(requirement)), verdicts, Text(many))
    yield ""
    yield table


def _room(room: RoomChanges, width: int) -> Iterator[RenderableType]:
    yield Text(clean(room.title, LONGEST_LINE), style="bold")
    yield Text(clean(room.file.as_posix()))
    right = max(0, width - LONGEST_LINE)
    for change, items in alike(room).items():
        old, new = change.turn
        names = ", ".join(clean(item, LONGEST_NAME) for item in items)
        line = Text.assemble(
            (names, "bold"),
            f"  {change.asked}: ",
            _verdict(old),
            ", then ",
            _verdict(new),
        )
        yield Padding(line, (0, right, 0, _INDENT))
        why = clean(f"{change.cited}: {change.reason}", LONGEST_REASON)
        yield Padding(Text(why, overflow="fold"), (0, right, 0, 2 * _INDENT))


def _unchanged(rooms: Sequence[RoomChanges | Refused]) -> Iterator[RenderableType]:
    files = [clean(file) for file in unchanged(rooms)]
    more = len(files) - _MOST_NAMES
    if more > 0:
        files[_MOST_NAMES:] = [f"and {more} more"]
    if files:
        yield Text(f"Nothing changes in {', '.join(files)}.")
        yield ""


def _verdict(verdict: Verdict | None) -> tuple[str, str]:
    style = "dim" if verdict is None else COLOURS[verdict]
    return verdict_words(verdict), style
