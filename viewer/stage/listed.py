"""Judgements as the rows of a list, numbered, with the badges that point at them."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.judging.results import ClearBox
from model3d.wording.said import sentences_of
from viewer.stage.drawn import Badge
from viewer.stage.rows import ListedJudgement, Size
from viewer.wording.shortfall import names_in_the_way, told_shortfall
from viewer.wording.sizes import (
    NOTHING,
    bounded,
    briefs,
    measured,
    provided,
)
from viewer.wording.words import part_words, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement
    from viewer.stage.drawn import Point, Points, Shape, View
    from viewer.stage.kept import Kept

_OF_ROWS: Final = ("space", "footprint", "intrusion")
"""The roles of shapes that belong to rows, not to items."""
_ORDER: Final = {"not-met": 0, "open": 1, "met": 2}


def ordered(report: Report) -> tuple[Judgement, ...]:
    """Return the judgements as they are listed: not met, open, met."""
    return tuple(sorted(report.judgements, key=lambda one: _ORDER[one.verdict]))


def name_of(judgement: Judgement) -> tuple[object, ...]:
    """Return what tells a judgement from all others, however it comes out."""
    one = judgement
    return one.subject, one.requirement, one.leaf, one.tier, one.side


def row(
    judgement: Judgement,
    number: int | None,
    units: str,
    shapes: Iterable[str],
    look: View,
) -> ListedJudgement:
    """Return the row of one judgement.

    Args:
        judgement: What was judged.
        number: From 1; None where it is met.
        units: Of the scene.
        shapes: Ids of the shapes of its spaces and of what is in them.
        look: Where the camera goes.
    """
    in_the_way = names_in_the_way(judgement)
    is_open = judgement.verdict == "open"
    sizes = tuple(_sizes(judgement, units))
    asked = measured(judgement, units, judgement.missing) if is_open else ""
    return ListedJudgement(
        number=number,
        verdict=judgement.verdict,
        requirement=judgement.requirement,
        title=requirement_words(judgement.requirement),
        subject=judgement.subject,
        part=part_words(judgement.leaf, judgement.tier, judgement.side),
        leaf=judgement.leaf,
        brief=_brief(judgement, sizes, asked),
        sizes=sizes,
        in_the_way=tuple(in_the_way),
        named=tuple(in_the_way.values()),
        citation=judgement.citation,
        reason=judgement.reason,
        missing=judgement.missing if is_open else "",
        measured=asked,
        exception=judgement.exception,
        select=tuple(dict.fromkeys((judgement.subject, *in_the_way))),
        shapes=tuple(shapes),
        look=look,
    )


def badges(
    judgements: Sequence[Judgement],
    places: Mapping[str, Point],
    other: Point,
    kept: Kept,
) -> tuple[Badge, ...]:
    """Return a badge for every row that has a number.

    Args:
        judgements: In the order of their rows: those that have a number come first.
        places: Where items are pointed at.
        other: The place of what has none.
        kept: What was made for stages before.
    """
    told = [one for one in judgements if one.verdict != "met"]
    spots = [places.get(one.subject, other) for one in told]

    def make(index: int, _last: object) -> Badge:
        one = told[index]
        at = anchor(one, spots[index])
        return Badge(index + 1, one.verdict, one.subject, index, at)

    names = [name_of(one) for one in told]
    return tuple(kept.each("badges", names, (told,), (range(len(told)), spots), make))


def anchor(judgement: Judgement, other: Point) -> Point:
    """Return the point a badge points at: what is in the way, the space, the item.

    Args:
        judgement: What the badge stands for.
        other: The place of what is judged, where nothing is in the way and no space
            was tested.
    """
    found = [hit.body for hit in judgement.intrusions if hit.body is not None]
    if found:
        largest = max(found, key=lambda body: body.drawn_volume or 0.0)
        return _middle(*largest.drawn_bounds)
    for tested in judgement.shapes:
        if isinstance(tested, ClearBox):
            inside = np.add(tested.low, tested.high) / 2
            return _point(tested.frame.world(inside[None, :])[0])
        return _middle(*tested.bounds)
    return other


def own_shapes(shapes: Iterable[Shape]) -> dict[int, list[Shape]]:
    """Return the spaces, and what is in them, of every row by its index."""
    found: defaultdict[int, list[Shape]] = defaultdict(list)
    for shape in shapes:
        if shape.role in _OF_ROWS:
            for index in shape.judgements:
                found[index].append(shape)
    return found


def _brief(judgement: Judgement, sizes: Sequence[Size], asked: str) -> str:
    """Say in a line what is short, or what is missing and what was measured."""
    if judgement.verdict == "met":
        return ""
    for size in sizes:
        if size.short and judgement.verdict == "not-met":
            return f"{size.name} {size.brief}"
    told, *_ = sentences_of(judgement.missing or judgement.reason)
    return f"{told} Measured: {asked}." if asked else told


def _sizes(judgement: Judgement, units: str) -> Iterator[Size]:
    short = told_shortfall(judgement)
    worst = short.size if short else ""
    for name in dict.fromkeys((*judgement.required, *judgement.provided)):
        is_worst = name == worst
        is_asked = name in judgement.required
        there, there_other = provided(judgement, name, units)
        yield Size(
            name=name,
            required=bounded(judgement, name, units) if is_asked else ("", ""),
            provided=(there or (NOTHING if is_worst else ""), there_other),
            brief=briefs(judgement, name, units)[0] if is_worst else "",
            short=is_worst,
            most=name in judgement.limit,
        )


def _middle(low: Point, high: Point) -> Point:
    return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2


def _point(vector: Points) -> Point:
    return float(vector[0]), float(vector[1]), float(vector[2])
