"""What a drawing of one item is about: the item, its judgements, its spaces."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.judging.results import ANGLE, ClearBox
from model3d.standing.leaves import stated_leaves
from viewer.figure.things.scenery import box_outline
from viewer.wording.refusal import UnusableError
from viewer.wording.words import units_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Judgement, Report
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Front, Placed
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.stage.bodies.hung import Hung

_ALWAYS: Final = frozenset({"working-space"})
"""Spaces that are drawn though they are met."""


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """An item to be drawn with what is asked of it.

    Attributes:
        report: What the check answered.
        arrangement: Where everything stands.
        placed: The item.
        front: Of the item.
        judgements: Those that are drawn: with a space or a line, the worst first.
        leaves: How each of its leaves is hung, how far it opens, how far it must.
    """

    report: Report
    arrangement: Arrangement
    placed: Placed
    front: Front
    judgements: tuple[Judgement, ...]
    leaves: tuple[tuple[Hung, float, float | None], ...]

    @property
    def units(self) -> str:
        """The units of the scene."""
        return units_of(self.report)

    @property
    def working(self) -> Judgement | None:
        """The judgement of its working space, if there is one."""
        found = (one for one in self.judgements if one.requirement in _ALWAYS)
        return next(found, None)

    def boxes(self) -> Iterator[tuple[Judgement, ClearBox]]:
        """Yield every box that must be clear, with its judgement."""
        for one in self.judgements:
            for shape in one.shapes:
                if isinstance(shape, ClearBox):
                    yield one, shape

    def space(self) -> ClearBox | None:
        """Return the working space, where it was tested."""
        one = self.working
        shapes = one.shapes if one else ()
        return next((shape for shape in shapes if isinstance(shape, ClearBox)), None)

    def in_the_way(self, requirement: str = "") -> Iterator[tuple[str, Points]]:
        """Yield what is in the way, each body with its world points, shape (n, 3).

        Args:
            requirement: Of what one rule asks alone; "" for all.
        """
        for one in self.judgements:
            if requirement and one.requirement != requirement:
                continue
            for hit in one.intrusions:
                points = np.array([*product(*zip(hit.low, hit.high, strict=True))])
                if hit.body is not None and len(hit.body.vertices):
                    points = hit.body.vertices
                yield hit.item, points


def arrangement_of(report: Report) -> Arrangement:
    """Return where everything stands.

    Raises:
        UnusableError: The report does not say.
    """
    if report.arrangement is None:
        raise UnusableError(["standclear: the report does not say where things stand"])
    return report.arrangement


def subject_of(report: Report, item: str) -> Subject | None:
    """Return an item as it is drawn; None where it has no front to be drawn from."""
    arrangement = arrangement_of(report)
    placed = arrangement.items.get(item)
    if placed is None or placed.front is None or placed.of_room:
        return None
    order = {"not-met": 0, "open": 1, "met": 2}
    mine = [
        one
        for one in report.judgements
        if one.subject == item
        and (one.shapes or one.line)
        and (one.verdict != "met" or one.requirement in _ALWAYS)
    ]
    mine.sort(key=lambda one: order[one.verdict])
    leaves = tuple(_leaves(report, arrangement, placed))
    return Subject(report, arrangement, placed, placed.front, tuple(mine), leaves)


def _leaves(
    report: Report, arrangement: Arrangement, placed: Placed
) -> Iterator[tuple[Hung, float, float | None]]:
    hung = stated_leaves(placed, arrangement.scene) or ()
    swings = report.of(placed.id, "door-swing") if hung else ()
    for number, leaf in enumerate(hung):
        told = [one for one in swings if one.leaf == number]
        reached = told[0].provided.get(ANGLE, 90.0) if told else 90.0
        needed = told[0].required.get(ANGLE) if told else None
        yield leaf, min(reached, 90.0), needed


def outline_of(box: ClearBox, axes: Axes) -> Points:
    """Return the outline of a box in a view, metres."""
    ends = np.array([*product(*zip(box.low, box.high, strict=True))])
    return box_outline(box.frame.world(ends), axes)
