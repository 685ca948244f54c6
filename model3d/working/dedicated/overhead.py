"""What is over an item: what of it lies above the footprint, and what parts the two."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from model3d.geometry.bodies.extents import reaching
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.plan.union import joined
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed


@dataclass(frozen=True)
class Overhead:
    """The upright column over an item's footprint.

    Attributes:
        front: The item's front.
        situation: The room.
    """

    front: Front
    situation: Situation

    @cached_property
    def plan(self) -> flat.Geometry:
        """The footprint in plan."""
        return footprint(self.front.box(), self.front.bottom, self.front.top)

    @cached_property
    def ceiling(self) -> float | None:
        """World height of the structural ceiling, or None where none is known.

        It covers the whole footprint, in one piece or several: a slab over a part of
        it leaves the rest open to what is above.
        """
        kept: list[Placed] = []
        for height, placed in self._structural:
            kept.append(placed)
            if placed.of_room or is_covered(self._indoors, kept):
                return height
        return None

    def is_carried_at(self, height: float) -> bool:
        """Tell whether platforms of a height lie below all of the footprint.

        Args:
            height: Of their upper faces in the world, metres.
        """

        def carries(placed: Placed) -> bool:
            return placed.kind.platform and abs(placed.top - height) <= TOUCH

        return is_covered(self._indoors, self.reaching_in(0.0, height, carries))

    def reaching_in(
        self, low: float, high: float, wanted: Callable[[Placed], bool]
    ) -> Iterator[Placed]:
        """Yield what is wanted of what reaches into the column between two heights."""
        box = self.front.box()
        ends = (0.0, 0.0, low), (box.width, box.depth, high)
        for placed in self.situation.near(box.frame, *ends):
            if not wanted(placed):
                continue
            if reaching(placed.solid.seen_from(box.frame), *ends) is not None:
                yield placed

    def parted(self, placed: Placed, low: float) -> bool:
        """Tell whether structural ceilings below part off what a body has in there.

        Args:
            placed: The body.
            low: From this height on it is asked about, metres.
        """
        return bool(self._between(placed, low, self._structural))

    def floors_between(self, placed: Placed, low: float) -> list[Placed]:
        """Return the floors overhead that would part off what a body has in there.

        Whether a gallery is closed, and a structural ceiling to what is below it,
        nobody says.

        Args:
            placed: The body.
            low: From this height on it is asked about, metres.
        """
        return self._between(placed, low, self._floors)

    def _between(
        self, placed: Placed, low: float, over: list[tuple[float, Placed]]
    ) -> list[Placed]:
        """Return the slabs that lie below all that a body has in there, if they do."""
        slabs = [pair for pair in over if pair[0] <= placed.top]
        if not slabs:
            return []
        under = self._lowest(placed, low) + TOUCH
        kept = [slab for height, slab in slabs if height <= under]
        if not kept:
            return []
        shadow = flat.intersection(self._shadow(placed, low), self._indoors)
        return kept if is_covered(shadow, kept) else []

    def guards(self, placed: Placed, low: float) -> tuple[Placed, ...]:
        """Return the guards against leaks that keep a body's leaks off, if they do.

        They hang above the item, between ``low`` and the body, and cover all of the
        footprint that lies below it; empty where they leave something open.
        """
        least = max(low, self.front.top)
        hung = tuple(self.reaching_in(least, self._top, _is_guard))
        if not hung:
            return ()
        under = self._lowest(placed, low) - TOUCH
        found = tuple(one for one in hung if least - TOUCH <= one.bottom < under)
        if found and is_covered(self._shadow(placed, low), found):
            return found
        return ()

    @property
    def _top(self) -> float:
        return self.front.top + 2 * self.situation.size

    @cached_property
    def _structural(self) -> list[tuple[float, Placed]]:
        """The structural ceilings above the item, with heights, the lowest first."""
        return self._above(_is_structural)

    @cached_property
    def _floors(self) -> list[tuple[float, Placed]]:
        """The floors of galleries above the item, with heights, the lowest first."""
        return self._above(lambda placed: placed.kind.platform)

    def _above(self, wanted: Callable[[Placed], bool]) -> list[tuple[float, Placed]]:
        found = [
            (self._lowest(placed, self.front.top), placed)
            for placed in self.reaching_in(self.front.top, self._top, wanted)
            if placed.bottom >= self.front.top - TOUCH
        ]
        return sorted(found, key=lambda pair: (pair[0], pair[1].id))

    @cached_property
    def _indoors(self) -> flat.Geometry:
        """What of the footprint is inside the room: gear may be let into a wall."""
        outline = self.situation.arrangement.shell.outline
        if not outline:
            return self.plan
        inside = flat.intersection(self.plan, flat.Polygon(outline))
        return self.plan if flat.is_empty(inside) else inside

    def _lowest(self, placed: Placed, low: float) -> float:
        """Return the height of a body's lowest part in the column, from ``low`` on."""
        box = self.front.box()
        view = placed.solid.seen_from(box.frame)
        found = reaching(view, (0.0, 0.0, low), (box.width, box.depth, self._top))
        return placed.bottom if found is None else found[0][2]

    def _shadow(self, placed: Placed, low: float) -> flat.Geometry:
        """Return what of the footprint lies below a body's part above a height.

        Of a body beside it, so near that it may be above: what lies below it there.
        """
        body = footprint(placed.solid, low, self._top)
        found = flat.intersection(body, self.plan)
        if flat.is_empty(found):
            around = flat.buffer(self.plan, self.situation.survey_tolerance)
            return flat.intersection(body, around)
        return found


def _is_guard(placed: Placed) -> bool:
    return placed.kind.leak_guard


def _is_structural(placed: Placed) -> bool:
    return placed.structural


def is_covered(plan: flat.Geometry, covers: Iterable[Placed]) -> bool:
    """Tell whether bodies together cover all of a plan, up to contact."""
    plans = [footprint(one.solid, one.bottom, one.top) for one in covers]
    grown = joined(flat.buffer(plans, TOUCH).tolist())
    return bool(flat.covers(grown, flat.buffer(plan, -TOUCH)))
