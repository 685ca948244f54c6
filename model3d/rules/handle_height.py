"""Height of handles.

Applies to: equipment up to the low-voltage limit with switches or circuit breakers (the
kinds that the table names), and whatever else says where its handle is (handle).

Measures: from the floor in front, or from a platform that carries the person there, to
the middle of the grip of the highest handle in its highest position. Where nothing is
said of the handle, an item whose top is no higher than the figure is met.

Breach: a handle higher than the figure.

Exceptions: a switch beside the equipment that it supplies, which portable means reach,
and one that a hookstick operates, may be higher, as it is stated (handle_reach).
Switches of busways that are worked from the floor are not asked about. Over the
low-voltage limit nothing is: these sentences are about switches and breakers up to it.

Source: NEC 404.8(A) for switches, 240.24(A) for circuit breakers.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures, unread_rules
from model3d.judging.limit import at_most
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement, SizeLine
from model3d.wording import sentences
from model3d.wording.said import Named, say
from model3d.working import is_high_voltage
from model3d.working.footing import ask_pit
from model3d.working.front import front_of
from model3d.working.tested import floor_before

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("handle-height",)
REQUIREMENT: Final = requirement_of(__name__)
_UP: Final = 2


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the highest handle of an item with switches or circuit breakers."""
    entry = situation.book.entry(TABLES[0])
    if not entry.given or item.front is None or item.kind.busway:
        return
    breakers = item.kind.name in entry.words("breakers")
    stated = item.item is not None and item.item.handle is not None
    has_handles = breakers or stated or item.kind.name in entry.words("switches")
    in_a_pit = ask_pit(item, situation)
    if has_handles and not is_high_voltage(item, situation):
        key = "breaker_height" if breakers else "switch_height"
        judged = _judged(item, key, entry, situation)
        if in_a_pit:
            judged = replace(judged, verdict="open", reason=in_a_pit, missing=in_a_pit)
            judged = replace(judged, provided={}, margin=None, exception="")
        yield judged


def _judged(item: Placed, key: str, entry: Entry, situation: Situation) -> Judgement:
    figure, front = entry.figure(key), front_of(item)
    most, floor = situation.most(figure), floor_before(item, situation)
    written = item.item
    handle = None if written is None else written.handle
    height = front.top - floor
    if handle is not None:
        height = front.bottom + situation.scene.metres(handle) - floor
    verdict, why = at_most(height, most, situation)
    length, allowed = situation.length(height, most), situation.told(figure)
    what = "Its top" if handle is None else "The middle of its highest handle's grip"
    found = say("{} is {} above the floor in front.", what, length)
    is_asked = handle is None and verdict != "met"
    if is_asked:
        verdict, why = "open", say(_ASK, Named(item.id), length)
        said = sentences(why, say(_ALLOWED, allowed))
    elif verdict == "not-met":
        said = sentences(found, say(_ALLOWED, allowed))
    else:
        said = sentences(found, why)
    judged = Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        entry.cite(key),
        said,
        missing=why if verdict == "open" else "",
        unknown=("height",) if is_asked else (),
        instead={"height": "its top"} if is_asked else {},
        short="height",
        required={"height": most},
        provided={"height": height},
        printed={"height": situation.printed(figure)},
        limit={"height": "at-most"},
        margin=None if is_asked else most - height,
        unread=unread_figures(entry, (figure,), situation.measures, key),
        line=SizeLine(front.frame, (front.width, 0.0, floor), _UP),
    )
    if verdict == "met":
        return judged
    return _excepted(judged, found, item, key, entry)


_ALLOWED: Final = "At most {} is allowed."
_ASK: Final = (
    "Say where the highest handle of {} is (handle): only the height of its top is "
    "known, {}."
)


def _excepted(
    judged: Judgement, found: str, item: Placed, key: str, entry: Entry
) -> Judgement:
    """Return the judgement of a higher handle, which may be excepted.

    Args:
        judged: What is to be said of it without an exception.
        found: What was measured.
        item: The item.
        key: Of the table's figure.
        entry: The table.
    """
    reach = None if item.item is None else item.item.handle_reach
    if reach is None:
        return judged
    of_breakers = reach == "portable" and key == "breaker_height"
    exception = "breaker_portable" if of_breakers else reach
    if not entry.flag(exception):
        return judged
    citation = entry.cite(exception)
    return replace(
        judged,
        verdict="met",
        citation=citation,
        reason=sentences(found, f"It may be higher by {citation}: {_WORDS[reach]}."),
        missing="",
        unknown=(),
        instead={},
        exception=f"{citation} ({_WORDS[reach]})",
        required={},
        printed={},
        limit={},
        margin=None,
        unread=unread_rules(entry, exception),
    )


_WORDS: Final = {
    "portable": "it is beside what it supplies, and portable means reach it",
    "hookstick": "a hookstick operates it",
}
