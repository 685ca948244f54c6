"""Sizes of a judgement in words: a required one as its rule book prints it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.judging.results import ANGLE
from model3d.wording import bracketed, is_up_to
from model3d.wording.said import joined, parts_of, say
from viewer.wording.shortfall import asked_about
from viewer.wording.words import amounts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from viewer.wording.shortfall import Shortfall

NOTHING: Final = "none"
"""What there is of a size that decides, where nothing at all is clear."""
_AT_MOST: Final = "at most"
LEVEL: Final = 0.0005
"""Metres by which a height falls short before that is told, or drawn."""


def required(judgement: Judgement, name: str, units: str) -> tuple[str, str]:
    """Return a required size in the scene's own system, and in the other one or "".

    A figure of the rule book is never converted: both texts are what it prints, and
    there is one where it prints one. What is no figure of the book, as the item's own
    width, is converted.
    """
    printed = judgement.printed.get(name)
    if not printed:
        return amounts(name, judgement.required[name], units)
    return printed[0], printed[1] if len(printed) > 1 else ""


def bounded(judgement: Judgement, name: str, units: str) -> tuple[str, str]:
    """Return a required size as ``required``, "at most" before a greatest figure."""
    own, other = required(judgement, name, units)
    return f"{_AT_MOST} {own}" if name in judgement.limit else own, other


def required_words(judgement: Judgement, name: str, units: str) -> str:
    """Return a required size: "1.0 m (3 ft 6 in)", "at most 150 mm (6 in)"."""
    words = f"{_AT_MOST} {{}}" if name in judgement.limit else "{}"
    return say(words, bracketed(required(judgement, name, units)))


def provided(judgement: Judgement, name: str, units: str) -> tuple[str, str]:
    """Return what there is of a size in both systems, or "" where it is not told."""
    there = judgement.provided.get(name)
    if there is None:
        return "", ""
    return amounts(name, there, units, judgement.required.get(name))


def provided_words(judgement: Judgement, name: str, units: str) -> str:
    """Return what there is of a size, or "" where that is not told."""
    return bracketed(provided(judgement, name, units))


def lacking(judgement: Judgement, short: Shortfall, units: str) -> tuple[str, str]:
    """Return by how much a size falls short, in both systems.

    Where nothing at all is clear that is the required size, as its book prints it.
    """
    if short.provided is None:
        return required(judgement, short.size, units)
    return amounts(short.size, short.by, units)


def compared(there: str, needed: str, *, most: bool) -> str:
    """Return what there is beside what is required.

    >>> compared("516 mm", "1.0 m", most=False), compared("170 mm", "150 mm", most=True)
    ('516 mm of 1.0 m', '170 mm, at most 150 mm')
    """
    if most:
        return say("{}, {} {}", there, _AT_MOST, needed)
    return say("{} {}", there, of(needed))


def of(needed: str) -> str:
    """Return what is required as it follows on what there is of it.

    >>> from model3d.wording import up_to
    >>> of("1.0 m"), of(up_to("the ceiling"))
    ('of 1.0 m', 'of the height up to the ceiling')
    """
    return say("of the height {}" if is_up_to(needed) else "of {}", needed)


def briefs(judgement: Judgement, name: str, units: str) -> tuple[str, str]:
    """Return what there is beside what is required, in each system; short texts.

    Where the book prints one system only, its figure stands in both texts.
    """
    needed, needed_other = required(judgement, name, units)
    there, there_other = NOTHING, NOTHING
    if name in judgement.provided:
        there, there_other = provided(judgement, name, units)
    most = name in judgement.limit
    first = compared(there, needed, most=most)
    if not there_other:
        return first, ""
    return first, compared(there_other, needed_other or needed, most=most)


def measured(judgement: Judgement, units: str, said: str) -> str:
    """Return the sizes that decide something open, as far as they were measured.

    What stands in ``said`` already, a required size with its figure, is left out.
    """
    return joined(", ", _measured(judgement, units, said))


def _measured(judgement: Judgement, units: str, said: str) -> Iterator[str]:
    for name in asked_about(judgement):
        there = provided_words(judgement, name, units)
        is_told = _is_in(there, said)
        if name in judgement.required and name not in judgement.unknown:
            needed = bracketed(required(judgement, name, units))
            is_told = is_told and _is_in(needed, said)
            there = compared(there, needed, most=name in judgement.limit)
        if not is_told:
            yield say("{} {}", name, there)


def _is_in(size: str, said: str) -> bool:
    """Tell whether a text tells a size."""
    return set(parts_of(size)) <= set(parts_of(said))


def deciding(judgement: Judgement, name: str) -> str:
    """Return a size's name where the requirement's own name does not say it."""
    return "" if name == ANGLE or name in judgement.requirement else name
