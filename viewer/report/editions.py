"""What another rule book changes in many rooms: only the judgements that change."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from viewer.wording.refusal import Refused
from viewer.wording.words import WORDS, part_words, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from model3d.comparison import ChangedJudgement
    from model3d.judging.results import Verdict

Turn = tuple["Verdict | None", "Verdict | None"]
"""A verdict by the one rule book and by the other."""


@dataclass(frozen=True, slots=True)
class RoomChanges:
    """A room, and its judgements that another rule book changes.

    Attributes:
        file: Its file.
        title: Of the room.
        changes: Nothing where none changes.
    """

    file: Path
    title: str
    changes: tuple[ChangedJudgement, ...]


class Alike(NamedTuple):
    """What changes in the same way at several items of a room.

    Attributes:
        asked: What is asked, with the leaf, tier or side.
        turn: How it came out, and how it comes out now.
        cited: The sentence that decided, and the one that decides now.
        reason: What is said now.
    """

    asked: str
    turn: Turn
    cited: str
    reason: str


def alike(room: RoomChanges) -> dict[Alike, list[str]]:
    """Return each change of a room once, the worst first, with all items it is of."""
    found: dict[Alike, list[str]] = {}
    for one in room.changes:
        part = part_words(one.leaf, one.tier, one.side)
        words = requirement_words(one.requirement)
        asked = f"{words}, {part}" if part else words
        key = Alike(asked, (one.old, one.new), _cited(one), one.reason)
        found.setdefault(key, []).append(one.subject)
    order = sorted(found, key=lambda one: _badness((one.asked, one.turn)))
    return {one: found[one] for one in order}


def turns(rooms: Sequence[RoomChanges | Refused]) -> list[tuple[str, Turn, int, int]]:
    """Return what changes how, in how many rooms and judgements; the worst first."""
    judgements: Counter[tuple[str, Turn]] = Counter()
    places: Counter[tuple[str, Turn]] = Counter()
    for room in changed(rooms):
        found = [(one.requirement, (one.old, one.new)) for one in room.changes]
        judgements.update(found)
        places.update({*found})
    order = sorted(judgements, key=_badness)
    return [(name, turn, places[name, turn], judgements[name, turn])
            for name, turn in order]  # fmt: skip


def changed(rooms: Sequence[RoomChanges | Refused]) -> list[RoomChanges]:
    """Return the rooms in which something changes."""
    return [one for one in rooms if isinstance(one, RoomChanges) and one.changes]


def summary(rooms: Sequence[RoomChanges | Refused]) -> str:
    """Say in how many rooms something changes."""
    some, refused = changed(rooms), sum(isinstance(one, Refused) for one in rooms)
    count = sum(len(one.changes) for one in some)
    many = f"{count} judgement{'' if count == 1 else 's'}"
    told = f"{many} in {len(some)} of them" if some else "nothing"
    more = f", {refused} of them refused" if refused else ""
    return f"{len(rooms)} rooms{more}: {told} changed"


def unchanged(rooms: Sequence[RoomChanges | Refused]) -> Iterator[str]:
    """Yield the files of the rooms in which nothing changes."""
    for one in rooms:
        if isinstance(one, RoomChanges) and not one.changes:
            yield one.file.as_posix()


def _cited(change: ChangedJudgement) -> str:
    old, new = change.cited
    if old is None or new is None or old == new:
        return new or old or ""
    return f"{old}, then {new}"


def _badness(pair: tuple[str, Turn]) -> tuple[int, int, str]:
    requirement, (old, new) = pair
    order = [None, "met", "open", "not-met"]
    return -order.index(new), order.index(old), requirement


def verdict_words(verdict: Verdict | None) -> str:
    """Return a verdict in words; where there is none, that it is not asked."""
    return "not asked" if verdict is None else WORDS[verdict]
