"""The working space an item needs, as a box that must be clear."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.judging.space import Space
from model3d.scene.parts.item import AskedSpace
from model3d.working.front import front_of, slide
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed
    from model3d.working.needs import Needs

REQUIREMENT: Final = "working-space"


def working_space(item: Placed, situation: Situation, figures: Needs) -> Space:
    """Return the space an item needs, with what may be inside it."""
    front = front_of(item)
    first, last = slide(front.width, figures.width)
    tall = figures.height
    top = figures.floor + (front.top - figures.floor if tall is None else tall)
    required = {"depth": max(figures.depths) + figures.behind, "width": figures.width}
    if tall is not None:
        required["height"] = tall
    written = item.item
    override = written.condition if written else None
    depths = figures.depths
    if override is not None:
        depths = (depths[override - 1],) * 3
    printed = {
        name: figures.printed[name] for name in required if name in figures.printed
    }
    return Space(
        requirement=REQUIREMENT,
        subject=item.id,
        frame=front.frame,
        width=figures.width,
        depth=max(depths),
        bottom=figures.floor,
        top=top,
        limit=Allowance(item, situation, depths, figures),
        required=required,
        measures={"depth": "out", "width": "across", "height": "up"}
        if tall is not None
        else {"depth": "out", "width": "across"},
        citations=figures.citations,
        first=first,
        last=last,
        wanted=(first + last) / 2,
        as_wide=first == last,
        permission=permission_of(item, situation),
        missing=figures.missing,
        unknown=("depth",) if figures.missing else (),
        unread=figures.unread,
        printed=printed,
        reach=figures.reach or None,
        reach_printed=figures.printed.get("reach", ()),
        behind=figures.behind,
        assumed=tuple(_assumed(item)),
    )


def permission_of(item: Placed, situation: Situation) -> str:
    """Say that a smaller space may be permitted, where the voltage is low enough."""
    entry = situation.book.entry("low-voltage-permission")
    supply = item.item.supply if item.item else None
    volts = None if supply is None else supply.line_volts or supply.volts
    if not entry.given or supply is None or volts is None:
        return ""
    highest = entry.number("volts_dc" if supply.direct_current else "volts_rms")
    if volts > highest:
        return ""
    return (
        f"At {volts:g} V a smaller space may be allowed by special permission "
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
