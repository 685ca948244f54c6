"""Where an item may not stand because of its leaves, its body, and what rules ask."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat, swept
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.sweep import QUARTER, Sweep
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.judging.results import ClearBox, Judgement
from model3d.judging.systems import answers
from model3d.mending.map.bar import Bar, bar, lying_in, rectangle
from model3d.rules import all_rules, door_swing, question
from model3d.standing.leaves import stated_leaves
from model3d.working.drawn.contradiction import slack
from model3d.working.drawn.passages import may_share
from model3d.working.drawn.sharing import shares

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from model3d.judging.situation import Situation
    from model3d.mending.map.posed import Posed
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed

    Points = NDArray[np.float64]

BODY: Final = "body"
"""What bars a place where one thing would stand in another; no rule of a book."""
ASKED: Final = {
    "rear-access",
    "maker-clearance",
    "battery-top-clearance",
    "battery-gaps",
}
"""Requirements whose spaces are drawn, and of which the rule itself is asked."""
_OF_ROOM: Final = {
    "entrance",
    "second-entrance",
    "door-hardware",
    "door-over-working-space",
    "illumination",
}
"""Requirements that are about the ways out and the room, which no map tells."""
_BY_PRESENCE: Final = {"high-voltage-separation"}
"""Requirements that something breaks by being in the same room."""
_SAGITTA: Final = 2e-5
"""Metres. How far the sides of a many-sided sector stay inside it."""
_ABOUT: Final = 0.05
"""Metres about a space that is asked about: what is measured to the nearest thing."""


def leaf_bars(posed: Posed, within: flat.Geometry) -> Iterator[Bar]:
    """Yield what bars places because it would stop a leaf before a right angle."""
    for mover in posed.movers:
        for leaf in swinging(mover, posed.bare):
            shape, bounds = sector(leaf), leaf.bounds
            for other in _about(posed, bounds, within):
                if other.id == "floor" or _is_meter(other, mover):
                    continue
                plan = footprint(other.solid, leaf.bottom, leaf.top)
                found = swept.meeting(plan, shape)
                yield bar(found, other.id, door_swing.REQUIREMENT, mover.id)


def swinging(item: Placed, situation: Situation) -> tuple[Sweep, ...]:
    """Return the leaves that must open, smaller by what is too little to be sure of."""
    judged = list(door_swing.claims(item, situation))
    leaves = stated_leaves(item, situation.scene)
    if not judged or not leaves:
        return ()
    tolerance = situation.survey_tolerance
    return tuple(
        Sweep(
            leaf.frame,
            max(leaf.radius - tolerance, TOUCH),
            leaf.bottom,
            leaf.top - tolerance,
        )
        for leaf in leaves
    )


def sector(leaf: Sweep) -> Points:
    """Return the plan of what a leaf sweeps, corners of a sector, shape (n, 2)."""
    radius = leaf.radius
    chord = 1 - min(_SAGITTA / radius, 1.0)
    count = max(4, math.ceil(math.radians(QUARTER) / 2 / math.acos(chord)))
    turns = [math.radians(QUARTER) * n / count for n in range(count + 1)]
    arc = [(radius * math.cos(t), radius * math.sin(t)) for t in turns]
    return np.array([leaf.frame.to_plan(u, v) for u, v in [(0.0, 0.0), *arc]])


def _is_meter(other: Placed, item: Placed) -> bool:
    return other.kind.meter and item.kind.holds_meter


def body_bars(
    posed: Posed,
    within: flat.Geometry,
    wall: str | None,
    now: Arrangement | None = None,
) -> Iterator[Bar]:
    """Yield what bars places because the item would stand in it.

    Args:
        posed: The item.
        within: The displacements that are asked about.
        wall: The wall of the room that it hangs on; None where walls bound the area.
        now: The scene as it is, where nothing may be put into what it is not in now;
            None: what is made to pass through another, or to be let in, may be.
    """
    scene, tolerance = posed.situation.scene, slack(posed.situation)
    for mover in posed.movers:
        if mover.kind.hole:
            continue
        (_, _, low), (_, _, high) = mover.solid.bounds
        plan = footprint(mover.solid, low, high)
        for other in _about(posed, mover.solid.bounds, within):
            if now is not None:
                was = now.items[mover.id]
                may = other.kind.hole or shares(was, now.items[other.id], was)
            elif other.of_room:
                may = _bounds(other, wall)
            else:
                may = may_share(mover, other, scene, tolerance)
            if may:
                continue
            there = footprint(other.solid, low, high)
            yield bar(lying_in(plan, there), other.id, BODY, mover.id)


def _bounds(other: Placed, wall: str | None) -> bool:
    """Tell whether a part of the room is no bar, but what the item hangs on."""
    if other.kind.ceiling:
        return False
    return other.id in {"floor", wall} or wall is None


def _about(
    posed: Posed,
    bounds: tuple[tuple[float, float, float], tuple[float, float, float]],
    within: flat.Geometry,
) -> Iterator[Placed]:
    """Yield what stays and may be met by something that is moved."""
    (a, b, low), (c, d, high) = bounds
    x, y, far_x, far_y = within.bounds
    base = posed.base
    for place in base.index.touching((a + x, b + y, low), (c + far_x, d + far_y, high)):
        yield base.items[place]


def asked_bars(posed: Posed, within: flat.Geometry) -> Iterator[Bar]:
    """Yield where a rule must be asked because something is in a space it draws."""
    for mover in posed.movers:
        for judged in drawn(mover, posed.asked):
            for shape in judged.shapes:
                if not isinstance(shape, ClearBox):
                    continue
                (u, v, low), (x, y, high) = shape.low, shape.high
                plan = rectangle(
                    shape.frame, u - _ABOUT, x + _ABOUT, v - _ABOUT, y + _ABOUT
                )
                exact = rectangle(shape.frame, u, x, v, y)
                bounds = shape.frame.bounds((u, v, low), (x, y, high))
                for other in _about(posed, bounds, within):
                    there = footprint(other.solid, low, high)
                    for one in (plan, exact):
                        found = swept.meeting(there, one)
                        if found.intersects(within):
                            yield bar(
                                found, other.id, judged.requirement, mover.id, "asked"
                            )


def own_breaches(posed: Posed, within: flat.Geometry) -> Iterator[Bar]:
    """Yield what is not met wherever an item goes, or may be.

    So it is where nothing is there but what moves with it, and where mere presence in a
    room counts. A platform or a partition may cure it at some places: rules are asked.
    """
    whole = flat.box(*within.bounds)
    for rule in all_rules():
        requirement = requirement_of(rule.__name__)
        if requirement in _OF_ROOM or not hasattr(rule, "claims"):
            continue
        for judged in answers(question(rule, posed.item), posed.bare):
            if judged.verdict == "not-met":
                names = dict.fromkeys(one.item for one in judged.intrusions)
                by = tuple(names) or (posed.name,)
                yield Bar(whole, by, requirement, posed.name, "asked")
        for other in posed.others if requirement in _BY_PRESENCE else ():
            if any(answers(question(rule, other), posed.asked)):
                yield Bar(whole, (posed.name,), requirement, other.id, "asked")


def drawn(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Yield the judgements of an item whose spaces only their rules know."""
    for rule in all_rules():
        if requirement_of(rule.__name__) in ASKED and hasattr(rule, "claims"):
            yield from answers(question(rule, item), situation)
