"""What is drawn can be so.

Applies to: every item, every room door, and the room itself; and what the scene says
that an import could not read of the model or plan.

Measures: how deep two solids lie in one another: how far one would have to be moved to
part them; how far an item reaches beyond the walls, the ceiling or the floor; how far
gear that stands on the floor hangs above it with nothing that carries it; how far room
doors overlap; how far battery cells reach into the shelf above them; and sizes that
only a wrong unit gives.

Breach: none is certain, for which of two things is drawn wrongly is not known: more
than 5 mm, and the survey tolerance, is left open for a person to mend. What can be so
gets no judgement. What could not be read is left open till a person strikes it from
not_read: it may be in the way of what is met. Where it is placed, what it may reach
into is open too.

Exceptions: what is made to pass through or into the other: runs through walls,
ceilings, floors and gear, and into runs in which they end; flush gear let into a wall
with its front free; boxes in walls; luminaires and sprinklers in a ceiling; structure
in structure; meters in gear; what carries the other: supports, pads and trays around
feet, shelves with goods in them.

Source: no code: common practice. All other judgements take the drawing at its word.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.judging.requirement import requirement_of
from model3d.judging.results import ROOM, Judgement
from model3d.wording import sentences
from model3d.wording.said import Named, joined, say
from model3d.working.drawn.battery_cells import cells_too_high
from model3d.working.drawn.bounds import odd_room_sizes, odd_size
from model3d.working.drawn.carried import hanging
from model3d.working.drawn.contradiction import Contradiction
from model3d.working.drawn.not_read import not_read_words
from model3d.working.drawn.outside import outside
from model3d.working.drawn.overlaps import overlaps, shared_with
from model3d.working.drawn.room_doors import doors_that_overlap

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.results import Intrusion
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ()
REQUIREMENT: Final = requirement_of(__name__)
_CITATION: Final = "the drawing"
"""No code says it: the drawing contradicts itself."""


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Tell of an item that cannot be as it is drawn."""
    if item.of_room:
        return
    found = _contradictions(item, situation)
    if not found:
        return
    shared = [
        shared_with(item, one.other, situation)
        for one in found
        if one.other is not None
    ]
    yield _judgement(item.id, found, tuple(one for one in shared if one is not None))


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Tell of a room whose size is odd, and of its doors that overlap."""
    odd = [_odd(*size, situation) for size in odd_room_sizes(situation)]
    not_read = not_read_words(situation)
    if odd:
        judged = _judgement(ROOM, odd)
        yield judged if not_read is None else _also(judged, not_read)
    elif not_read is not None:
        yield Judgement(
            REQUIREMENT, ROOM, "open", _CITATION, not_read, missing=not_read
        )
    for door, found in doors_that_overlap(situation).items():
        yield _judgement(door, found)


def _also(judged: Judgement, words: str) -> Judgement:
    said = sentences(judged.reason, words)
    return replace(judged, reason=said, missing=said)


def _contradictions(item: Placed, situation: Situation) -> list[Contradiction]:
    size = odd_size(item, situation)
    if size is not None:
        # In what else such a thing lies is only a consequence.
        return [_odd(*size, situation)]
    return [
        *overlaps(item, situation),
        *outside(item, situation),
        *hanging(item, situation),
        *cells_too_high(item, situation),
    ]


def _odd(name: str, metres: float, situation: Situation) -> Contradiction:
    words = say(
        "is {} {}, as a wrong unit would make it", situation.length(metres), name
    )
    return Contradiction(words, "size", metres)


def _judgement(
    subject: str,
    found: Sequence[Contradiction],
    intrusions: tuple[Intrusion, ...] = (),
) -> Judgement:
    name = "The room" if subject == ROOM else Named(subject)
    reason = say("{} {}.", name, joined("; it ", (one.words for one in found)))
    amounts: dict[str, float] = {}
    for one in found:
        amounts[one.size] = max(one.metres, amounts.get(one.size, one.metres))
    return Judgement(
        REQUIREMENT,
        subject,
        "open",
        _CITATION,
        reason,
        missing=reason,
        provided=amounts,
        intrusions=intrusions,
    )
