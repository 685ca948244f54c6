"""Large equipment: wide, and rated for many amperes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, TypeAlias

from model3d.egress.large.line_up import breadth, line_up
from model3d.wording import sentences
from model3d.wording.said import Named, ids, say
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from model3d.codebook import Entry
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

Sections: TypeAlias = "tuple[Placed, ...]"


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of gear that a sentence on wide gear may speak of.

    Attributes:
        sections: What it is made of, from left to right.
        missing: What must be said to know whether it does; "" if it does.
        unsaid: Nothing says that its sections are one line-up.
    """

    sections: Sections
    missing: str = ""
    unsaid: bool = False


def is_large(item: Placed, situation: Situation) -> tuple[bool | None, str]:
    """Tell whether an item is large equipment, or belongs to it.

    None with what must be said to know it. High voltage has figures of its own and is
    not asked about here.
    """
    found = large_pieces(item, situation)
    if not found:
        return False, ""
    if not all(one.missing for one in found):
        return True, ""
    return None, sentences(*(one.missing for one in found))


def large_pieces(item: Placed, situation: Situation) -> tuple[Piece, ...]:
    """Return the pieces of large equipment that an item is or may be.

    What the scene tells of stands first, then the wider piece that it may be part of if
    boards that touch are one line-up.
    """
    entry = situation.book.entry("large-equipment")
    if not entry.given or not item.live or is_high_voltage(item, situation):
        return ()

    def is_large_by_itself(sections: Sections) -> tuple[bool | None, str]:
        return situation.remembered(_by_itself, sections)

    found = pieces(item, situation, is_large_by_itself)
    if not all(one.missing for one in found):
        return found
    if entry.flag("combined_service") and _is_service(item):
        return (*_combined(item, entry, situation, _is_service), *found)
    if entry.flag("combined_feeder") and _may_be_feeder(item):
        feeders = _combined(item, entry, situation, _may_be_feeder)
        ask = say(_ASK_FEEDERS, Named(item.id))
        return (
            *(replace(one, missing=one.missing or ask) for one in feeders),
            *found,
        )
    return found


def pieces(
    item: Placed,
    situation: Situation,
    test: Callable[[Sections], tuple[bool | None, str]],
) -> tuple[Piece, ...]:
    """Return the pieces of gear that an item is or may be, of those that pass a test.

    Args:
        item: The item, whichever of its sides is looked at.
        situation: The room.
        test: Tells whether a piece passes; None with what must be said to know it.
    """
    own = situation.arrangement.items.get(item.id, item)
    sections = line_up(own, situation)
    wider = line_up(own, situation, unsaid=True)
    passes, missing = test(sections)
    found = [] if passes is False else [Piece(sections, missing)]
    if len(wider) > len(sections):
        passes, missing = test(wider)
        if passes is not False:
            asked = situation.remembered(_asked_line_up, wider, missing)
            found.append(Piece(wider, asked, unsaid=True))
    return tuple(found)


def _asked_line_up(wider: Sections, missing: str, _: Situation) -> str:
    """Ask whether some sections are one line-up.

    It names all of them, and is asked of each of them: put together once, for a row of
    a thousand would be named a thousand times.
    """
    names = ids(sorted(one.id for one in wider))
    return sentences(say(_ASK_LINE_UP, names), missing)


def rated(sections: Sections, situation: Situation) -> tuple[float, Sections] | None:
    """Return the same as ``rating``; None of gear that has no devices."""
    return situation.remembered(_rated, sections)


def _rated(sections: Sections, _: Situation) -> tuple[float, Sections] | None:
    return rating(sections) if has_devices(sections) else None


def rating(sections: Sections) -> tuple[float, Sections]:
    """Return the greatest amperes of any section, and those that do not say theirs."""
    silent = (
        one for one in sections if one.amps is None and one.live and has_devices([one])
    )
    return max((one.amps or 0.0 for one in sections), default=0.0), tuple(silent)


def has_devices(sections: Iterable[Placed]) -> bool:
    """Tell whether any section holds overcurrent, switching or control devices."""
    return any(one.live and not one.kind.without_devices for one in sections)


def ask_amps(silent: Sections) -> str:
    """Ask for the amperes of some sections."""
    names = ids(sorted(one.id for one in silent))
    verb = "is" if len(silent) == 1 else "are"
    return say("Say how many amperes {} {} rated for.", names, verb)


_ASK_LINE_UP: Final = "Say whether {} are sections of one line-up (line_up)."
_ASK_FEEDERS: Final = (
    "Feeder disconnects count together: a person must say whether {} and those beside "
    "it are."
)


def _by_itself(sections: Sections, situation: Situation) -> tuple[bool | None, str]:
    """Tell whether one piece is large, for all of its sections at once."""
    return _together([sections], situation.book.entry("large-equipment"), situation)


def _together(
    group: Iterable[Sections], entry: Entry, situation: Situation
) -> tuple[bool | None, str]:
    """Add up widths and amperes of pieces that have devices."""
    found = [sections for sections in group if has_devices(sections)]
    wide = sum(breadth(sections) for sections in found)
    if not situation.is_over(wide, entry.figure("width_over")):
        return False, ""
    ratings = [rating(sections) for sections in found]
    if sum(amps for amps, _ in ratings) >= entry.number("amps"):
        return True, ""
    silent = tuple(one for _, sections in ratings for one in sections)
    return (None, ask_amps(silent)) if silent else (False, "")


def _combined(
    item: Placed, entry: Entry, situation: Situation, belongs: Callable[[Placed], bool]
) -> tuple[Piece, ...]:
    """Return an item's own piece where it is large with all others that belong."""
    found = (
        line_up(one, situation)
        for one in situation.live
        if one.id == item.id or belongs(one)
    )
    group = dict.fromkeys(found)
    if len(group) < 2:  # noqa: PLR2004 - nothing to count together with
        return ()
    passes, missing = _together(group, entry, situation)
    (own,) = (sections for sections in group if item.id in {one.id for one in sections})
    return () if passes is False else (Piece(own, missing),)


def _is_service(item: Placed) -> bool:
    return item.item is not None and item.item.service is True


def _may_be_feeder(item: Placed) -> bool:
    return item.kind.disconnect and not _is_service(item)
