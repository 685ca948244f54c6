"""Judgements as rows of a report's tables: required, there, margin, and the cure."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.judging.results import ANGLE, ROOM
from model3d.wording import bracketed, sentences
from model3d.wording.said import LINE, joined, say
from viewer.report.text.mend import NOTHING_FOUND
from viewer.wording.shortfall import in_the_way, shortfall, too_words
from viewer.wording.sizes import NOTHING, lacking, provided_words, required_words
from viewer.wording.words import WORDS, amount, part_words, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Judgement, Report
    from model3d.mending.remedies import Mend
    from model3d.standing.arrangement import Arrangement

NONE: Final = "\N{EN DASH}"
"""What stands in a cell that does not apply."""
_SMALL: Final = 1e-6


def called(item: str, arrangement: Arrangement | None) -> str:
    """Return an id with the name that people gave the thing."""
    if item == ROOM:
        return "The room"
    name = name_of(item, arrangement)
    return f"{item}, {name}" if name else item


def name_of(item: str, arrangement: Arrangement | None) -> str:
    """Return the name that people gave a thing, or ""."""
    placed = arrangement.items.get(item) if arrangement else None
    return (placed.item.name if placed and placed.item else None) or ""


def asked(judgement: Judgement) -> str:
    """Return a requirement in words, with the leaf, tier or side that is meant."""
    one = judgement
    part = part_words(one.leaf, one.tier, one.side)
    words = requirement_words(one.requirement)
    return f"{words}, {part}" if part else words


def size_rows(judgement: Judgement, units: str) -> Iterator[tuple[str, ...]]:
    """Yield size, required, there and margin of a judgement, a row a size.

    A size that nothing was measured of is left out where another one was measured.
    """
    short = shortfall(judgement)
    told = [
        name
        for name in judgement.required
        if name in judgement.provided or (short and short.size == name)
    ]
    for name in told or judgement.required:
        yield (
            name,
            required_words(judgement, name, units),
            _there(judgement, name, units),
            _margin(judgement, name, units),
        )


def _there(judgement: Judgement, name: str, units: str) -> str:
    told = provided_words(judgement, name, units)
    short = shortfall(judgement)
    if not told and short is not None and short.size == name:
        return NOTHING
    if judgement.verdict == "open" and name in judgement.instead:
        return say("{}: {}", judgement.instead[name], told)
    return say("{} or more", told) if _opens_enough(judgement, name) else told or NONE


def _opens_enough(judgement: Judgement, name: str) -> bool:
    """Tell whether a leaf opens as far as it must: it is tried no further."""
    there = judgement.provided.get(name)
    return name == ANGLE and there is not None and there >= judgement.required[name]


def _margin(judgement: Judgement, name: str, units: str) -> str:
    """Say what is left or missing of a size, where both figures are known."""
    is_asked = judgement.verdict == "open" and name in judgement.unknown
    short = shortfall(judgement)
    if name not in judgement.provided and short is not None and short.size == name:
        return say("{} short", bracketed(lacking(judgement, short, units)))
    if name not in judgement.provided or is_asked:
        return NONE
    if _opens_enough(judgement, name):
        return NONE
    over = judgement.provided[name] - judgement.required[name]
    over = -over if name in judgement.limit else over
    size = amount(name, abs(over), units)
    if over < -_SMALL:
        too = too_words(name) if name in judgement.limit else "short"
        return say("{} {}", size, too)
    return say("{} left", size) if over > _SMALL else "none left"


def deciding_row(judgement: Judgement, units: str) -> tuple[str, str, str]:
    """Return required, there and margin of the size that decides.

    Where none does, the reason stands for what is there.
    """
    short = shortfall(judgement)
    name = short.size if short else ""
    for size, needed, there, margin in size_rows(judgement, units):
        if size == name:
            label = "" if size == ANGLE else f"{size} "
            return say("{}{}", label, needed), there, margin
    return NONE, judgement.reason, judgement.reason


def way_words(judgement: Judgement, report: Report, units: str) -> str:
    """Name what is in the way, each with its name and by how much.

    Of a way out that is what it is narrowest between.
    """
    short = shortfall(judgement)
    size = short.size if short else ""
    found: list[str] = []
    for item in dict.fromkeys(hit.item for hit in judgement.intrusions):
        mine = tuple(hit for hit in judgement.intrusions if hit.item == item)
        found += in_the_way(replace(judgement, intrusions=mine), size, units)
        name = name_of(item, report.arrangement)
        if name and item != judgement.subject:
            found.append(name)
    if not found and judgement.way is not None and size == "width":
        found = [" and ".join(judgement.way.between)]
    return joined(LINE, found) or NONE


def cure_words(mend: Mend | None) -> tuple[str, ...]:
    """Return the proved remedies of a breach, or that none was found and why."""
    if mend is None:
        return ()
    if not mend.remedies:
        return (sentences(NOTHING_FOUND, mend.why),)
    return tuple(one.text for one in mend.remedies)


def verdict_words(judgement: Judgement) -> str:
    """Return a verdict as people say it, in capitals where something is to be done."""
    words = WORDS[judgement.verdict]
    return words if judgement.verdict == "met" else words.upper()
