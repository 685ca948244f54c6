"""Where an item may not stand because it would be in the spaces of others."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from model3d.geometry.intervals import merged
from model3d.geometry.plan import flat, swept
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import reaching_in
from model3d.judging.results import ClearBox
from model3d.judging.systems import answers
from model3d.mending.map.bar import Bar, ahead_of, bar, rectangle
from model3d.mending.map.own_doors import drawn, sector, swinging
from model3d.mending.map.own_spaces import plain_spaces, surveyed, worked_at
from model3d.mending.map.posed import ahead, ends_of, looks, shifted
from model3d.rules import dedicated_space, door_swing, draw_out, question
from model3d.working.box import REQUIREMENT
from model3d.working.tested import tested
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.intervals import Interval
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space, Stretch
    from model3d.mending.map.posed import Posed
    from model3d.standing.placed import Placed
    from model3d.working.tested import Tested

_AWAY = 1e5
"""Metres by which an item is taken aside to ask what holds where it faces nothing."""


def other_bars(posed: Posed, within: flat.Geometry) -> Iterator[Bar]:
    """Yield what bars places by the spaces of what stays.

    Args:
        posed: The item.
        within: The displacements that are asked about.
    """
    for other in posed.others:
        if other.of_room or other.item is None:
            continue
        if other.live:
            for requirement, there in worked_at(other):
                yield from _working(posed, there, requirement, within)
            yield from _leaves(posed, other, within)
            for space in plain_spaces(draw_out, other, posed.base):
                yield from _fixed(posed, space, within)
        zone = dedicated_space.zone(other, posed.base)
        if zone is not None:
            yield from _fixed(posed, zone, within)
            yield from _begun(posed, zone, within)
        yield from _drawn(posed, other, within)


def _working(
    posed: Posed, there: Placed, requirement: str, within: flat.Geometry
) -> Iterator[Bar]:
    base = posed.base
    it = tested(there, base)
    space = surveyed(replace(it.space, limit=_limit(it, base)), base)
    if not _is_near(posed, space, within):
        return
    windows = _windows(space, posed)
    met = not it.found.hits
    if requirement == REQUIREMENT and not windows:
        yield from _stored(posed, it, space)
    if (not windows or it.space.permission) and not met:
        return
    asked = not windows or not met
    ends = {end for pair in windows or [(space.first, space.last)] for end in pair}
    allowance = space.limit
    for mover in posed.movers:
        plan = footprint(mover.solid, space.bottom, space.top)
        if plan.is_empty:
            continue
        for stretch, where in _stretches(allowance, there, mover):  # type: ignore[arg-type]
            near = min(it.figures.depths) if posed.may_hide else stretch.end
            for start, end, sure in _parts(stretch, near, space):
                if it.space.permission and sure != "open":
                    continue
                found = _at_all(plan, space, sorted(ends), start, end)
                if where is not None:
                    found = found.intersection(where)
                is_sure = "asked" if asked and sure == "barred" else sure
                yield bar(found, mover.id, requirement, there.id, is_sure)  # type: ignore[arg-type]


def _stored(posed: Posed, it: Tested, space: Space) -> Iterator[Bar]:
    """Yield where goods would be stored in a space that is not clear as it is."""
    there = space.subject
    for mover in posed.movers:
        if not mover.kind.stored:
            continue
        plan = footprint(mover.solid, space.bottom, space.top)
        middle = (space.first + space.last) / 2
        for left, right in (
            (space.first, space.last + space.width),
            (it.found.place, it.found.place + space.width),
            # Where it lies once goods are in the way at either side as well.
            (middle, middle + space.width),
        ):
            for depth in {*it.figures.depths}:
                shape = rectangle(space.frame, left, right, 0.0, depth)
                found = swept.mirrored(swept.meeting(plan, shape))
                yield bar(found, mover.id, "storage", there, "asked")


def _limit(it: Tested, base: Situation) -> Allowance:
    """Return what a working space allows each solid, whoever hides it."""
    figures = it.figures
    depths = figures.depths
    item = it.item
    stated = item.item.condition if item.item else None
    if stated is not None:
        depths = (depths[stated - 1],) * 3
    return Allowance(item, base, depths, figures)


def _is_near(posed: Posed, space: Space, within: flat.Geometry) -> bool:
    (a, b, _), (c, d, _) = space.frame.bounds(
        (space.first, 0.0, space.bottom),
        (space.last + space.width, space.depth + space.grown, space.top),
    )
    return any(_comes_to(one, (a, b, c, d), within) for one in posed.movers)


def _comes_to(
    mover: Placed, area: tuple[float, float, float, float], within: flat.Geometry
) -> bool:
    (x, y, _), (far_x, far_y, _) = mover.solid.bounds
    low_x, low_y, high_x, high_y = within.bounds
    a, b, c, d = area
    return bool(
        x + low_x < c and far_x + high_x > a and y + low_y < d and far_y + high_y > b
    )


def _windows(space: Space, posed: Posed) -> list[Interval]:
    """Return between where the left side of a space may lie, by what stays."""
    base = posed.base
    low = (space.first, 0.0, space.bottom)
    high = (space.last + space.width, space.depth, space.top)
    shut: list[Interval] = []
    for hit in reaching_in(space, base, low, high, space.limit):
        start, end = hit.stretch.part("certain")
        if end - start <= TOUCH:
            continue
        box = (low[0], start, low[2]), (high[0], end, high[2])
        for left, right in hit.view.shadow(*box):
            shut.append((left - space.width + TOUCH, right - TOUCH))
    here, found = space.first, []
    for left, right in merged(pair for pair in shut if pair[0] < pair[1]):
        if left >= here:
            found.append((here, min(left, space.last)))
        here = max(here, right)
        if here > space.last:
            break
    if here <= space.last:
        found.append((here, space.last))
    return [(a, b) for a, b in found if a <= b]


def _stretches(
    allowance: Allowance, item: Placed, mover: Placed
) -> Iterator[tuple[Stretch, flat.Geometry | None]]:
    """Yield what the moved thing must keep out of, and where it is when that holds."""
    front = item.front
    if front is None:
        return
    fronts = ahead(looks(mover), front.frame.out, ends_of(front))
    x = sum(way[0] for way, _ in fronts) * _AWAY
    y = sum(way[1] for way, _ in fronts) * _AWAY
    past = allowance(shifted(mover, (x, y)))
    if past is not None:
        yield past, None
    if fronts:
        facing = allowance(shifted(mover, (-x, -y)))
        if facing is not None:
            ways = [ahead_of((-a, -b), -far) for (a, b), far in fronts]
            yield facing, flat.union_all(ways)


def _parts(
    stretch: Stretch, near: float, space: Space
) -> Iterator[tuple[float, float, str]]:
    start, end = stretch.start, stretch.end
    for a, b, sure in (
        (start, min(end, max(near, start)), "barred"),
        (start, end if end > near + TOUCH else start, "asked"),
        (*stretch.part("possible"), "open"),
    ):
        low = max(a - space.grown, 0.0) if a else 0.0
        high = min(b + space.grown, space.depth)
        if high - low > TOUCH and b > a:
            yield low, high, sure


def _at_all(
    plan: flat.Geometry, space: Space, ends: list[float], start: float, end: float
) -> flat.Geometry:
    """Return where a plan is in a space wherever that may still slide to.

    Of a convex plan the places at two ends of a window tell of all between.
    """
    found = []
    for place in ends:
        shape = rectangle(space.frame, place, place + space.width, start, end)
        found.append(swept.mirrored(swept.meeting(plan, shape)))
    return swept.common(found)


def _leaves(posed: Posed, other: Placed, within: flat.Geometry) -> Iterator[Bar]:
    leaves = swinging(other, posed.base)
    if not leaves:
        return
    name = door_swing.REQUIREMENT
    shut = {
        judged.leaf
        for judged in answers(question(door_swing, other), posed.base)  # type: ignore[arg-type]
        if judged.verdict == "not-met"
    }
    for number, leaf in enumerate(leaves):
        (a, b, _), (c, d, _) = leaf.bounds
        for mover in posed.movers:
            if number in shut or not _comes_to(mover, (a, b, c, d), within):
                continue
            if mover.kind.meter and other.kind.holds_meter:
                continue
            plan = footprint(mover.solid, leaf.bottom, leaf.top)
            found = swept.mirrored(swept.meeting(plan, sector(leaf)))
            yield bar(found, mover.id, name, other.id)


def _fixed(posed: Posed, whole: Space, within: flat.Geometry) -> Iterator[Bar]:
    """Yield what bars places by a space of another item that does not slide."""
    space = surveyed(whole, posed.base)
    if not _is_near(posed, space, within) or not _windows(space, posed):
        return
    for mover in posed.movers:
        stretch = space.limit(mover)
        plan = footprint(mover.solid, space.bottom, space.top)
        if stretch is None or plan.is_empty:
            continue
        for start, end, sure in _parts(stretch, stretch.end, space):
            found = _at_all(plan, space, [space.first], start, end)
            yield bar(found, mover.id, space.requirement, space.subject, sure)  # type: ignore[arg-type]


def _begun(posed: Posed, zone: Space, within: flat.Geometry) -> Iterator[Bar]:
    """Yield where a zone must be asked that begins at a platform which moves."""
    for mover in posed.movers:
        if mover.kind.platform and abs(mover.top - zone.bottom) <= TOUCH:
            yield bar(within, mover.id, zone.requirement, zone.subject, "asked")


def _drawn(posed: Posed, other: Placed, within: flat.Geometry) -> Iterator[Bar]:
    """Yield where a rule at another item must be asked."""
    for judged in drawn(other, posed.base):
        if judged.verdict == "not-met":
            continue
        for shape in judged.shapes:
            if not isinstance(shape, ClearBox):
                continue
            (u, v, low), (x, y, high) = shape.low, shape.high
            for mover in posed.movers:
                plan = footprint(mover.solid, low, high)
                if plan.is_empty:
                    continue
                place = rectangle(shape.frame, u, x, v, y)
                found = swept.mirrored(swept.meeting(plan, place))
                if found.intersects(within):
                    yield bar(found, mover.id, judged.requirement, other.id, "asked")
