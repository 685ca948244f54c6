"""Places of limited access: crawl spaces, and the space above a lay-in ceiling.

Applies to: the opening of such a place, and every item in it that needs a working
space of the low-voltage tables.

Measures: the opening, whichever way round, as it is stated (access_opening) or else
the largest personnel door. In front of an item, where beams or joists cross the view
of its front within the working space: how far somebody must reach past them to the
covered part that is hardest to get at.

Breach: a smaller opening; a farther reach.

Exceptions: the reach is asked for since 2020. Width and depth of the working space,
which is there no higher than the item, are judged by working-space, which lets beams
and ceiling panels cross it; doors of equipment are judged by door-swing.

Source: NEC 110.26(A)(4) since 2017.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.geometry.bodies.extents import reaching
from model3d.geometry.plan.cover.cover import deepest
from model3d.judging.limit import at_least, at_most
from model3d.judging.requirement import requirement_of
from model3d.judging.results import ROOM, Judgement
from model3d.wording import sentences
from model3d.wording.said import ids, joined, say
from model3d.working.front import front_of, is_limited
from model3d.working.tested import tested

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.geometry.plan.cover.cover import Rectangle
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("limited-access",)
REQUIREMENT: Final = requirement_of(__name__)
_KEYS: Final = {"crawl-space": "crawl", "above-ceiling": "ceiling"}
"""How the table names a place, by use."""


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge the opening to a place of limited access."""
    if not is_limited(situation):
        return
    entry = situation.book.entry(TABLES[0])
    place = _KEYS[situation.scene.use]
    figures = [entry.figure(f"{place}_{size}") for size in ("width", "length")]
    wanted = [situation.least(figure) for figure in figures]
    openings = [sorted(opening) for opening in _openings(situation)]
    citation = entry.cite(f"{place}_width")
    if not openings:
        reason = "Say how large the opening is: access_opening in the room."
        yield Judgement(REQUIREMENT, ROOM, "open", citation, reason, reason)
        return
    best = max(openings, key=lambda o: min(o[0] - wanted[0], o[1] - wanted[1]))
    judged = [
        at_least(found, limit, situation)
        for found, limit in zip(best, wanted, strict=True)
    ]
    verdict, why = max(judged, key=lambda pair: _SEVERITY.index(pair[0]))
    sides = {"width": best[0] - wanted[0], "length": best[1] - wanted[1]}
    across, along = map(situation.length, best, wanted)
    asked = joined(" by ", map(situation.told, figures))
    yield Judgement(
        REQUIREMENT,
        ROOM,
        verdict,
        citation,
        sentences(
            say("The opening is {} by {}; {} is asked for.", across, along, asked), why
        ),
        missing=why,
        short=min(sides, key=lambda side: sides[side]),
        required={"width": wanted[0], "length": wanted[1]},
        printed={
            size: situation.printed(figure)
            for size, figure in zip(sides, figures, strict=True)
        },
        provided={"width": best[0], "length": best[1]},
        margin=min(sides.values()),
        unread=unread_figures(entry, figures, situation.measures, f"{place}_width"),
    )


_SEVERITY: Final[tuple[Verdict, ...]] = ("met", "open", "not-met")


def _openings(situation: Situation) -> Iterator[tuple[float, float]]:
    room, metres = situation.scene.room, situation.scene.metres
    opening = situation.scene.stated.access_opening
    if opening is not None:
        yield metres(opening[0]), metres(opening[1])
        return
    for door in room.doors if room else ():
        yield metres(door.width), metres(door.height)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the reach past beams to an item in a place of limited access."""
    entry = situation.book.entry(TABLES[0])
    if not item.live or not is_limited(situation) or not entry.has("side_reach"):
        return
    it = tested(item, situation)
    if it.figures.limited:
        yield _reach(item, entry, it.depth, situation)


def _reach(item: Placed, entry: Entry, depth: float, situation: Situation) -> Judgement:
    front, figure = front_of(item), entry.figure("side_reach")
    most = situation.most(figure)
    members = _members(item, depth, situation)
    area = (0.0, front.bottom, front.width, front.top)
    names = sorted(name for name, outline in members if _overlaps(outline, area))
    far = deepest((outline for _, outline in members), area) if names else 0.0
    verdict, why = at_most(far, most, situation)
    said = "Nothing of the structure is in front of it."
    if names:
        told = situation.told(figure)
        said = say(
            "The reach past {} is {}; at most {} is allowed.",
            ids(names),
            situation.length(far, most),
            told,
        )
    return Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        entry.cite("side_reach"),
        sentences(said, why),
        missing=why,
        short="reach",
        required={"reach": most},
        printed={"reach": situation.printed(figure)},
        provided={"reach": far},
        limit={"reach": "at-most"},
        margin=most - far,
        unread=unread_figures(entry, (figure,), situation.measures, "side_reach"),
    )


def _members(
    item: Placed, depth: float, situation: Situation
) -> list[tuple[str, Rectangle]]:
    """Return what of the structure covers the front, as seen from in front.

    What is beside the front counts as well: nobody reaches past a beam through a wall.
    """
    front = front_of(item)
    around = situation.size
    low = (-around, 0.0, front.bottom - around)
    high = (front.width + around, depth, front.top + around)
    found = []
    for placed in situation.near(front.frame, low, high):
        if not placed.kind.structure or _is_panel(placed):
            continue
        extents = reaching(placed.solid.seen_from(front.frame), low, high)
        if extents is not None:
            (left, _, bottom), (right, _, top) = extents
            found.append((placed.id, (left, bottom, right, top)))
    return found


def _is_panel(placed: Placed) -> bool:
    """Tell whether it is a ceiling of panels, which carry nothing and lift out."""
    return placed.kind.ceiling and not placed.structural


def _overlaps(one: Rectangle, other: Rectangle) -> bool:
    return (
        one[0] < other[2]
        and other[0] < one[2]
        and one[1] < other[3]
        and other[1] < one[3]
    )
