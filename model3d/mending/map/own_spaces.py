"""Where an item may not stand because of what its own spaces would meet."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat, swept
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import reaching_in
from model3d.mending.map.bar import CONTACT, Bar, ahead_of, bar, doubted, rectangle
from model3d.mending.map.posed import ahead, ends_of, looks, shifted
from model3d.rules import dedicated_space, draw_out
from model3d.working.box import REQUIREMENT, working_space
from model3d.working.front import front_of
from model3d.working.needs import needs
from model3d.working.sides import WORKED_AT, reached, turned
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.judging.space import Space, Stretch
    from model3d.mending.map.posed import Posed
    from model3d.standing.placed import Placed

_AWAY: Final = 1e5
"""Metres by which an item is taken aside to ask what holds where nothing faces it."""
_MOST_ASKED: Final = 12
"""So many doubtful things get an edge of their own; more are asked about together."""
SIDE: Final = "rear-access"


def own_bars(posed: Posed, within: flat.Geometry) -> Iterator[Bar]:
    """Yield what bars places by the item's own spaces, and by those it carries.

    Args:
        posed: The item.
        within: The displacements that are asked about.
    """
    for mover in posed.movers:
        if mover.live:
            for requirement, there in worked_at(mover):
                yield from _working(posed, there, requirement, within)
            yield from _spaces(
                posed, list(plain_spaces(draw_out, mover, posed.bare)), within
            )
        zone = dedicated_space.zone(mover, posed.asked)
        if zone is not None and _roofed(posed):
            # Off a platform that it stands on it begins at the room's floor.
            found = _spaces(posed, [replace(zone, bottom=0.0)], within)
            yield from (_asked(one) for one in found)
        elif zone is not None:
            yield from _spaces(posed, [zone], within)


def worked_at(item: Placed) -> Iterator[tuple[str, Placed]]:
    """Yield an item from every side that needs a whole working space."""
    yield REQUIREMENT, item
    for side, word in reached(item):
        if word == WORKED_AT:
            yield SIDE, turned(item, side)


def plain_spaces(rule: object, item: Placed, situation: Situation) -> Iterator[Space]:
    """Yield the spaces that a rule asks for by yielding them."""
    claims = getattr(rule, "claims")  # noqa: B009 - a module
    yield from claims(item, situation)


def _asked(one: Bar) -> Bar:
    return replace(one, sure="asked") if one.sure == "barred" else one


def _roofed(posed: Posed) -> bool:
    """Tell whether what bars a zone depends on what hangs or stands between."""
    entry = posed.asked.book.entry("dedicated-space")
    key = "protected_in_zone"
    return (entry.has(key) and entry.flag(key)) or any(
        (p.kind.ceiling or p.kind.leak_guard or p.kind.platform) and not p.of_room
        for p in posed.others
    )


@dataclass(slots=True)
class _Met:
    """Displacements at which a space at one end of its way meets things."""

    barred: list[Bar] = field(default_factory=list)
    asked: list[Bar] = field(default_factory=list)
    open: list[Bar] = field(default_factory=list)


def _working(
    posed: Posed, there: Placed, requirement: str, within: flat.Geometry
) -> Iterator[Bar]:
    bare = posed.bare
    figures = needs(there, bare, bare.measures)
    whole = working_space(there, bare, figures)
    space = surveyed(whole, bare)
    allowance = Allowance(there, bare, figures.depths, figures)
    raised = _on_platforms(posed, space, within)
    met = _Met()
    for other in _near(posed, space, within):
        for stretch, where in _stretches(allowance, there, other):
            near = min(figures.depths) if posed.may_hide else stretch.end
            _add(met, _Thing(space, other, requirement, there.id, where), stretch, near)
    carried = _carried_in(space, bare, there)
    found = _slid(met, space, requirement, there.id, within)
    if whole.permission:
        yield from (replace(one, sure="open") for one in found)
        return
    if carried and there.id == posed.name:
        # What moves with it takes some of the way that its space may slide.
        yield Bar(flat.box(*within.bounds), carried, requirement, there.id, "asked")
        found = [_asked(one) for one in found]
    yield from doubted(found, raised)
    if raised is not None:
        for level in posed.raised:
            up = replace(space, bottom=level, top=max(level + space.top, space.top))
            high = _Met()
            for other in _near(posed, up, within):
                for stretch, where in _stretches(allowance, there, other):
                    piece = _Thing(up, other, requirement, there.id, where)
                    _add(high, piece, stretch, stretch.end)
            found = _slid(high, up, requirement, there.id, within)
            yield from (
                replace(one, plan=one.plan.intersection(raised), sure="asked")
                for one in found
                if one.plan.intersects(raised)
            )
        yield Bar(raised, (), requirement, there.id, "asked")
        yield from (Bar(raised, (), rule, there.id, "asked") for rule in _BY_FLOOR)
    yield from _over_pits(posed, space, there.id, within)


def _carried_in(space: Space, bare: Situation, there: Placed) -> tuple[str, ...]:
    """Return what moves with an item and is in its space somewhere it may slide to."""
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    hits = reaching_in(space, bare, low, high, space.limit)
    names = {hit.placed.id for hit in hits if hit.stretch.end > hit.stretch.start}
    return tuple(sorted(names - {there.id}))


_BY_FLOOR: Final = ("clear-floor", "handle-height", "guarded-live-parts")


def _spaces(posed: Posed, spaces: list[Space], within: flat.Geometry) -> Iterator[Bar]:
    """Yield what bars places of spaces whose limits do not depend on the place."""
    for whole in spaces:
        space, met = surveyed(whole, posed.bare), _Met()
        for other in _near(posed, space, within):
            stretch = space.limit(other)
            if stretch is not None:
                piece = _Thing(space, other, space.requirement, space.subject, None)
                _add(met, piece, stretch, stretch.end)
        yield from _slid(met, space, space.requirement, space.subject, within)


def surveyed(space: Space, situation: Situation) -> Space:
    """Return a space without what is too little to be sure of."""
    tolerance = situation.survey_tolerance
    return space.resized(2 * TOUCH - tolerance) if tolerance else space


def _near(posed: Posed, space: Space, within: flat.Geometry) -> Iterator[Placed]:
    """Yield what the space may meet where the item may be moved to."""
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    (a, b, _), (c, d, _) = space.frame.bounds(low, high)
    x, y, far_x, far_y = within.bounds
    area = (a + x, b + y, space.bottom), (c + far_x, d + far_y, space.top)
    base = posed.base
    for place in base.index.touching(*area):
        yield base.items[place]


def _stretches(
    allowance: Allowance, item: Placed, other: Placed
) -> Iterator[tuple[Stretch, flat.Geometry | None]]:
    """Yield what something must keep out of, and where the item is when that holds.

    It holds anywhere where nothing is said. Who faces whom depends on the place.
    """
    front = front_of(item)
    fronts = ahead(looks(other), front.frame.out, ends_of(front))
    x = sum(way[0] for way, _ in fronts) * _AWAY
    y = sum(way[1] for way, _ in fronts) * _AWAY
    behind = replace(allowance, item=shifted(item, (-x, -y)))(other)
    if behind is not None:
        yield behind, None
    if fronts:
        facing = replace(allowance, item=shifted(item, (x, y)))(other)
        if facing is not None:
            ways = [ahead_of(way, -far) for way, far in fronts]
            yield facing, flat.union_all(ways)


@dataclass(frozen=True, slots=True)
class _Thing:
    """One thing that a space may meet.

    Attributes:
        space: The space, with its left side at the item's left side.
        other: The thing.
        requirement, of: Of whom the space is.
        where: Displacements at which this holds; None: at all.
    """

    space: Space
    other: Placed
    requirement: str
    of: str
    where: flat.Geometry | None

    def met(self, start: float, end: float, sure: str) -> list[Bar]:
        """Return where the space meets the thing between two depths."""
        space = self.space
        start = max(start - space.grown, 0.0) if start else 0.0
        end = min(end + space.grown, space.depth)
        if end - start <= TOUCH:
            return []
        plan = footprint(self.other.solid, space.bottom, space.top)
        shape = rectangle(space.frame, 0.0, space.width, start, end)
        found = swept.meeting(plan, shape)
        if self.where is not None:
            found = found.intersection(self.where)
        one = bar(found, self.other.id, self.requirement, self.of, sure)  # type: ignore[arg-type]
        return [] if one.plan.is_empty else [one]


def _add(met: _Met, piece: _Thing, stretch: Stretch, near: float) -> None:
    start, end = stretch.start, stretch.end
    met.barred += piece.met(start, min(end, max(near, start)), "barred")
    if end > max(near, start) + TOUCH:
        met.asked += piece.met(start, end, "asked")
    first, last = stretch.part("possible")
    if first < start - TOUCH or last > end + TOUCH:
        met.open += piece.met(first, last, "open")


def _slid(
    met: _Met, space: Space, requirement: str, of: str, within: flat.Geometry
) -> list[Bar]:
    """Return where a space that may slide sideways finds no place at all."""
    if space.last - space.first <= CONTACT:
        return [*met.barred, *met.asked, *met.open]
    right = space.frame.right
    ends = tuple((right[0] * u, right[1] * u) for u in (space.first, space.last))
    way = (ends[0], ends[1])

    def shut(bars: list[Bar]) -> flat.Geometry:
        whole = flat.union_all([one.plan for one in bars])
        return swept.always(whole, way, within)

    def told(plan: flat.Geometry, bars: list[Bar], sure: str) -> list[Bar]:
        near = plan.buffer(space.last - space.first)
        by = {name for one in bars if one.plan.intersects(near) for name in one.by}
        names = tuple(sorted(by))
        return [] if plan.is_empty else [Bar(plan, names, requirement, of, sure)]  # type: ignore[arg-type]

    barred = shut(met.barred) if met.barred else flat.Polygon()
    found = told(barred, met.barred, "barred")
    if met.asked:
        both = [*met.barred, *met.asked]
        found += told(shut(both).difference(barred), both, "asked")
        if len(met.asked) <= _MOST_ASKED:
            for one in met.asked:
                some = [*met.barred, one]
                found += told(shut(some).difference(barred), [one], "asked")
    if met.open:
        every = [*met.barred, *met.asked, *met.open]
        found += told(shut(every).difference(barred), met.open, "open")
    return found


def _on_platforms(
    posed: Posed, space: Space, within: flat.Geometry
) -> flat.Geometry | None:
    """Return where the floor in front may be a platform or a pad; None: nowhere."""
    own = (
        space.last - space.first + space.width
        if space.first > 0
        else space.width + space.first - space.last
    )
    least = max(own, 0.0) * _FOOTHOLD
    reach = rectangle(space.frame, 0.0, max(own, CONTACT), 0.0, space.depth)
    found = [
        swept.meeting(plan, reach)
        for plan in posed.raised.values()
        if plan.area >= least
    ]
    if not found:
        return None
    area = flat.union_all(found)
    return area if area.intersects(within) else None


_FOOTHOLD: Final = 0.2
"""Metres. The least of a platform that carries somebody (common practice)."""


def _over_pits(
    posed: Posed, space: Space, of: str, within: flat.Geometry
) -> Iterator[Bar]:
    """Yield where the floor of the space may open into a pit."""
    whole = rectangle(
        space.frame, space.first, space.last + space.width, 0.0, space.depth
    )
    for pit in posed.pits:
        plan = flat.convex_hull(flat.multipoints(np.asarray(pit.solid.mesh[0])[:, :2]))
        found = swept.meeting(plan, whole)
        if found.intersects(within):
            for rule in ("clear-floor", REQUIREMENT):
                yield Bar(found, (pit.id,), rule, of, "asked")
