"""The doors of a room on a plan: arcs of leaves on the layers that become doors.

A leaf is drawn open, with the arc of its way: the arc's middle is the hinge, one of its
ends lies on the wall, where the leaf shuts, and the other one on the side that it opens
to (common practice of plans).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.doors.arcless import doors_without_arc
from model3d.exchange.dxf.footprints import designation
from model3d.exchange.dxf.layer_table import DOOR
from model3d.geometry.plan.lines.enclosed import Area

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.dxf.drawn_plan import Plan, Swing
    from model3d.exchange.dxf.layer_table import LayerRow, LayerTable
    from model3d.geometry.frame import Corner

_THICKEST: Final = 0.6
"""Metres from the face that the room has to a hinge in its wall."""
_PROUD: Final = 0.15
"""Metres that a hinge may stand before that face."""
_NEAR: Final = 1.0
"""Metres around a room within which what is no door of it is told."""
_PARALLEL: Final = 0.05
_OFF: Final = 0.05
"""Metres by which a leaf may pass the end of its wall, and two leaves may miss."""
_LEAST, _MOST = 0.3, 3.0
"""Metres of a leaf's width."""
_FLATTEST, _WIDEST = 20.0, 130.0
"""Degrees that a leaf's arc turns: of half a circle nobody knows which end is shut."""
_UNEQUAL: Final = 0.05


@dataclass(frozen=True, slots=True)
class _ArcOfLeaf:
    swing: Swing
    row: LayerRow
    side: int
    start: float
    end: float
    off: float
    inward: bool
    hinge_at: float

    @property
    def shut(self) -> float:
        """Where on its side it shuts, as its hinge is given."""
        return self.start if self.hinge_at == self.end else self.end


@dataclass(frozen=True, slots=True)
class PlanDoor:
    """A door in a wall of the room.

    Attributes:
        id: Its own.
        side: The number of the room's side that it is in, from 0.
        lengths: Along, width, height and perhaps sill, metres.
        words: Which way it opens and where its hinge is, as far as that is known.
    """

    id: str
    side: int
    lengths: dict[str, float]
    words: dict[str, str] = field(default_factory=dict)


def doors_of_plan(
    plan: Plan,
    table: LayerTable,
    outline: Sequence[Corner],
    taken: set[str],
    told: list[str],
) -> list[PlanDoor]:
    """Return the doors of a room, in the order of its sides.

    Args:
        plan: The plan.
        table: What its layers become.
        outline: Of the room, counter-clockwise.
        taken: Ids that other things have.
        told: Is told what was taken for granted and what is left out.
    """
    layers = {one.number: one.layer for one in plan.inserts}
    leaves: list[_ArcOfLeaf] = []
    for swing in plan.swings:
        row = _row(table, swing, layers)
        if row is None or not Area(_box(swing)).is_near(Area(tuple(outline)).bounds, 0):
            continue
        found = _leaf(swing, row, outline)
        if isinstance(found, _ArcOfLeaf):
            leaves.append(found)
        elif found:
            where = plan.told_at(swing.centre)
            told.append(f"left out: an arc on door layer {swing.layer}{where}: {found}")
    told += doors_without_arc(plan, table, outline)
    doors = []
    ids = {one.casefold() for one in taken} | {"room"}
    for group in _groups(leaves):
        name = _new(_name(plan, group), ids)
        doors.append(_door(name, group, outline, told))
    if doors:
        said = (
            "doors are as wide as their leaves are drawn: ways out stay open till you"
        )
        told.append(f"{said} write the clear openings and take overall away")
    return doors


def _row(table: LayerTable, swing: Swing, layers: dict[int, str]) -> LayerRow | None:
    """Return the row of a door layer that an arc, or a block of it, lies on."""
    for layer in (swing.layer, *(layers.get(one, "") for one in swing.blocks[::-1])):
        row = table.row_of(layer)
        if row is not None and row.becomes:
            return row if row.becomes == DOOR else None
    return None


def _box(swing: Swing) -> tuple[Corner, ...]:
    xs, ys = zip(swing.centre, *swing.ends, strict=True)
    x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
    return (
        (x0 - _NEAR, y0 - _NEAR),
        (x1 + _NEAR, y0 - _NEAR),
        (x1 + _NEAR, y1 + _NEAR),
    )


def _leaf(swing: Swing, row: LayerRow, outline: Sequence[Corner]) -> _ArcOfLeaf | str:
    """Return an arc as a leaf in the nearest side, or why it is none."""
    radius = math.dist(swing.centre, swing.ends[0])
    if not _LEAST <= radius <= _MOST:
        return f"of {radius * 1000:.6g} mm, no leaf is so wide"
    if not _FLATTEST <= swing.degrees <= _WIDEST:
        return f"it turns {swing.degrees:.3g} degrees: which end is shut is not known"
    best: _ArcOfLeaf | None = None
    ends = zip(outline, (*outline[1:], outline[0]), strict=True)
    for number, (a, b) in enumerate(ends):
        for shut, open_ in (swing.ends, swing.ends[::-1]):
            one = _in_side(swing, row, (a, b), shut, open_)
            if one is not None and (best is None or abs(one.off) < abs(best.off)):
                best = replace(one, side=number)
    return best or "it is in no wall of the room"


def _in_side(
    swing: Swing,
    row: LayerRow,
    side: tuple[Corner, Corner],
    shut: Corner,
    open_: Corner,
) -> _ArcOfLeaf | None:
    (ax, ay), b = side
    length = math.dist((ax, ay), b)
    dx, dy = (b[0] - ax) / length, (b[1] - ay) / length

    def seen(point: Corner) -> tuple[float, float]:
        """Return how far along the side a point lies, and how far into the room."""
        x, y = point[0] - ax, point[1] - ay
        return x * dx + y * dy, y * dx - x * dy

    (hinge, deep), (at, depth) = seen(swing.centre), seen(shut)
    radius = math.dist(swing.centre, shut)
    if abs(depth - deep) > _PARALLEL * radius or not -_THICKEST <= deep <= _PROUD:
        return None
    start, end = sorted((hinge, at))
    if start < -_OFF or end > length + _OFF:
        return None
    inward = seen(open_)[1] > deep
    return _ArcOfLeaf(swing, row, 0, start, end, deep, inward, hinge)


def _groups(leaves: Sequence[_ArcOfLeaf]) -> list[list[_ArcOfLeaf]]:
    """Return leaves by doors: one that is drawn twice once, two that shut together."""
    groups: list[list[_ArcOfLeaf]] = []
    for leaf in sorted(leaves, key=lambda one: (one.side, one.start, one.end)):
        for group in groups:
            other = group[0]
            if leaf.side != other.side:
                continue
            same = abs(leaf.hinge_at - other.hinge_at) <= _OFF
            if abs(leaf.shut - other.shut) <= _OFF and (same or len(group) == 1):
                if not same or leaf.inward != other.inward:
                    group.append(leaf)
                break
        else:
            groups.append([leaf])
    return groups


def _door(
    name: str, group: Sequence[_ArcOfLeaf], outline: Sequence[Corner], told: list[str]
) -> PlanDoor:
    first = group[0]
    side = first.side
    length = math.dist(outline[side], outline[(side + 1) % len(outline)])
    start = max(min(one.start for one in group), 0.0)
    end = min(max(one.end for one in group), length)
    lengths = {
        # A wall's left end, seen from inside, is where its side ends.
        "along": length - end,
        "width": end - start,
        "height": (first.row.top or 0.0) - first.row.bottom,
    }
    if first.row.bottom:
        lengths["sill"] = first.row.bottom
    words: dict[str, str] = {}
    if len({one.inward for one in group}) == 1:
        words["opens"] = "in" if first.inward else "out"
    else:
        told.append(f"{name}: it swings both ways, and which counts is not said")
    hinges = {round(one.hinge_at, 3) for one in group}
    widths = [one.end - one.start for one in group]
    if len(hinges) == 1:
        words["hinge"] = "left" if first.hinge_at == first.end else "right"
    elif max(widths) - min(widths) <= _UNEQUAL * max(widths):
        words["hinge"] = "pair"
    else:
        told.append(f"{name}: its two leaves are not alike, and no hinge is written")
    return PlanDoor(name, side, lengths, words)


def _name(plan: Plan, group: Sequence[_ArcOfLeaf]) -> str:
    blocks = {number for one in group for number in one.swing.blocks}
    labels = [one for one in plan.labels if one.attribute and one.block in blocks]
    texts = designation(labels)
    return re.sub(r"[^\w.]+", "-", texts[0]).strip("-.")[:40] if len(texts) == 1 else ""


def _new(name: str, taken: set[str]) -> str:
    stem, number = name or "D", 1
    found = name or "D1"
    while found.casefold() in taken:
        number += 1
        found = f"{stem}-{number}" if name else f"D{number}"
    taken.add(found.casefold())
    return found
