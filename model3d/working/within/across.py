"""Live gear across the aisle from live gear, and what existing buildings may keep."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.judging.space import Excuse
from model3d.wording.said import Named, joined, say

if TYPE_CHECKING:
    from model3d.codebook import Entry
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

LIVE: Final = 3
"""The condition that live gear makes which faces an item."""


@dataclass(frozen=True, slots=True)
class Across:
    """What two facing items ask of the aisle between them.

    Attributes:
        condition: Of the depth table, as far as is known.
        lesser: The condition that they may keep by an exception.
        missing: What is missing to know whether they may.
        excuse: The exception, where it holds.
    """

    condition: int
    lesser: int = LIVE
    missing: str = ""
    excuse: Excuse | None = None


def across_the_aisle(item: Placed, other: Placed, situation: Situation) -> Across:
    """Return what two facing items ask for.

    Dead fronts of certain kinds that were replaced in an existing building may keep
    less under written procedures.
    """
    entry = situation.book.entry("existing-building")
    if not entry.given or situation.scene.premises != "existing":
        return Across(LIVE)
    kinds = entry.words("kinds")
    if item.kind.name not in kinds or other.kind.name not in kinds:
        return Across(LIVE)
    lesser = int(entry.number("condition"))
    fronts = {one.id: one.item.dead_front for one in (item, other) if one.item}
    held = situation.scene.stated.written_procedures if _asks(entry) else True
    if False in fronts.values() or held is False:
        return Across(LIVE)
    unsaid: list[str] = [
        say("whether {} has a dead front (dead_front)", Named(name))
        for name in sorted(fronts)
        if fronts[name] is None
    ]
    if held is None:
        unsaid.append(_PROCEDURES)
    if unsaid:
        missing = say(
            "Say {}: facing dead-front equipment replaced in an existing building may "
            "keep less ({}).",
            joined(", and ", unsaid),
            entry.citation,
        )
        return Across(LIVE, lesser, missing)
    words = "dead fronts replaced in an existing building under written procedures"
    unread = unread_rules(entry, "condition")
    return Across(lesser, lesser, excuse=Excuse(words, entry.citation, unread))


_PROCEDURES: Final = (
    "whether written procedures keep both sides from being open at once "
    "(written_procedures)"
)


def _asks(entry: Entry) -> bool:
    return entry.flag("written_procedures")
