"""What differs between two reports, as a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.wording.said import say
from viewer.report.document.content import Document, Heading, Paragraph, Table
from viewer.report.text.comparison import asked, changes_words, verdict_words
from viewer.wording.words import CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.report.document.content import Block
    from viewer.report.text.comparison import Compared


def comparison_report(compared: Sequence[Compared]) -> Document:
    """Return comparisons as a document, a part for each."""
    blocks: list[Block] = []
    for number, one in enumerate(compared, start=1):
        blocks += _part(one, number)
    blocks += [Paragraph(line, "caution") for line in CAUTION]
    title = compared[0][0] if len(compared) == 1 else f"{len(compared)} rooms"
    return Document(f"{title}: what changed", CAUTION[1], "a4", tuple(blocks))


def _part(compared: Compared, number: int) -> Iterator[Block]:
    title, (old, new), changes = compared
    yield Heading(1, title, f"room-{number}")
    yield Paragraph(f"{old}, then {new}: {changes_words(len(changes))}", "strong")
    if changes:
        rows = tuple(
            (
                one.subject,
                asked(one),
                verdict_words(one.old),
                verdict_words(one.new),
                say("{}: {}", one.citation, one.why),
            )
            for one in changes
        )
        heads = ("Item", "Requirement", "Before", "After", "Why")
        yield Table(
            "What changed", heads, rows, (2, 3, 1.4, 1.4, 7), strong=frozenset({0, 3})
        )
