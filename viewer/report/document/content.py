"""What a written report is made of, whatever it is written as."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Literal

from model3d.wording.said import lines_of

if TYPE_CHECKING:
    from viewer.figure.drafting.drawing import Figure

Paper = Literal["a4", "letter"]

SIZES: dict[Paper, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
}
"""Width and height of the papers, millimetres."""

_SIGNS = 115
"""So many signs of a table's letters fit beside one another on a page, at least."""
_SHORT = 32
"""Lines. A table of no more fits on half a page of either paper."""

Tone = Literal["plain", "strong", "small", "caution", "question", "lead"]
"""How sentences are set; a question and a lead stay with what follows them."""


@dataclass(frozen=True, slots=True)
class Heading:
    """The start of a part.

    Attributes:
        level: 1 for a room, 2 for an item or a part of it, 3 below.
        text: Of the heading.
        anchor: Where a link to it leads; unique in the document.
        new_page: It starts a page.
        listed: It stands in the table of contents.
    """

    level: int
    text: str
    anchor: str
    new_page: bool = False
    listed: bool = True


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Sentences."""

    text: str
    tone: Tone = "plain"


@dataclass(frozen=True, slots=True)
class Points:
    """Sentences as a list."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pairs:
    """Facts with their names."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table.

    Attributes:
        title: Said before it, and to readers who cannot see it.
        heads: Of the columns.
        rows: Cells as text; ``LINE`` starts a new line in a cell.
        widths: Shares of the width.
        links: Anchor that the first cell of each row leads to, or "".
        strong: Columns in heavy letters.
    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    links: tuple[str, ...] = ()
    strong: frozenset[int] = frozenset()

    @property
    def whole(self) -> bool:
        """Whether it is so short that no page ends within it."""
        across = sum(self.widths)
        signs = [_SIGNS * width / across for width in self.widths]
        lines = sum(
            max(
                sum(max(1, ceil(len(part) / room)) for part in lines_of(cell))
                for cell, room in zip(row, signs, strict=True)
            )
            for row in self.rows
        )
        return lines <= _SHORT


@dataclass(frozen=True, slots=True)
class Counts:
    """How many judgements there are of each verdict, large."""

    rows: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing to scale.

    Attributes:
        figure: The drawing.
        kept: It stays on the page of what follows it.
    """

    figure: Figure
    kept: bool = False


@dataclass(frozen=True, slots=True)
class Signature:
    """A place to sign: what is to be filled in."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Boxes:
    """Answers to choose from, each with a box to tick."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ruled:
    """Empty lines to write on.

    Attributes:
        title: What is to be written.
        lines: How many.
    """

    title: str
    lines: int


@dataclass(frozen=True, slots=True)
class Contents:
    """A table of contents of the headings that follow."""

    title: str


Block = (
    Heading
    | Paragraph
    | Points
    | Pairs
    | Table
    | Counts
    | Drawing
    | Signature
    | Boxes
    | Ruled
    | Contents
)


@dataclass(frozen=True, slots=True)
class Document:
    """A report.

    Attributes:
        title: Of all of it.
        foot: What stands at the foot of each page.
        paper: What it is printed on.
        blocks: What it says, in order.
    """

    title: str
    foot: str
    paper: Paper
    blocks: tuple[Block, ...]
