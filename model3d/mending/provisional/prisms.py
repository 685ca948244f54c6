"""Required spaces as prisms: where they are, how they slide, what must keep out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.beside import asks_beside, body_behind
from model3d.judging.results import ClearBox
from model3d.judging.space import Space, Stretch
from model3d.mending.map.own_spaces import plain_spaces
from model3d.mending.map.probe import key_of
from model3d.mending.provisional.floors import floor_of
from model3d.mending.provisional.tenths import all_tenths, axes, tenths
from model3d.rules import battery_top_clearance, dedicated_space, draw_out
from model3d.standing.racks import cell_rows
from model3d.working.box import REQUIREMENT, working_space
from model3d.working.footing import may_be_in_pit
from model3d.working.front import front_of, under_rack
from model3d.working.needs import needs, states_less
from model3d.working.sides import WORKED_AT, reached, turned
from model3d.working.within.dwelling import Headroom, headroom_of
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.mending.provisional.sorts import Sorts
    from model3d.standing.placed import Placed
    from model3d.working.needs import Needs

Record = dict[str, Any]
Band = tuple[float, float]

SIDE: Final = "rear-access"
_WAYS: Final = {"out": "o", "up": "u"}
_LOW: Final = 0.01
_HIGH: Final = 100.0
"""Metres above the floor: of items that are lower, and higher, than any figure."""


@dataclass(frozen=True)
class Prism:
    """A required space as data.

    Attributes:
        record: What is told of it.
        bands: The heights it is between, metres.
    """

    record: Record
    bands: tuple[Band, ...]


def prisms(item: Placed, situation: Situation, sorts: Sorts) -> Iterator[Prism]:
    """Yield the spaces of an item that can be told as prisms.

    Args:
        item: The item.
        situation: The scene, asked by the figures that a verdict rests on.
        sorts: Its solids, sorted.
    """
    if item.live:
        yield _working(item, item, situation, sorts, (REQUIREMENT, None))
        for side, word in reached(item):
            if word == WORKED_AT:
                there = turned(item, side)
                yield _working(item, there, situation, sorts, (SIDE, side))
        for space in plain_spaces(draw_out, item, situation):
            key = [space.requirement, item.id, None, None, None]
            yield _told(item, space, situation, sorts, {"key": key, "lift": "all"})
    zone = dedicated_space.zone(item, situation)
    if zone is not None:
        yield _dedicated(item, zone, situation, sorts)
    yield from _batteries(item, situation, sorts)


def _told(
    item: Placed, space: Space, situation: Situation, sorts: Sorts, more: Record
) -> Prism:
    """Tell of a space; the solid that it belongs to is never in its way."""
    tolerance = situation.survey_tolerance
    sure, strict = space, space
    if tolerance:
        # What is missing by as much as the tolerance is no contact.
        sure = space.resized(2 * TOUCH - tolerance)
        strict = space.resized(tolerance)
        if space.around:
            space, sure, strict = _in_one_frame(space, sure, strict)
    found: Record = {
        "frame": axes(space.frame),
        "box": _box(sure),
        "wanted": tenths(space.wanted),
        "axes": "".join(_WAYS[w] for w in _WAYS if w in space.measures.values()),
        **sorts.asked(item, space.limit),
        **more,
    }
    if tolerance:
        found["strict"] = _box(strict)
        if asks_beside(space, situation):
            (left, near, bottom), (right, far, top) = body_behind(space, situation)
            found["beside"] = _box(space.beside(tolerance))
            found["body"] = all_tenths((left, right, near, far, bottom, top))
    if space.permission:
        found["soft"] = 1
    if space.missing:
        found["never"] = 1
    bands = tuple({(one.bottom, one.top) for one in (sure, strict)})
    return Prism(found, bands)


def _in_one_frame(
    space: Space, sure: Space, strict: Space
) -> tuple[Space, Space, Space]:
    """Tell three spaces around one another in the frame of the largest.

    Only the largest is as near to that frame as can be: what must keep out of the
    others begins further out.
    """
    apart = (strict.width - sure.width) / 2
    longer = sure.grown + apart

    def limit(placed: Placed) -> Stretch | None:
        stretch = space.limit(placed)
        if stretch is None:
            return None
        return replace(stretch.grown(longer), start=apart)

    sure = replace(sure, first=apart, last=apart, grown=0.0)
    strict = replace(strict, grown=apart)
    told = replace(space, frame=strict.frame, limit=limit, wanted=apart)
    return told, sure, strict


def _box(space: Space) -> list[int]:
    return all_tenths(
        (
            space.first,
            space.last,
            space.width,
            space.bottom,
            space.top,
            space.grown,
        )
    )


def _working(
    item: Placed,
    there: Placed,
    situation: Situation,
    sorts: Sorts,
    about: tuple[str, str | None],
) -> Prism:
    requirement, side = about
    figures = needs(there, situation, situation.measures)
    space = working_space(there, situation, figures)
    front = front_of(there)
    ends = front.frame.to_plan(0.0, 0.0), front.frame.to_plan(front.width, 0.0)
    more: Record = {
        "key": [requirement, item.id, None, None, side],
        "ends": all_tenths((*ends[0], *ends[1])),
        "apart": all_tenths((front.top, under_rack(there, situation.scene))),
        "hide": 1,
        "lift": "all",
    }
    if not figures.limited:
        # Else it is as high as the item, wherever that is, and has no floor.
        rises = _rises(there, situation, figures)
        floor = floor_of(there, situation, figures, space)
        more |= {"lift": "top", "rises": rises, "floor": floor}
    allowance = Allowance(there, situation, figures.depths, figures)
    headroom = headroom_of(there, situation, figures)
    if not figures.high_voltage and (headroom.excuse or headroom.missing):
        more["headroom"] = _headroom(space, figures, headroom)
        space = replace(space, limit=allowance.overhead_too)
    found = _told(item, space, situation, sorts, more)
    narrow = space.width < front.width - TOUCH
    in_pit = may_be_in_pit(front, situation)
    if narrow or in_pit or states_less(there, figures, situation):
        # What stands before the rest of the front, or in the rest of the space that is
        # printed, is for a person to say.
        found.record["never"] = 1
    return found


def _headroom(space: Space, figures: Needs, headroom: Headroom) -> Record:
    """Tell what low headroom does to a space.

    Returns:
        ``top``: of the item. ``zone``: left, right, depth, bottom and top, in which
        structure overhead makes the headroom low. ``doubt``: how near to the item's
        top heights are not known. ``unsaid``: it is not known whether it is excepted.
    """
    zone = space.first, space.last + space.width, max(figures.depths)
    found: Record = {
        "top": tenths(headroom.top),
        "zone": all_tenths((*zone, figures.floor, space.top)),
        "doubt": tenths(headroom.tolerance),
    }
    if headroom.missing:
        found["unsaid"] = 1
    return found


def _rises(there: Placed, situation: Situation, figures: Needs) -> list[int | None]:
    """Return the top of a space of a low item, and how far a high one takes it up.

    The second is None where the item's own height changes nothing.
    """
    tops = []
    for high in (_LOW, _HIGH):
        front = replace(front_of(there), top=figures.floor + high)
        other = replace(there, front=front)
        it = needs(other, situation, situation.measures)
        tops.append(
            working_space(other, situation, replace(it, floor=figures.floor)).top
        )
    own = front_of(there).top
    return [tenths(tops[0]), tenths(own) if tops[1] > tops[0] else None]


def _dedicated(item: Placed, zone: Space, situation: Situation, sorts: Sorts) -> Prism:
    more: Record = {
        "key": [zone.requirement, item.id, None, None, None],
        "lift": "open",
        "above": 0 if situation.outdoors else 1,
    }
    entry = situation.book.entry("dedicated-space")
    key = "protected_in_zone"
    if (entry.has(key) and entry.flag(key)) or any(
        (p.kind.ceiling or p.kind.leak_guard or p.kind.platform) and not p.of_room
        for p in situation.items
    ):
        # What bars a zone depends on what hangs or stands between.
        more["roofed"] = 1
    return _told(item, zone, situation, sorts, more)


def _batteries(item: Placed, situation: Situation, sorts: Sorts) -> Iterator[Prism]:
    if not item.kind.batteries:
        return
    rows = cell_rows(item, situation.scene)
    # What is in the way is told only where the figures of one system are asked about.
    for judged in battery_top_clearance.claims(item, situation.by("si")):
        boxes = [one for one in judged.shapes if isinstance(one, ClearBox)]
        if judged.tier is None or "clearance" not in judged.required or not boxes:
            continue
        (box,) = boxes
        row = rows[judged.tier]
        space = _above_cells(item, box)
        found = _told(item, space, situation, sorts, {"lift": "all"})
        found.record["key"] = list(key_of(judged))
        found.record["blocked"] = all_tenths((row.shelf, row.highest))
        parts = [one for one in judged.intrusions if one.item == item.id]
        if parts:
            least = min(one.low[2] for one in parts)
            found.record["own"] = [parts[0].part, tenths(space.top - least)]
        if judged.missing and not judged.intrusions:
            found.record["never"] = 1
        bands = (*found.bands, (row.shelf, row.highest))
        yield Prism(found.record, bands)


def _above_cells(item: Placed, box: ClearBox) -> Space:
    (left, _, low), (right, deep, high) = box.low, box.high

    def limit(placed: Placed) -> Stretch | None:
        may = placed.id == item.id or placed.kind.hole
        return None if may else Stretch(0.0, deep)

    return Space(
        requirement=battery_top_clearance.REQUIREMENT,
        subject=item.id,
        frame=box.frame,
        width=right - left,
        depth=deep,
        bottom=low,
        top=high,
        limit=limit,
        required={"clearance": high - low},
        measures={"clearance": "up"},
        citations={},
    )
