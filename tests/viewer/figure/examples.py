"""The example rooms, judged once, and which of their items are the busiest."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import TYPE_CHECKING

from tests.paths import ROOMS
from tests.scenes.examples import report
from viewer.figure.drafting.drawing import DimensionLine, Text
from viewer.figure.things.subject import subject_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Report
    from viewer.figure.drafting.drawing import Figure
    from viewer.figure.things.subject import Subject


def report_of(name: str) -> Report:
    """Return what the check says of an example room; worked out once a process."""
    return report(name)


@cache
def busiest(count: int) -> tuple[tuple[str, str], ...]:
    """Return the room and id of the items with most to draw, the busiest first."""
    found: Counter[tuple[str, str]] = Counter()
    for file in ROOMS:
        found_here = report_of(file.stem)
        for one in found_here.judgements:
            if subject_of(found_here, one.subject) is not None:
                weight = {"not-met": 5, "open": 3, "met": 1}[one.verdict]
                found[file.stem, one.subject] += weight + 2 * len(one.intrusions)
    order = sorted(found, key=lambda pair: (-found[pair], pair))
    return tuple(order[:count])


def subject(name: str, item: str) -> Subject:
    """Return an item of an example room as it is drawn."""
    found = subject_of(report_of(name), item)
    assert found is not None
    return found


def texts_of(figure: Figure) -> list[Text]:
    """Return every line of text on a figure."""
    return [*_texts(figure)]


def words_of(figure: Figure) -> str:
    """Return everything that is written on a figure, a line each."""
    return "\n".join(text.text for text in _texts(figure))


def _texts(figure: Figure) -> Iterator[Text]:
    for mark in figure.marks:
        if isinstance(mark, Text):
            yield mark
        elif isinstance(mark, DimensionLine):
            yield from mark.texts
