"""What another rule book changes in many rooms, as a document and for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.comparison import comparison_document
from model3d.wording.said import LINE, Said, say
from viewer.report.document.content import Document, Heading, Paragraph, Points, Table
from viewer.report.editions import (
    alike,
    changed,
    summary,
    turns,
    unchanged,
    verdict_words,
)
from viewer.wording.refusal import Refused
from viewer.wording.words import CAUTION, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.report.document.content import Block
    from viewer.report.editions import RoomChanges


def editions_report(
    rooms: Sequence[RoomChanges | Refused], books: tuple[str, str]
) -> Document:
    """Return what a rule book changes as a document: tables over all rooms."""
    old, new = books
    title = f"{len(rooms)} rooms by {old}, then by {new}"
    blocks: list[Block] = [
        Heading(1, title, "rooms"),
        Paragraph(summary(rooms), "strong"),
    ]
    blocks += _tables(rooms, books)
    blocks += _others(rooms)
    blocks += [Paragraph(line, "caution") for line in CAUTION]
    return Document(f"{title}: what changed", " ".join(CAUTION), "a4", tuple(blocks))


def editions_documents(
    rooms: Sequence[RoomChanges | Refused], books: tuple[str, str]
) -> Iterator[dict[str, Any]]:
    """Yield a JSON document a room: the contract's, with its title and file."""
    for one in rooms:
        if isinstance(one, Refused):
            yield {**one.document(), "path": one.file.as_posix()}
            continue
        found = comparison_document(books, one.changes)
        for said, change in zip(found["changed"], one.changes, strict=True):
            said["citations"] = [*change.cited]
        changes = found.pop("changed")
        found |= {"scene": one.title, "file": one.file.name}
        yield {**found, "path": one.file.as_posix(), "changed": changes}


def _tables(
    rooms: Sequence[RoomChanges | Refused], books: tuple[str, str]
) -> Iterator[Block]:
    some = changed(rooms)
    if not some:
        return
    counted = tuple(
        (
            requirement_words(requirement),
            verdict_words(old),
            verdict_words(new),
            str(places),
            str(judgements),
        )
        for requirement, (old, new), places, judgements in turns(rooms)
    )
    heads = ("Requirement", *books, "Rooms", "Judgements")
    strong = frozenset({0, 2})
    yield Table("What changed how often", heads, counted, (4, 2, 2, 1, 1.5), (), strong)
    rows = tuple(
        (
            Said(room.title, LINE, room.file.as_posix()) if not number else "",
            ", ".join(items),
            change.asked,
            verdict_words(change.turn[0]),
            verdict_words(change.turn[1]),
            say("{}: {}", change.cited, change.reason),
        )
        for room in some
        for number, (change, items) in enumerate(alike(room).items())
    )
    columns = ("Room", "Items", "Requirement", *books, "Why")
    widths = (3, 2, 2.4, 1.4, 1.4, 6)
    yield Table("What changed", columns, rows, widths, (), frozenset({0, 4}))


def _others(rooms: Sequence[RoomChanges | Refused]) -> Iterator[Block]:
    files = [*unchanged(rooms)]
    if files:
        yield Paragraph(f"Nothing changes in {', '.join(files)}.")
    lines = [line for one in rooms if isinstance(one, Refused) for line in one.lines]
    if lines:
        yield Paragraph("Refused, and not compared:", "strong")
        yield Points(tuple(lines))
