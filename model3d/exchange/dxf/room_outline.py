"""Which outline of a plan is the room, and what it is called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.footprints import MOST, mended
from model3d.exchange.dxf.layer_table import OUTLINE
from model3d.exchange.ifc.element import ModelError
from model3d.geometry.plan.lines.enclosed import (
    Area,
    areas_of,
    crosses_itself,
    least_holding,
    nested,
)
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.dxf.drawn_plan import Plan, Ring
    from model3d.exchange.dxf.layer_table import LayerRow, LayerTable
    from model3d.geometry.frame import Corner

_LEAST, _MOST = 0.5, 150.0
"""Metres of a room's sides beyond which the unit of its plan is doubted."""
_FEWEST: Final = 3


@dataclass(frozen=True, slots=True)
class Place:
    """The room of a plan, lengths in the plan's frame, metres.

    Attributes:
        name: What is written in it on the layer of its outline, or what was asked
            for; "" for nothing.
        outline: Its corners, counter-clockwise, the southernmost first.
        height: Floor to ceiling.
        row: What its layer becomes.
        holes: What its layer has within it, which is solid.
        told: What was mended.
    """

    name: str
    outline: tuple[Corner, ...]
    height: float
    row: LayerRow
    holes: tuple[Area, ...]
    told: tuple[str, ...]


def place_of(
    plan: Plan, table: LayerTable, space: str | None, *, believed: bool
) -> Place:
    """Return the room that is meant.

    Args:
        plan: The plan.
        table: The table of its layers.
        space: A text that stands in it; None where there is only one.
        believed: A person said the plan's unit, so that any size is.

    Raises:
        ModelError: None or several are meant, or it is none.
    """
    rings = [(ring, row) for ring in plan.rings if (row := _outline_row(table, ring))]
    if not rings:
        layers = [one.pattern for one in table.rows if one.becomes == OUTLINE]
        where = f" on layer {', '.join(layers)}" if layers else ""
        right = f"a closed line on a layer that becomes a {OUTLINE}"
        msg = f"found no {OUTLINE}{where}, right is {right}"
        raise ModelError(msg)
    if len(rings) > MOST:
        msg = f"found {len(rings)} room outlines, right is at most {MOST}"
        raise ModelError(msg)
    areas = [Area(ring.outer) for ring, _ in rings]
    again, within = nested(areas)
    names = _names(plan, areas)
    number = _chosen(areas, names, space, again, within)
    ring, row = rings[number]
    if crosses_itself(ring.inner):
        msg = (
            f"layer {ring.layer}: found a {OUTLINE} that crosses itself, right is one "
        )
        msg += "line around the room"
        raise ModelError(msg)
    inside = [*areas_of(ring.inner)]
    if len(inside) != 1 or len(inside[0].outer) < _FEWEST:
        msg = f"layer {ring.layer}: found no area in the {OUTLINE}, right is a room"
        raise ModelError(msg)
    outline = _from_the_south(inside[0].outer)
    if not believed:
        _check_size(plan, inside[0])
    holes = tuple(areas[n] for n, holder in within.items() if holder == number)
    told = [f"layer {ring.layer}: {note}" for note in mended([ring])]
    if ring.width:
        wide = f"drawn {ring.width * 1000:.6g} mm wide, taken by its middle"
        told.append(f"layer {ring.layer}: the {OUTLINE} is {wide}")
    if holes:
        said = f"{len(holes)} outlines within the room, taken as solid to the ceiling"
        told.append(f"layer {ring.layer}: {said}")
    own = [text for text, layer in names[number] if layer == ring.layer]
    name = space or (own[0] if len(own) == 1 else "")
    return Place(name, outline, row.top or 0.0, row, holes, tuple(told))


def _outline_row(table: LayerTable, ring: Ring) -> LayerRow | None:
    row = table.row_of(ring.layer)
    return row if row is not None and row.becomes == OUTLINE else None


def _names(plan: Plan, areas: Sequence[Area]) -> list[list[tuple[str, str]]]:
    """Return the texts in each outline and their layers; each in the least one."""
    names: list[list[tuple[str, str]]] = [[] for _ in areas]
    holders = least_holding(areas, [one.at for one in plan.labels])
    for label, holder in zip(plan.labels, holders, strict=True):
        if holder is not None:
            names[holder].append((" ".join(label.text.split()), label.layer))
    return names


def _chosen(
    areas: Sequence[Area],
    names: Sequence[Sequence[tuple[str, str]]],
    space: str | None,
    again: dict[int, int],
    within: dict[int, int],
) -> int:
    if space is None:
        fits = [n for n in range(len(areas)) if n not in again and n not in within]
    else:
        wanted = " ".join(space.casefold().split())
        fits = [
            n
            for n in range(len(areas))
            if wanted in {text.casefold() for text, _ in names[n]} and n not in again
        ]
    if len(fits) == 1:
        return fits[0]
    texts = [*dict.fromkeys(text for one in names for text, _ in one)]
    if not fits:
        near = hint(space, texts) if space else ""
        right = f"a text within a {OUTLINE}{near}"
        msg = f"--space: found {found(space)}, right is {right}"
        raise ModelError(msg)
    lines = [f"found {len(fits)} rooms, right is one: --space with a text within it"]
    lines += [f"  {_told(areas[n], [text for text, _ in names[n]])}" for n in fits]
    raise ModelError(*lines)


def _told(area: Area, texts: Sequence[str]) -> str:
    x0, y0, x1, y1 = area.bounds
    some = "; ".join(texts[:6]) or "no text in it"
    return f"{x1 - x0:.2f} m x {y1 - y0:.2f} m: {some}"


def _check_size(plan: Plan, area: Area) -> None:
    x0, y0, x1, y1 = area.bounds
    if min(x1 - x0, y1 - y0) >= _LEAST and max(x1 - x0, y1 - y0) <= _MOST:
        return
    size = f"{x1 - x0:.4g} m by {y1 - y0:.4g} m"
    said = f"found a room of {size}, for the plan says it is drawn in {plan.unit}"
    msg = f"{said}, right is --drawn-in with the unit that is true"
    raise ModelError(msg)


def _from_the_south(ring: Sequence[Corner]) -> tuple[Corner, ...]:
    first = min(range(len(ring)), key=lambda n: (ring[n][1], ring[n][0]))
    return (*ring[first:], *ring[:first])
