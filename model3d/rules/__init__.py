"""One rule, one file; this folder is the list of rules.

A rule module has a docstring, which is the rule's page; ``TABLES``, the tables of the
rule books it reads; and ``claims``, which yields for one item the spaces that must be
clear and the judgements made directly. One that asks something of the room as a whole
has ``room_claims``, beside ``claims`` or instead of it.
"""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import replace
from functools import cache, partial
from typing import TYPE_CHECKING, Protocol, cast

from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement
from model3d.wording import sentences
from model3d.wording.said import Named, say
from model3d.working.drawn.outside import stands_outside

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.judging.space import Space
    from model3d.judging.systems import Question
    from model3d.standing.placed import Placed


class Rule(Protocol):
    """What every rule module offers."""

    __name__: str
    __doc__: str | None
    TABLES: tuple[str, ...]


class ItemRule(Rule, Protocol):
    """A rule that asks something of items."""

    def claims(self, item: Placed, situation: Situation) -> Iterator[Space | Judgement]:
        """Yield what the rule asks for at one item; nothing if it does not apply."""


class RoomRule(Rule, Protocol):
    """A rule that asks something of the room as a whole."""

    def room_claims(self, situation: Situation) -> Iterator[Space | Judgement]:
        """Yield what the rule asks of the room, its doors and openings."""


def all_questions(situation: Situation) -> Iterator[Question]:
    """Yield every rule's question, at every item and of the room."""
    for rule in all_rules():
        if hasattr(rule, "claims"):
            for item in situation.items:
                yield question(rule, item)
        if hasattr(rule, "room_claims"):
            yield question(rule, None)


def question(rule: Rule, item: Placed | None) -> Question:
    """Return a rule's question at one item, or of the room as a whole."""
    if item is None:
        return cast("RoomRule", rule).room_claims
    return partial(_claims, cast("ItemRule", rule), item)


def tells(rule: Rule, quick: str, item: Placed, situation: Situation) -> bool:
    """Tell what a rule tells quickly of an item; False where it cannot for certain.

    Args:
        rule: The rule.
        quick: The name of what it may offer: ``is_met``, ``is_no_breach``, or
            ``is_breach``.
        item: The item.
        situation: The room.
    """
    tell = getattr(rule, quick, None)
    # Of these more is asked than a rule itself asks: see _claims, and judging.unseen.
    unknown = situation.clouds or situation.uncertain
    if tell is None or unknown or stands_outside(item, situation):
        return False
    return bool(tell(item, situation))


def _claims(
    rule: ItemRule, item: Placed, situation: Situation
) -> Iterator[Space | Judgement]:
    """Yield what a rule claims of an item; nothing is met of one outside the room.

    Of an item that is uncertain nothing is asked.
    """
    if item.uncertain:
        return
    found = tuple(rule.claims(item, situation))
    # Of most items most rules ask nothing: then it does not matter where they stand.
    if not found or not stands_outside(item, situation):
        yield from found
        return
    doubt = say("{} stands outside the room: say where it is.", Named(item.id))
    for one in found:
        if isinstance(one, Judgement):
            yield _in_doubt(one, doubt)
        else:
            yield replace(one, missing=sentences(one.missing, doubt))


def _in_doubt(judged: Judgement, doubt: str) -> Judgement:
    if judged.verdict != "met":
        return judged
    reason = sentences(judged.reason, doubt)
    return replace(judged, verdict="open", reason=reason, missing=doubt, exception="")


@cache
def all_rules() -> tuple[Rule, ...]:
    """Return every rule of the folder, by name."""
    names = sorted(found.name for found in pkgutil.iter_modules(__path__))
    return tuple(
        cast("Rule", importlib.import_module(f"{__name__}.{name}"))
        for name in names
        if not name.startswith("_")
    )


def requirements() -> tuple[str, ...]:
    """Return what the rules are called, by name."""
    return tuple(requirement_of(rule.__name__) for rule in all_rules())
