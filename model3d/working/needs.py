"""The figures of an item's working space, as the rule book prints them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.geometry.tolerance import TOUCH
from model3d.judging.space import ANY
from model3d.scene.parts.item import AskedSpace
from model3d.wording.said import Named, say
from model3d.working.footing import floor_in_front
from model3d.working.front import front_of, is_high_voltage, is_relieved

if TYPE_CHECKING:
    from model3d.codebook import Entry, Measures, PrintedFigure
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class Needs:
    """The figures of one item's working space, in metres.

    Attributes:
        depths: Of conditions 1, 2 and 3, ahead of the front.
        behind: How far behind the front the depth begins, at exposed live parts.
        width, height: Height is None where the book prints none for the item.
        reach: How far associated items above or below may come past the front.
        floor: World height of the floor in front.
        citations: By size, as a required space carries them.
        unread: By size, as a required space carries them.
        printed: By size, as the rule book prints what is asked for; the depth by its
            condition alone.
        printed_depths: Of conditions 1, 2 and 3, as the rule book prints them.
        reach_in_doubt: What a person must decide of a reach that the book may allow.
        missing: What is missing to know the depth.
        high_voltage: The high-voltage table took over.
        limited: The place is one of limited access: the space is as high as the item.
    """

    depths: tuple[float, float, float]
    behind: float
    width: float
    height: float | None
    reach: float
    floor: float
    citations: dict[str, str]
    unread: dict[str, tuple[str, ...]]
    printed: dict[str, tuple[str, ...]]
    printed_depths: tuple[tuple[str, ...], ...]
    missing: str
    high_voltage: bool
    limited: bool = False
    reach_in_doubt: str = ""


def needs(item: Placed, situation: Situation, measures: Measures) -> Needs:
    """Look up what the rule book prints for an item that needs a working space."""
    over = is_high_voltage(item, situation)
    limited = not over and is_relieved(situation)
    depth, width, height, reach = _entries(situation, over=over, limited=limited)
    cells = _cells(depth, item.volts, measures)
    asked = _asked(item)
    printed = [cell.at_least(measures) for cell in cells]
    if asked is not None and asked.depth is not None:
        printed = [situation.scene.metres(asked.depth)] * 3
    behind = _behind(item, situation)
    one, two, three = (max(depth - behind, 0.0) for depth in printed)
    depths = one, two, three
    wide = _width(item, situation, width, measures)
    # Where less is opposite, less depth is asked: the floor has to carry no more.
    floor = floor_in_front(item, situation, wide, min(depths))
    tall = _height(item, height, floor, measures)
    if limited:
        # As high as it takes to install the item: what is below or above is no matter.
        floor, tall = front_of(item).bottom, None
    if asked is not None and asked.height is not None:
        tall = situation.scene.metres(asked.height)
    depth_known = item.volts is not None or (
        asked is not None and asked.depth is not None
    )
    sources = {
        ANY: (depth, cells),
        "depth": (depth, cells),
        "width": (width, (width.figure("width"),)),
        "height": (height, (height.figure("height"),)),
    }
    if reach is not None:
        sources["reach"] = (reach, (reach.figure("reach"),))
    return Needs(
        depths=depths,
        behind=behind,
        width=wide,
        height=tall,
        reach=0.0 if reach is None else reach.figure("reach").at_most(measures),
        floor=floor,
        citations={name: entry.citation for name, (entry, _) in sources.items()},
        unread={
            name: unread_figures(entry, figures, measures)
            for name, (entry, figures) in sources.items()
        },
        printed=_printed(item, situation, sources, {"width": wide, "height": tall}),
        printed_depths=()
        if asked is not None and asked.depth is not None
        else tuple(situation.printed(cell) for cell in cells),
        missing="" if depth_known else say(_ASK_SUPPLY, Named(item.id)),
        high_voltage=over,
        limited=limited,
        reach_in_doubt=_reach_in_doubt(reach, situation) if over else "",
    )


def _printed(
    item: Placed,
    situation: Situation,
    sources: dict[str, tuple[Entry, tuple[PrintedFigure, ...]]],
    needed: dict[str, float | None],
) -> dict[str, tuple[str, ...]]:
    """Return the sizes that are the book's own figures, not the item's own sizes."""
    asked = _asked(item)
    printed = {}
    for name, length in needed.items():
        (figure,) = sources[name][1]
        own = asked is not None and getattr(asked, name) is not None
        if length is not None and not own and length <= situation.least(figure):
            printed[name] = situation.printed(figure)
    if "reach" in sources:
        printed["reach"] = situation.printed(sources["reach"][1][0])
    return printed


def _reach_in_doubt(reach: Entry | None, situation: Situation) -> str:
    if reach is None:
        return ""
    figure = reach.figure("reach")
    return say(
        "{} is believed to allow associated equipment above and below {} past the "
        "front, which was not read: verify it.",
        reach.citation,
        situation.told(figure),
    )


_ASK_SUPPLY: Final = "Say the supply of {}: the depth depends on its voltage to ground."


def _entries(
    situation: Situation, *, over: bool, limited: bool
) -> tuple[Entry, Entry, Entry, Entry | None]:
    """Return the tables of depth, width, height and reach that hold for an item."""
    prefix = "high-voltage" if over else "working-space"
    book = situation.book
    reach = book.entry("high-voltage-reach" if over else "associated-reach")
    return (
        book.entry(f"{prefix}-depth"),
        book.entry("limited-access" if limited else f"{prefix}-width"),
        book.entry(f"{prefix}-height"),
        reach if reach.given else None,
    )


def as_printed(item: Placed) -> Placed:
    """Return an item without the figures that the scene states for its space."""
    if item.item is None or _asked(item) is None:
        return item
    return replace(item, item=item.item.model_copy(update={"working_space": "auto"}))


def states_less(item: Placed, figures: Needs, situation: Situation) -> bool:
    """Tell whether the scene states less for an item than the rule book prints.

    So it is, too, where nothing is said of the voltage that the depth goes by.
    """
    if not item.kind.needs_working_space or _asked(item) is None:
        return False
    printed = needs(as_printed(item), situation, situation.measures)
    pairs = [*zip(figures.depths, printed.depths, strict=True)]
    pairs.append((figures.width, printed.width))
    if figures.height is not None and printed.height is not None:
        pairs.append((figures.height, printed.height))
    less = any(stated < needed - TOUCH for stated, needed in pairs)
    return less or bool(printed.missing)


def _asked(item: Placed) -> AskedSpace | None:
    space = item.item.working_space if item.item else None
    return space if isinstance(space, AskedSpace) else None


def _behind(item: Placed, situation: Situation) -> float:
    """Return how far behind the front exposed live parts are, metres."""
    behind = item.item.live_parts if item.item else None
    return 0.0 if behind is None else situation.scene.metres(behind)


def _width(
    item: Placed, situation: Situation, entry: Entry, measures: Measures
) -> float:
    asked = _asked(item)
    if asked is not None and asked.width is not None:
        return situation.scene.metres(asked.width)
    wide = entry.figure("width").at_least(measures)
    return max(wide, front_of(item).width) if entry.flag("or_equipment") else wide


def _cells(
    entry: Entry, volts: float | None, measures: Measures
) -> tuple[PrintedFigure, PrintedFigure, PrintedFigure]:
    """Return the depths of the three conditions; the shallowest without a voltage."""
    if volts is None:
        every = [cell for row in entry.rows for cell in row.cells]
        least = min(every, key=lambda cell: cell.at_least(measures))
        return least, least, least
    one, two, three = entry.row(volts).cells
    return one, two, three


def _height(
    item: Placed, entry: Entry, floor: float, measures: Measures
) -> float | None:
    kinds = entry.words("kinds") if entry.has("kinds") else ()
    if kinds and item.kind.name not in kinds and not _is_service(item):
        return None
    tall = entry.figure("height").at_least(measures)
    if entry.has("or_equipment_top") and entry.flag("or_equipment_top"):
        return max(tall, front_of(item).top - floor)
    return tall


def _is_service(item: Placed) -> bool:
    return item.item is not None and bool(item.item.service)
