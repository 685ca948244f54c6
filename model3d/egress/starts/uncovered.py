"""People all along the front that an open leaf uncovers, where its hinge misleads.

Next to the hinge there may be no room though a little further along the front there is:
in the corner beside a wall, say. Or somebody only just reaches the hinge who stands
beside the front, and before it there is no room.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.doors.exits import BODY
from model3d.egress.ground.bays import Bay, OpenFloor
from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.past_leaf import WaysPast
from model3d.egress.starts.start import Start
from model3d.geometry.plan import flat

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from model3d.egress.ground.floor import Floor
    from model3d.egress.route.past_leaf import WayLeft
    from model3d.egress.starts.start import Asked
    from model3d.geometry.frame import Corner

_APART: Final = 0.02
"""Metres. How far apart along a front people are looked for."""

_LEAST: Final = 0.08
"""Metres. Before less of a front nobody is: the width of a hand, common practice."""


def along_front(asked: Asked, beside: Sequence[Start]) -> list[list[Start]]:
    """Return for each of some places beside leaves what to ask about instead.

    Places from which enough is left stay what they are, unless something stands near
    across the front. Of the others it is asked all along the front whether somebody
    there had a way, past what stands about him. Where enough is left beside the leaf
    those count too who had none: the front may be barred further along. Where no body
    fits with the doors shut, none does in the shelter of a leaf that hardly opens.

    Args:
        asked: Of the row.
        beside: The places, of which not all are at a leaf that uncovers anything.
    """
    clear = asked.width - CONTACT
    across = crossed(asked, [one.place for one in beside])
    spots = [
        _spots(one) if one.width < clear or bars else []
        for one, bars in zip(beside, across, strict=True)
    ]
    every = [spot for some in spots for spot in some]
    if not every:
        return [[one] for one in beside]
    # No leaf stands open there: whatever is narrow is no pocket, and is known already.
    shut = WaysPast(OpenFloor(asked.shut, ()), asked.width, pockets=True)
    before = shut.out_of(every, clear)
    had = np.array([way.width >= clear for way in before])
    ways = beside[0].ways
    free = _are_free(every, ways.opened.floor)
    people, barred = (list(_people(spots, free & which)) for which in (had, ~had))
    for number, start in enumerate(beside):
        barred[number] = barred[number] if start.width >= clear else []
    left, none_left = iter(_left(ways, people)), iter(_left(ways, barred))
    known = dict(zip(every, before, strict=True))
    found = []
    for start, some, here, none in zip(beside, spots, people, barred, strict=True):
        narrow = bool(some) and start.width < clear
        first = replace(start, had_way=some[0] in here) if narrow else start
        who_had = [_at(start, at, next(left)) for at in here]
        who_had_none = [_at(start, at, next(none_left)) for at in none]
        unfit = [at for at in none if known[at].width < BODY]
        who_had_none += [replace(_at(start, at, known[at]), ways=shut) for at in unfit]
        others = (replace(one, had_way=False) for one in who_had_none)
        found.append([first, *who_had, *others])
    return found


def crossed(asked: Asked, places: Sequence[flat.Geometry | Bay]) -> list[bool]:
    """Tell at which places something stands across the front, nearer than a way.

    Args:
        asked: Of the row.
        places: Beside leaves; of others, that nothing does.
    """
    found = np.zeros(len(places), dtype=bool)
    strips = np.array([_strip(one, asked.width) for one in places], dtype=object)
    found[asked.shut.tree.query(strips, predicate="intersects")[0]] = True
    answers: list[bool] = found.tolist()
    return answers


def _strip(bay: flat.Geometry | Bay, depth: float) -> flat.Polygon:
    """Return what is before the front that a leaf uncovers; empty where none."""
    if not isinstance(bay, Bay) or not bay.uncovered:
        return flat.Polygon()
    (x, y), (right, up), (east, north) = bay.at, bay.along, bay.out
    far = bay.uncovered - _APART
    corners = ((0.0, 0.0), (far, 0.0), (far, depth), (0.0, depth))
    return flat.Polygon(
        [(x + u * right + v * east, y + u * up + v * north) for u, v in corners]
    )


def _are_free(spots: Sequence[Corner], floor: Floor) -> NDArray[np.bool_]:
    """Tell which of some places are free floor."""
    points = flat.points(spots)
    found = np.asarray(flat.intersects(floor.region, points))
    # Nothing is taken of most; what rounding does at an edge is told one by one.
    near = np.unique(floor.tree.query(points[found], predicate="intersects")[0])
    for number in np.flatnonzero(found)[near].tolist():
        found[number] = not floor.free(points[number]).is_empty
    return found


def _people(
    spots: Sequence[Sequence[Corner]], stood: NDArray[np.bool_]
) -> Iterator[list[Corner]]:
    """Yield at which places along each front people are who stood there.

    Before a bit of the front that is narrower than a hand nobody is.
    """
    ends = np.cumsum([len(some) for some in spots])[:-1]
    for some, here in zip(spots, np.split(stood, ends), strict=True):
        runs = [[*run] for _, run in groupby(enumerate(here.tolist()), itemgetter(1))]
        least = min(round(_LEAST / _APART), len(some))
        wide = [run for run in runs if run[0][1] and len(run) >= least]
        yield [some[number] for run in wide for number, _ in run]


def _left(ways: WaysPast, people: Sequence[Sequence[Corner]]) -> Iterator[WayLeft]:
    """Yield the ways that are left to people, those before each leaf together."""
    if ways.opened.floor.swinging:
        # At how many angles a door is held there hangs on who is asked about together.
        for some in people:
            yield from ways.out_of(some) if some else ()
    else:
        yield from ways.out_of([at for some in people for at in some])


def _at(start: Start, at: Corner, way: WayLeft) -> Start:
    """Return somebody along the front that a leaf uncovers, who had a way."""
    bay = start.place
    place = replace(bay, at=at) if isinstance(bay, Bay) else bay
    return Start(at, way, start.ways, place)


def _spots(start: Start) -> list[Corner]:
    """Return places along the front that a leaf uncovers, from its hinge on."""
    bay = start.place
    if not isinstance(bay, Bay):
        return []
    steps = np.arange(_APART, bay.uncovered - _APART / 2, _APART)
    (x, y), (right, up) = bay.at, bay.along
    return [(x + step * right, y + step * up) for step in steps.tolist()]
