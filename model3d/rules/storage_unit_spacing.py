"""Spacing of energy storage units.

Applies to: every energy storage unit (energy-storage-unit), lithium ones above all.

Measures: the shortest distance to another such unit, to a wall of the room and to a
partition; the nearest of all is told.

Breach: none by itself. Less than the figure is open: a fire test of the unit may allow
less, which is to be shown.

Exceptions: none.

Source: NFPA 855, which the fire codes refer to beside NEC Article 706, since 2020.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.geometry.frame import Frame
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH
from model3d.judging.limit import at_least
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement, SizeLine
from model3d.wording import sentences
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.bodies.solid import Solid
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("storage-unit-spacing",)
REQUIREMENT: Final = requirement_of(__name__)
_OUT: Final = 1


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge how far a unit stands from the next one and from walls."""
    entry = situation.book.entry(TABLES[0])
    if not item.kind.storage_unit or not entry.given:
        return
    figure = entry.figure("spacing")
    wanted = situation.least(figure)
    distance, nearest = min(
        (
            (_apart(item.solid, other.solid), other.id)
            for other in situation.items
            if other is not item and (other.kind.storage_unit or other.kind.wall)
        ),
        default=(float("inf"), ""),
    )
    verdict, why = at_least(distance, wanted, situation)
    if verdict == "not-met":
        verdict = "open"
        why = say(
            "{} is asked for: {} needs a fire test that allows less, or more room.",
            situation.told(figure),
            Named(item.id),
        )
    said = say("No other unit and no wall is nearer than {}.", situation.told(figure))
    if nearest:
        away = "it touches"
        if distance > TOUCH:
            away = say("{} away", situation.length(distance, wanted))
        said = say("{} is nearest: {}.", Named(nearest), away)
    known = {"spacing": distance} if nearest else {}
    yield Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        entry.cite("spacing"),
        sentences(said, why),
        missing=why,
        short="spacing",
        required={"spacing": wanted},
        provided=known,
        printed={"spacing": situation.printed(figure)},
        margin=distance - wanted if nearest else None,
        unread=unread_figures(entry, (figure,), situation.measures, "spacing"),
        line=_line(item.solid, situation.arrangement.items[nearest].solid)
        if nearest
        else None,
    )


def _apart(one: Solid, other: Solid) -> float:
    """Return the distance of two bodies, each taken as upright over its plan."""
    (_, _, low), (_, _, high) = one.bounds
    (_, _, bottom), (_, _, top) = other.bounds
    plan = _plan(one).distance(_plan(other))
    return math.hypot(plan, max(bottom - high, low - top, 0.0))


def _plan(solid: Solid) -> flat.Geometry:
    (_, _, low), (_, _, high) = solid.bounds
    return footprint(solid, low, high)


def _line(one: Solid, other: Solid) -> SizeLine | None:
    """Return where the distance of two bodies is drawn: level, or not at all."""
    (_, _, low), (_, _, high) = one.bounds
    (_, _, bottom), (_, _, top) = other.bounds
    shortest = flat.shortest_line(_plan(one), _plan(other))
    level = max(low, bottom)
    if shortest is None or shortest.length <= TOUCH or level > min(high, top):
        return None
    (x, y), (to_x, to_y) = shortest.coords
    out = (to_x - x) / shortest.length, (to_y - y) / shortest.length
    return SizeLine(Frame(x, y, (-out[1], out[0]), out), (0.0, 0.0, level), _OUT)
