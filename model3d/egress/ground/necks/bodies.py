"""All that is in the way on a floor, in convex parts, and what is narrow between."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from model3d.egress.doors.exits import WIDEST
from model3d.egress.ground.necks.more_necks import necks_with
from model3d.egress.ground.necks.necks import necks_among
from model3d.geometry.plan import flat
from model3d.geometry.plan.grown import convex_parts_each

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.egress.doors.exits import Plan
    from model3d.egress.ground.necks.necks import Necks


@dataclass(frozen=True, eq=False)
class Bodies:
    """What is in the way on one floor.

    Attributes:
        plans: What stands on it, one polygon each; where there is a floor below, what
            does besides.
        walls: The room's walls by name, as lines without their openings.
        below: The same of the floor with less on it.
    """

    plans: tuple[Plan, ...]
    walls: tuple[Plan, ...]
    below: Bodies | None

    @cached_property
    def features(self) -> tuple[list[str], NDArray[np.object_], flat.STRtree]:
        """Names and shapes of all that is in the way, convex each, and their tree.

        Walls are lines and come last; of a shape with hollows each side is one.
        """
        if self.below is not None and not self._convex:
            return self.below.features
        named = [*self.standing, *self._walled]
        shapes = np.array([plan for _, plan in named], dtype=object)
        return [name for name, _ in named], shapes, flat.STRtree(shapes)

    @cached_property
    def standing(self) -> list[Plan]:
        """The features that are no walls; those of the floor below come first."""
        return [*(self.below.standing if self.below else ()), *self._convex]

    @cached_property
    def _convex(self) -> list[Plan]:
        parts = convex_parts_each([plan for _, plan in self.plans])
        named = zip(self.plans, parts, strict=True)
        return [(name, one) for (name, _), some in named for one in some]

    @cached_property
    def _walled(self) -> list[Plan]:
        if self.below is not None:
            return self.below._walled  # noqa: SLF001 - of its own kind
        return [
            (name, one) for name, line in self.walls for one in flat.get_parts(line)
        ]

    @cached_property
    def necks(self) -> Necks:
        """The narrow places between all that is in the way."""
        _, shapes, tree = self.features
        if self.below is None:
            return necks_among(shapes, tree, WIDEST)
        if not self._convex:
            return self.below.necks
        first = len(self.below.standing)
        new = range(first, first + len(self._convex))
        return necks_with(self.below.necks, shapes, tree, new, WIDEST)
