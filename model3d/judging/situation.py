"""A scene ready to be judged: items in place, indexed, with the rule book to use."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar, TypeVarTuple, cast

import numpy as np

from model3d.geometry.overlap.index import SolidIndex
from model3d.geometry.overlap.shared import intersection
from model3d.geometry.plan.outline import is_convex, reach_inside
from model3d.geometry.tolerance import TOUCH
from model3d.judging.unseen import clouds_of
from model3d.wording import INCH_POUND, bracketed, length, lengths, within_survey
from model3d.wording.said import Amount, Said

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.typing import NDArray

    from model3d.codebook import Measures, PrintedFigure, RuleBook
    from model3d.geometry.frame import Frame, Triple
    from model3d.geometry.overlap.shared import Body
    from model3d.scene.scene import Scene
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed

Found = TypeVar("Found")
About = TypeVarTuple("About")


@dataclass(frozen=True)
class Earlier:
    """What a situation was before something in it was moved.

    Attributes:
        situation: Before that, asked by the same figures.
        boxes: Where that was, and where it is: corners, shape (n, 2, 3).
    """

    situation: Situation
    boxes: NDArray[np.float64]

    def is_same_in(self, area: tuple[float, float, float, float]) -> bool:
        """Tell whether nothing that was moved was or is in a part of the plan.

        Args:
            area: West, south, east and north, metres.
        """
        low, high = np.array(area).reshape(2, 2)
        meet = (self.boxes[:, 0, :2] <= high) & (self.boxes[:, 1, :2] >= low)
        return not meet.all(axis=1).any()


@dataclass(frozen=True)
class Situation:
    """Everything a rule may look at.

    Attributes:
        arrangement: Every item in its place.
        book: The rule book.
        measures: Which published figure of a limit is asked about.
        accepted: Which figures keep a limit: those of one system, or of either.
    """

    arrangement: Arrangement
    book: RuleBook
    measures: Measures
    accepted: Measures

    @property
    def scene(self) -> Scene:
        """What was written."""
        return self.arrangement.scene

    @property
    def earlier(self) -> Earlier | None:
        """What it was before something was moved; None where that is not known."""
        return None

    @property
    def verdicts_only(self) -> bool:
        """Whether nobody reads what is told beside a verdict: how wide a way is."""
        return False

    @cached_property
    def outdoors(self) -> bool:
        """Whether the place is outdoors."""
        return self.scene.use == "outdoor"

    @cached_property
    def survey_tolerance(self) -> float:
        """How well the dimensions are known, metres."""
        return self.scene.metres(self.scene.survey_tolerance)

    @cached_property
    def clouds(self) -> tuple[str, ...]:
        """The ids of the items that are clouds of points: no judging is certain."""
        return clouds_of(self.scene)

    @cached_property
    def uncertain(self) -> tuple[str, ...]:
        """The ids of the items of which only the most is known that they take up."""
        return tuple(one.id for one in self.items if one.uncertain)

    @cached_property
    def unread(self) -> frozenset[str]:
        """Of these the ids of what could not be read."""
        return frozenset(one.id for one in self.items if one.unread)

    @property
    def sure(self) -> Situation:
        """The same without the items that are uncertain, asked by the same figures."""
        return self.remembered(_sure)

    def without_uncertain(self) -> Situation:
        """Return it anew without the items that are uncertain; ``sure`` is kept."""
        return replace(self, arrangement=self.arrangement.without(self.uncertain))

    @cached_property
    def items(self) -> tuple[Placed, ...]:
        """Every item, walls, floor and ceiling too, in an order of their own.

        Sorted by id, so that the order of the file changes nothing.
        """
        found = self.arrangement.items
        return tuple(found[name] for name in sorted(found))

    def has(self, placed: Placed) -> bool:
        """Tell whether the very same item stands here."""
        return self.arrangement.items.get(placed.id) is placed

    def remembered(
        self, work: Callable[[*About, Situation], Found], *about: *About
    ) -> Found:
        """Return what work finds out of this situation, in which nothing changes.

        Several rules ask the same: each piece of work is done once, and remembered
        by the function that does it and by what it is asked about.

        Args:
            work: Takes what it is asked about, and the situation.
            about: What can be told apart by its hash.
        """
        key = (work, *about)
        if key not in self._known:
            self._known[key] = work(*about, self)
        return cast("Found", self._known[key])

    @cached_property
    def _known(self) -> dict[tuple[object, ...], object]:
        return {}

    def shared(self, placed: Placed, frame: Frame, low: Triple, high: Triple) -> Body:
        """Return what an item and a box of a frame share; the item reaches into it."""
        return self.remembered(_shared, placed, frame, low, high)

    def by(self, measures: Measures) -> Situation:
        """Return the same situation, asked about the figures of another system."""
        return self.remembered(_by, measures)

    @cached_property
    def index(self) -> SolidIndex:
        """All items' bodies."""
        return SolidIndex([placed.solid for placed in self.items])

    @cached_property
    def size(self) -> float:
        """Longest distance there is in the scene, metres."""
        return math.dist(self.index.low, self.index.high) + 1.0

    @cached_property
    def live(self) -> tuple[Placed, ...]:
        """The items that need a working space."""
        return tuple(placed for placed in self.items if placed.live)

    @cached_property
    def live_index(self) -> SolidIndex:
        """The bodies of the items that need a working space."""
        return SolidIndex([placed.solid for placed in self.live])

    @cached_property
    def pits(self) -> tuple[Placed, ...]:
        """The holes in the floor."""
        return tuple(placed for placed in self.items if placed.kind.hole)

    @cached_property
    def walls(self) -> tuple[Placed, ...]:
        """The room's walls."""
        return tuple(p for p in self.items if p.of_room and p.kind.wall)

    def near(self, frame: Frame, low: Triple, high: Triple) -> Iterator[Placed]:
        """Yield the items whose bounds meet a box of a frame."""
        for place in self.index.near(frame, low, high):
            yield self.items[place]

    def beside(self, item: Placed) -> list[Placed]:
        """Return the items whose bounds meet an item's, without itself."""
        found = (self.items[place] for place in self.index.beside(self._places[item]))
        return [placed for placed in found if placed is not item]

    @cached_property
    def _places(self) -> dict[Placed, int]:
        return {placed: place for place, placed in enumerate(self.items)}

    def reach_ahead(self, frame: Frame, left: float, right: float) -> float:
        """Return how far the room goes on ahead of a front, metres.

        What lies beyond a corner of the room is not opposite. Infinite where the
        room has no such corners, or no outline at all.
        """
        outline = self.arrangement.shell.outline
        if not outline or self._convex:
            return float("inf")
        return reach_inside(outline, frame, left, right)

    @cached_property
    def _convex(self) -> bool:
        return is_convex(self.arrangement.shell.outline)

    def least(self, figure: PrintedFigure) -> float:
        """Return a limit from below in metres, by the scene's measures."""
        return figure.at_least(self.measures)

    def most(self, figure: PrintedFigure) -> float:
        """Return a limit from above in metres, by the scene's measures."""
        return figure.at_most(self.measures)

    def is_over(self, metres: float, figure: PrintedFigure) -> bool:
        """Tell whether a length passes a figure that triggers a rule.

        Where the figures of either system count, both must trigger it.
        """
        return metres > figure.at_most(self.accepted) + TOUCH

    def is_under(self, metres: float, figure: PrintedFigure) -> bool:
        """Tell whether a length stays below a figure that triggers a rule."""
        return metres < figure.at_least(self.accepted) - TOUCH

    @property
    def imperial(self) -> bool:
        """Whether the scene is written in inches and feet."""
        return self.scene.units in INCH_POUND

    def printed(self, figure: PrintedFigure) -> tuple[str, ...]:
        """Return a figure as its book prints it, the scene's own system first."""
        texts = figure.texts
        return texts[::-1] if self.imperial else texts

    def told(self, figure: PrintedFigure) -> str:
        """Write a figure as its book prints it, the other system in brackets."""
        return bracketed(self.printed(figure))

    def length(self, metres: float, beside: float | None = None) -> str:
        """Write a measured length in the scene's own system, the other in brackets.

        Args:
            metres: The length.
            beside: What it is compared with: what differs is not written the same.
        """
        return length(metres, self.scene.units, beside)

    def stated(self, metres: float) -> Amount:
        """Write a figure that the scene states, in the scene's own system alone."""
        return Amount(lengths(metres, self.scene.units)[0])

    @cached_property
    def survey_doubt(self) -> Said:
        """What is said of a difference that the survey tolerance leaves open."""
        return within_survey(self.survey_tolerance, self.scene.units)


def _shared(
    placed: Placed, frame: Frame, low: Triple, high: Triple, _: Situation
) -> Body:
    return intersection(frame, low, high, placed.solid)


def _sure(situation: Situation) -> Situation:
    return situation.without_uncertain()


def _by(measures: Measures, situation: Situation) -> Situation:
    return replace(situation, measures=measures)
