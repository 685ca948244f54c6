"""A picture of where an item may be put: the map on the floor or beside the walls."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.mending.placing.drawn_map import ground
from model3d.wording import length, lengths
from viewer.sheet.signage import PointText
from viewer.stage.bodies.free import band_middle, band_rim, with_free
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.mending.placing.answer import PlaceAnswer
    from model3d.mending.placing.drawn_map import FloorPlaces
    from viewer.stage.parts import Stage

_MOST_TOLD = 24
"""So many stretches of wall have their lengths written beside them."""


def free_stage(stage: Stage, found: PlaceAnswer) -> tuple[Stage, tuple[PointText, ...]]:
    """Return a stage with the map of an item on it, and what is written on the map.

    Args:
        stage: The room.
        found: The places of the item.
    """
    there = ground(found)
    return with_free(stage, there), tuple(_notes(there, stage.units))


def _notes(there: FloorPlaces, units: str) -> Iterator[PointText]:
    for stretch in there.stretches[:_MOST_TOLD]:
        ends = zip(*(lengths(end, units) for end in stretch.along), strict=True)
        lines = (low if low == high else f"{low} to {high}" for low, high in ends)
        yield PointText(
            tuple(lines), band_middle(stretch), "name", past=band_rim(stretch)
        )
    if there.best:
        x, y = (sum(axis) / len(there.best) for axis in zip(*there.best, strict=True))
        yield PointText(("best place",), (x, y, 0.0), "strong-name")


def free_words(found: PlaceAnswer, units: str) -> str:
    """Say what the map shows, where the best place is and what bars the rest."""
    name = clean(found.places.item)
    there = ground(found)
    if not (there.stretches or there.triangles):
        words = f"There is no place for {name}."
    elif there.stretches:
        words = (
            f"Beside each wall, green: where the middle of {name} may be. The lengths "
            "are of its left side, from the wall's left end, seen from inside."
        )
    else:
        words = f"Green: where the middle of {name} may be."
    if found.best is not None:
        margin = length(found.best.margin, units)
        words += f" The dashed outline is the best place, {margin} to spare: there "
        words += "everything was checked. Green places may leave ways out open: the "
        words += "list that place prints says where."
    elif there.stretches or there.triangles:
        words += " A check of the whole room kept none of the places that were tried."
    barred = dict.fromkeys(
        f"{one['of']} {one['requirement']}"
        for one in found.barred()
        if one["requirement"] != "body"
    )
    told = [clean(one) for one in barred][:_MOST_BARRED]
    more = f" and {len(barred) - len(told)} more" if len(barred) > len(told) else ""
    what = "The rest is" if there.stretches or there.triangles else "All are"
    return f"{words} {what} barred by: {', '.join(told)}{more}." if told else words


_MOST_BARRED = 6
