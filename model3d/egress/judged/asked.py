"""What one item's way out must be, and what is said of every such way."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.codebook.unread import unread_figures
from model3d.egress.large.gear import is_large
from model3d.egress.route.told import WIDTH_AND_HEIGHT, size_told
from model3d.judging.results import Judgement

if TYPE_CHECKING:
    from model3d.codebook import Entry
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class WayAsked:
    """What one item's way out must be.

    Attributes:
        requirement: The rule that asks.
        item: The item.
        situation: The room.
        entry: What the rule book says.
        printed: The size holds for every item; else it holds for large equipment, and
            is a measure only for any other.
    """

    requirement: str
    item: Placed
    situation: Situation
    entry: Entry
    printed: bool

    @property
    def width(self) -> float:
        """Of the way, metres."""
        return self.situation.least(self.entry.figure("width"))

    @property
    def height(self) -> float:
        """Of the way, metres."""
        return self.situation.least(self.entry.figure("height"))

    @property
    def holds(self) -> tuple[bool | None, str]:
        """Whether the size holds for the item; None with what must be said to know."""
        return (True, "") if self.printed else is_large(self.item, self.situation)

    @property
    def judgement(self) -> Judgement:
        """What every judgement of the item begins with."""
        return Judgement(
            requirement=self.requirement,
            subject=self.item.id,
            verdict="met",
            citation=self.entry.citation,
            reason="",
            required={"width": self.width, "height": self.height},
            printed={
                name: self.situation.printed(self.entry.figure(name))
                for name in WIDTH_AND_HEIGHT
            },
            unread=self.unread,
        )

    @property
    def unread(self) -> tuple[str, ...]:
        """Citations of the size where it was not read in any source."""
        figures = [self.entry.figure(name) for name in WIDTH_AND_HEIGHT]
        return unread_figures(self.entry, figures, self.situation.measures)

    @property
    def printed_for(self) -> str:
        """The equipment that the rule book prints that size for."""
        return " and ".join(self.entry.words("printed_for"))

    @property
    def size(self) -> str:
        """The size that is asked for, as the rule book prints it."""
        width, height = (self.entry.figure(name) for name in WIDTH_AND_HEIGHT)
        return size_told(width, height, self.situation)
