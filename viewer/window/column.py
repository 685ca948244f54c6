"""A column of text and buttons, written from the top down."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.sheet.places import Rectangle
from viewer.stage import palette
from viewer.window.ink import LINE
from viewer.window.state import Action
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable

    from viewer.window.ink import Ink

LONGEST_ID: Final = 40
"""Characters of an id that are shown."""
LONGEST: Final = 1200
"""Characters of a reason that are shown."""


class Column:
    """Writes one thing below the other.

    Attributes:
        ink: Of the board.
        left, right: Its sides, pixels.
        y: How far it has come.
    """

    def __init__(self, ink: Ink, left: float, right: float, top: float) -> None:
        """Start at the top."""
        self.ink = ink
        self.left = left
        self.right = right
        self.y = top

    @property
    def line(self) -> float:
        """Height of a line of small letters."""
        return LINE * self.ink.small

    def skip(self, by: float) -> None:
        """Leave a gap, in pixels of a window of 1600 by 1000."""
        self.y += by * self.ink.scale

    def write(
        self,
        text: str,
        *,
        left: float | None = None,
        colour: str = palette.INK,
        bold: bool = False,
        most: int | None = None,
    ) -> None:
        """Write a text in as many lines as it takes, or the first few.

        Args:
            text: It is wrapped.
            left: Where lines begin; at the column's left if left out.
            colour: Of the letters.
            bold: Heavy letters.
            most: Lines.
        """
        ink = self.ink
        start = self.left if left is None else left
        lines = ink.wrapped(text, self.right - start, size=ink.small, bold=bold)
        for one in lines[:most]:
            at = start, self.y + self.line / 2
            ink.text(at, one, size=ink.small, colour=colour, bold=bold)
            self.y += self.line

    def chips(
        self,
        title: str,
        items: Iterable[tuple[str, str]],
        picked: str | None,
        left: float,
    ) -> None:
        """Write what things are called, each to be picked.

        Args:
            title: What they are.
            items: Ids, and what they are called.
            picked: The one that is.
            left: Where lines begin.
        """
        ink, scale = self.ink, self.ink.scale
        tall = self.line + 4 * scale
        at = left, self.y + tall / 2
        ink.text(at, title, size=ink.small, colour=palette.FAINT_INK)
        x = left + ink.wide(title, size=ink.small) + 8 * scale
        for item, name in items:
            room = self.right - left - 14 * scale
            text = ink.fitted(clean(name, LONGEST_ID), room, size=ink.small)
            wide = ink.wide(text, size=ink.small) + 14 * scale
            if x + wide > self.right:
                x, self.y = left, self.y + tall + 3 * scale
            box = Rectangle(x, self.y, x + wide, self.y + tall)
            ink.button(box, text, Action("item", item), on=item == picked)
            x += wide + 6 * scale
        self.y += tall + 5 * scale
