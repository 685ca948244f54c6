"""Nothing stored in the working space.

Applies to: every item that needs a working space of the low-voltage tables.

Measures: the working space in front, at the place where it was tested.

Breach: stored goods or a shelf in it, by more than contact. What else stands in it is
judged by the working space alone.

Exceptions: none.

Source: NEC 110.26(B); 29 CFR 1910.303(g)(1)(ii); 29 CFR 1926.403(i)(1)(ii).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.judging.requirement import requirement_of
from model3d.wording.said import ids, say
from model3d.working import is_high_voltage
from model3d.working.judged import judge_held
from model3d.working.tested import tested

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.judging.space import Limit, Stretch
    from model3d.standing.placed import Placed

TABLES: Final = ("storage",)
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge whether anything is stored in the working space of an item."""
    entry = situation.book.entry(TABLES[0])
    if not item.live or not entry.given or is_high_voltage(item, situation):
        return
    judged = judge_held(
        tested(item, situation),
        situation,
        lambda limit, _depth: _Stored(limit),
        citation=entry.cite("barred"),
        unread=unread_rules(entry, "barred"),
        clear="Nothing is stored in the working space.",
    )
    if judged.verdict == "not-met":
        names = sorted({hit.item for hit in judged.intrusions})
        told = say("Stored in the working space: {}.", ids(names))
        judged = replace(judged, reason=told)
    yield replace(judged, requirement=REQUIREMENT)


def is_met(item: Placed, situation: Situation) -> bool:
    """Tell whether all that ``claims`` judges of an item is met for certain.

    So it is where nothing in the whole place is stored. False says nothing: ask
    ``claims``.
    """
    entry = situation.book.entry(TABLES[0])
    if not item.live or not entry.given:
        return True
    stored = any(one.kind.stored for one in situation.items)
    return not stored and not unread_rules(entry, "barred")


@dataclass(frozen=True, slots=True)
class _Stored:
    """Stored goods keep out of the working space as any other solid does."""

    limit: Limit

    def __call__(self, placed: Placed) -> Stretch | None:
        return self.limit(placed) if placed.kind.stored else None
