"""The working space an item needs, as the rule book prints it.

Several rules start from it: the working space itself, its floor, the way out of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import covers
from model3d.geometry.tolerance import TOUCH
from model3d.notes import from_memory
from model3d.scene.item import AskedSpace
from model3d.spaces import ANY, Space, Stretch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry, Figure, Measures
    from model3d.scene.placed import Front, Placed
    from model3d.situation import Situation

REQUIREMENT: Final = "working-space"
_SMALL_SERVICE: Final = "service equipment"


@dataclass(frozen=True, slots=True)
class Needs:
    """The figures of one item's working space, in metres.

    Attributes:
        depths: Of conditions 1, 2 and 3.
        width, height: Height is None where the book prints none for the item.
        reach: How far associated items above or below may come past the front.
        floor: World height of the floor in front.
        citations: By size, as a required space carries them.
        notes: By size, as a required space carries them.
        question: What is missing to know the depth.
        high_voltage: The high-voltage table took over.
    """

    depths: tuple[float, float, float]
    width: float
    height: float | None
    reach: float
    floor: float
    citations: dict[str, str]
    notes: dict[str, str]
    question: str
    high_voltage: bool


def needs(item: Placed, situation: Situation, measures: Measures) -> Needs:
    """Look up what the rule book prints for an item that needs a working space."""
    front = _front(item)
    book = situation.book
    low, high = book.entry("working-space-depth"), book.entry("high-voltage-depth")
    volts = item.volts
    over = is_high_voltage(item, situation)
    prefix = "high-voltage" if over else "working-space"
    depth, width, height = high if over else low, *_entries(situation, prefix)
    cells = _cells(depth, volts, measures)
    depths = [cell.at_least(measures) for cell in cells]
    reach = None if over else book.entry("associated-reach")
    allowed = reach.figure("reach").at_most(measures) if reach and reach.given else 0.0
    wide = width.figure("width").at_least(measures)
    if width.flag("or_equipment"):
        wide = max(wide, front.width)
    asked = item.item.working_space if item.item else None
    floor = floor_in_front(item, situation, wide, max(depths))
    tall = _height(item, height, floor, measures)
    if isinstance(asked, AskedSpace):
        metres = situation.scene.metres
        depths = [metres(asked.depth)] * 3 if asked.depth is not None else depths
        wide = metres(asked.width) if asked.width is not None else wide
        tall = metres(asked.height) if asked.height is not None else tall
    behind = item.item.live_parts if item.item else None
    if behind is not None:
        # The depth starts at the live parts, which stand behind the front.
        depths = [max(d - situation.scene.metres(behind), 0.0) for d in depths]
    sources = {
        ANY: (depth, cells),
        "depth": (depth, cells),
        "width": (width, (width.figure("width"),)),
        "height": (height, (height.figure("height"),)),
    }
    if reach is not None and reach.given:
        sources["reach"] = (reach, (reach.figure("reach"),))
    return Needs(
        depths=(depths[0], depths[1], depths[2]),
        width=wide,
        height=tall,
        reach=allowed,
        floor=floor,
        citations={name: entry.citation for name, (entry, _) in sources.items()},
        notes={
            name: from_memory(figures, measures)
            for name, (_, figures) in sources.items()
        },
        question=""
        if volts is not None
        else f"Say the supply of {item.id}: the depth depends on the voltage to ground.",
        high_voltage=over,
    )


def _entries(situation: Situation, prefix: str) -> tuple[Entry, Entry]:
    book = situation.book
    return book.entry(f"{prefix}-width"), book.entry(f"{prefix}-height")


def _cells(
    entry: Entry, volts: float | None, measures: Measures
) -> tuple[Figure, Figure, Figure]:
    """Return the depths of the three conditions; the shallowest without a voltage."""
    if volts is None:
        every = [cell for row in entry.rows for cell in row.cells]
        least = min(every, key=lambda cell: cell.at_least(measures))
        return least, least, least
    row = next(row for row in entry.rows if volts <= row.up_to)
    one, two, three = row.cells
    return one, two, three


def _height(
    item: Placed, entry: Entry, floor: float, measures: Measures
) -> float | None:
    kinds = entry.words("kinds") if entry.has("kinds") else ()
    if kinds and item.kind.name not in kinds and not _is_service(item):
        return None
    tall = entry.figure("height").at_least(measures)
    if entry.has("or_equipment_top") and entry.flag("or_equipment_top"):
        return max(tall, _front(item).top - floor)
    return tall


def _is_service(item: Placed) -> bool:
    return item.item is not None and bool(item.item.service)


def _front(item: Placed) -> Front:
    if item.front is None:
        msg = f"{item.id} has no front"
        raise ValueError(msg)
    return item.front


def floor_in_front(
    item: Placed, situation: Situation, width: float, depth: float
) -> float:
    """Return the height of the floor a person stands on in front, metres.

    A platform or a pad is the floor where it carries the whole width of the item and
    the whole depth of its working space; one that carries less is a step in it.
    """
    front = _front(item)
    first, last = slide(front.width, width)
    left, right = min(last, 0.0), max(first + width, front.width)
    low, high = (left, 0.0, 0.0), (right, depth, front.top)
    tops: dict[float, list[list[tuple[float, float]]]] = {}
    for placed in situation.near(front.frame, low, high):
        standing = placed.front
        if placed.kind.name in _FLOORS and standing and standing.top < front.top:
            corners = [
                standing.frame.to_plan(u, v)
                for u, v in (
                    (0.0, 0.0),
                    (standing.width, 0.0),
                    (standing.width, -standing.depth),
                    (0.0, -standing.depth),
                )
            ]
            tops.setdefault(round(standing.top, 4), []).append(corners)
    area = [
        front.frame.to_plan(u, v)
        for u, v in ((0.0, TOUCH), (front.width, TOUCH))
        + ((front.width, depth), (0.0, depth))
    ]
    return max((top for top in tops if covers(tops[top], area)), default=0.0)


_FLOORS: Final = ("platform", "pad")


def slide(own: float, width: float) -> tuple[float, float]:
    """Return between where the left side of a space may lie, to cover the item.

    A space narrower than the item stays within the item's width.

    >>> slide(0.5, 0.75), slide(1.0, 0.75)
    ((-0.25, 0.0), (0.0, 0.25))
    """
    first, last = sorted((own - width, 0.0))
    return first, last


def working_space(
    item: Placed, situation: Situation, figures: Needs, measures: Measures
) -> Space:
    """Return the space an item needs, with what may be inside it."""
    front = _front(item)
    first, last = slide(front.width, figures.width)
    tall = figures.height
    top = figures.floor + (front.top - figures.floor if tall is None else tall)
    required = {"depth": max(figures.depths), "width": figures.width}
    if tall is not None:
        required["height"] = tall
    written = item.item
    override = written.condition if written else None
    depths = figures.depths
    if override is not None:
        depths = (depths[override - 1],) * 3
    return Space(
        requirement=REQUIREMENT,
        subject=item.id,
        frame=front.frame,
        width=figures.width,
        depth=max(depths),
        bottom=figures.floor,
        top=top,
        limit=_Limit(item, situation, depths, figures),
        required=required,
        measures={"depth": "out", "width": "across", "height": "up"}
        if tall is not None
        else {"depth": "out", "width": "across"},
        citations=figures.citations,
        first=first,
        last=last,
        wanted=(first + last) / 2,
        permission=_permission(item, situation),
        question=figures.question,
        notes=figures.notes,
        reach=figures.reach or None,
        assumed=tuple(_assumed(item)),
    )


@dataclass(frozen=True, slots=True)
class _Limit:
    """What one item's working space allows each other solid."""

    item: Placed
    situation: Situation
    depths: tuple[float, float, float]
    needs: Needs

    def __call__(self, placed: Placed) -> Stretch | None:
        if placed.id == self.item.id or placed.id == "floor":
            return None
        meters = self.situation.book.entry("meters-in-sockets")
        if placed.kind.name == "meter" and meters.given and meters.flag("permitted"):
            return None
        start = self._start(placed)
        overhead = placed.kind.structure and placed.bottom > self.needs.floor + TOUCH
        if overhead:
            exempt, question = small_dwelling_service(self.item, self.situation)
            if exempt:
                return None
            if question:
                return Stretch(start, start, self.depths[0], question)
        one, two, three = self.depths
        if faces(placed, self.item):
            if self._may_keep_two(placed):
                return Stretch(start, two, three, _PROCEDURES)
            return Stretch(start, three)
        if placed.grounded is None:
            return Stretch(start, one, two, _unknown_surface(placed))
        return Stretch(start, two if placed.grounded else one)

    def _start(self, placed: Placed) -> float:
        front = _front(self.item)
        apart = placed.bottom >= front.top - TOUCH or placed.top <= front.bottom + TOUCH
        return self.needs.reach if placed.associated and apart else 0.0

    def _may_keep_two(self, placed: Placed) -> bool:
        """Tell whether two facing dead fronts were replaced in an existing building."""
        entry = self.situation.book.entry("existing-building")
        fronts = (self.item.item, placed.item)
        return (
            entry.given
            and self.situation.scene.premises == "existing"
            and all(item is not None and item.dead_front is True for item in fronts)
        )


_PROCEDURES: Final = (
    "Facing dead-front equipment that was replaced in an existing building may keep "
    "the depth of condition 2 under written procedures: a person must decide."
)


def _unknown_surface(placed: Placed) -> str:
    if placed.shell:
        return f"Say what {placed.id} is made of: a grounded surface needs more depth."
    return f"Say whether {placed.id} is grounded: a grounded surface needs more depth."


def faces(other: Placed, item: Placed) -> bool:
    """Tell whether a live item's working space opens towards another item."""
    one, two = _front(item), other.front
    if not other.live or two is None:
        return False
    (ax, ay), (bx, by) = one.frame.out, two.frame.out
    if ax * bx + ay * by > -_ACROSS:
        return False
    ends = (one.frame.to_plan(0.0, 0.0), one.frame.to_plan(one.width, 0.0))
    return any(two.frame.to_frame(x, y)[1] > TOUCH for x, y in ends)


_ACROSS: Final = 1e-9
"""Cosine below which two fronts count as at right angles: rounding of a turn."""


def small_dwelling_service(item: Placed, situation: Situation) -> tuple[bool, str]:
    """Tell whether low headroom is excepted, and what is missing to know it."""
    entry = situation.book.entry("existing-dwelling")
    if situation.scene.premises != "existing-dwelling" or not entry.given:
        return False, ""
    service = None if item.item is None else item.item.service
    if item.kind.name not in entry.words("kinds") and not service:
        known = service is not None
        return False, "" if known else f"Say whether {item.id} is service equipment."
    if item.amps is None:
        return False, f"Say how many amperes {item.id} is rated for."
    return item.amps <= entry.number("amps"), ""


def _permission(item: Placed, situation: Situation) -> str:
    entry = situation.book.entry("low-voltage-permission")
    supply = item.item.supply if item.item else None
    if not entry.given or supply is None or supply.volts is None:
        return ""
    highest = entry.number("volts_dc" if supply.direct_current else "volts_rms")
    if supply.volts > highest:
        return ""
    return (
        f"At {supply.volts:g} V a smaller space may be allowed by special permission "
        f"({entry.citation}): the authority having jurisdiction decides."
    )


def _assumed(item: Placed) -> Iterator[tuple[str, str]]:
    written = item.item
    if written is None:
        return
    if isinstance(written.working_space, AskedSpace):
        yield item.id, "The working space's figures are those of the scene."
    if getattr(written.place, "facing", "") is None:
        yield item.id, "Nothing says where its front points: taken as south."


def is_high_voltage(item: Placed, situation: Situation) -> bool:
    """Tell whether an item's voltage is beyond the low-voltage table."""
    rows = situation.book.entry("working-space-depth").rows
    return item.volts is not None and item.volts > max(row.up_to for row in rows)
