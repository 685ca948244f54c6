"""The closed lines of a plan's layers as the footprints of things, and their names."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.drawn_plan import Left
from model3d.exchange.dxf.file.curve import TOLERANCE
from model3d.exchange.dxf.file.loops import met
from model3d.exchange.dxf.layer_table import BY_MIDDLE, IGNORE
from model3d.exchange.dxf.wall_faces import (
    THICKEST,
    THINNEST,
    single_lines,
    walls_of_faces,
)
from model3d.exchange.ifc.element import ModelError
from model3d.exchange.schedule.headings import KEYS
from model3d.geometry.plan.lines.enclosed import (
    Area,
    areas_of,
    bands,
    crosses_itself,
    least_holding,
    longer,
    nested,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.dxf.drawn_plan import OpenLine, Plan, PlanText, Ring
    from model3d.exchange.dxf.layer_table import LayerRow, LayerTable
    from model3d.geometry.frame import Corner
    from model3d.geometry.plan.lines.enclosed import Bounds

MOST: Final = 2000
"""Closed lines in and around a room, and rooms of a plan."""
_REACH: Final = 3.0
"""Metres around a room from where nothing bears on what is in it."""
_MILLIMETRES: Final = 1000


@dataclass(frozen=True, slots=True)
class Footprint:
    """What a thing covers of the floor.

    Attributes:
        row: What its layer becomes.
        layer: Its layer.
        area: What it covers.
        blocks: Numbers of the inserted blocks that it is a part of, the outer first.
        circle: Middle and diameter, where it is round.
        unsaid: It is a wall of which nobody says how thick it is.
    """

    row: LayerRow
    layer: str
    area: Area
    blocks: tuple[int, ...] = ()
    circle: tuple[Corner, float] | None = None
    unsaid: bool = False


def footprints_of(
    plan: Plan, table: LayerTable, outline: Sequence[Corner], told: list[str]
) -> tuple[list[Footprint], int]:
    """Return what is drawn in and around a room, in the order of drawing.

    Args:
        plan: The plan.
        table: What its layers become.
        outline: Of the room.
        told: Is told what was mended and what is left out.

    Returns:
        The footprints of things, and how many there are elsewhere.

    Raises:
        ModelError: They are too many.
    """
    around = Area(tuple(outline)).bounds
    found: list[Footprint] = []
    by_layer: defaultdict[str, list[Ring]] = defaultdict(list)
    far = 0
    for ring in plan.rings:
        if not table.makes_things(ring.layer):
            continue
        if Area(ring.outer).is_near(around, _REACH):
            by_layer[ring.layer].append(ring)
        else:
            far += 1
    if (count := sum(map(len, by_layer.values()))) > MOST:
        right = f"at most {MOST}; a layer may be ignored"
        msg = f"found {count} outlines in and around the room, right is {right}"
        raise ModelError(msg)
    for line in plan.lines:
        if table.makes_things(line.layer):
            by_layer.setdefault(line.layer, [])
    open_: list[OpenLine] = []
    for layer, rings in by_layer.items():
        row = table.row_of(layer)
        if row is None:
            continue
        lines = [one for one in plan.lines if one.layer == layer]
        thick = [one for one in rings if _thickness(row, one) is not None]
        told += (f"layer {layer}: {note}" for note in _widths(row, [*thick, *lines]))
        walls = [*_walls(thick, lines, layer, row)]
        thin = [one for one in lines if _thickness(row, one) is None]
        if row.becomes == "wall":
            thin, more = _between_faces(thin, around, layer, row, told)
            walls += more
            thin, areas = single_lines(thin, outline, layer, told)
            walls += (Footprint(row, layer, one, unsaid=True) for one in areas)
        open_ += thin
        near = [one for one in walls if one.area.is_near(around, _REACH)]
        found, far = found + near, far + len(walls) - len(near)
        plain = [one for one in rings if _thickness(row, one) is None]
        told += (f"layer {layer}: {note}" for note in mended(plain))
        found += _areas(plain, layer, row, told)
    told += _left(plan, table, open_)
    return found, far


def mended(rings: Sequence[Ring]) -> Iterator[str]:
    """Yield what was done to make rings of what is drawn on a layer."""
    if gaps := [one.gap for one in rings if one.gap > TOLERANCE / _MILLIMETRES]:
        widest = max(gaps) * _MILLIMETRES
        yield f"{len(gaps)} closed over gaps of up to {widest:.3g} mm"
    if joined := sum(one.joined for one in rings):
        yield f"{joined} joined from lines whose ends meet"
    if curved := sum(one.curved and one.circle is None for one in rings):
        within = f"{TOLERANCE * _MILLIMETRES:g} mm"
        yield f"{curved} with curves, taken as lines within {within} on the safe side"
    if crossed := sum(crosses_itself(one.outer) for one in rings):
        yield f"{crossed} crossing themselves, taken as all that they enclose"


def _thickness(row: LayerRow, drawn: Ring | OpenLine) -> float | None:
    """Return how thick a line is that is drawn by its middle; None of another one."""
    if row.thickness is not None:
        return row.thickness
    is_wide = row.becomes in BY_MIDDLE and drawn.width > TOLERANCE
    return drawn.width if is_wide else None


def _widths(row: LayerRow, drawn: Sequence[Ring | OpenLine]) -> Iterator[str]:
    """Yield what is told of lines that are drawn wide."""
    wide = [one.width for one in drawn if one.width > TOLERANCE]
    if not wide or row.becomes not in BY_MIDDLE:
        return
    low, high = (f"{one * _MILLIMETRES:.6g}" for one in (min(wide), max(wide)))
    said = f"{len(wide)} drawn {low if low == high else f'{low} to {high}'} mm wide"
    if row.thickness is None:
        yield f"{said}, taken as thick as that"
    elif any(abs(one - row.thickness) > TOLERANCE for one in wide):
        thick = f"{row.thickness * _MILLIMETRES:.6g} mm"
        yield f"{said}, taken as {thick} thick as the table says"


def _walls(
    rings: Sequence[Ring], every: Sequence[OpenLine], layer: str, row: LayerRow
) -> Iterator[Footprint]:
    for ring in rings:
        spare = TOLERANCE if ring.curved else 0.0
        thickness = _thickness(row, ring) or 0.0
        for area in bands(ring.outer, thickness, closed=True, spare=spare):
            yield Footprint(row, layer, area)
    lines = [one for one in every if _thickness(row, one) is not None]
    ends = met([(one.points[0], one.points[-1]) for one in lines])
    for line, corners in zip(lines, ends, strict=True):
        spare = TOLERANCE if line.curved else 0.0
        thickness = _thickness(row, line) or 0.0
        # Where two walls meet that are drawn one by one, they fill the corner.
        points = longer(line.points, thickness / 2, *corners)
        for area in bands(points, thickness, closed=False, spare=spare):
            yield Footprint(row, layer, area)


def _areas(
    rings: Sequence[Ring], layer: str, row: LayerRow, told: list[str]
) -> Iterator[Footprint]:
    drawn = [(ring, area) for ring in rings for area in areas_of(ring.outer)]
    if flat := sum(not areas_of(ring.outer) for ring in rings):
        told.append(f"layer {layer}: {flat} without an area, left out")
    again, within = nested([area for _, area in drawn])
    if again:
        told.append(f"layer {layer}: {len(again)} drawn twice, taken once")
    holes: defaultdict[int, list[tuple[Corner, ...]]] = defaultdict(list)
    inner = 0
    for number, holder in within.items():
        if row.becomes != "wall":
            inner += 1
        elif _depth(number, within) % 2:
            # Of a hole nothing is free but what surely is.
            for hole in areas_of(drawn[number][0].inner):
                holes[holder].append(hole.outer[::-1])
    if inner:
        told.append(f"layer {layer}: {inner} within others of the layer, left out")
    for number, (ring, area) in enumerate(drawn):
        depth = _depth(number, within)
        if number in again or (depth and (row.becomes != "wall" or depth % 2)):
            continue
        whole = Area(area.outer, tuple(holes[number]))
        circle = None if holes[number] else ring.circle
        yield Footprint(row, layer, whole, ring.blocks, circle)


def _depth(number: int, within: dict[int, int]) -> int:
    depth = 0
    while number in within:
        number, depth = within[number], depth + 1
    return depth


def _between_faces(
    lines: Sequence[OpenLine],
    around: Bounds,
    layer: str,
    row: LayerRow,
    told: list[str],
) -> tuple[list[OpenLine], list[Footprint]]:
    """Return the lines that are of no wall near a room, and the walls of the others."""
    near = [one for one in lines if _is_near(one, around)]
    walls, read = walls_of_faces([one.points for one in near])
    if walls:
        low, high = (f"{one * _MILLIMETRES:g}" for one in (THINNEST, THICKEST))
        said = (
            f"walls between lines side by side: {len(walls)}, {low} to {high} mm apart"
        )
        told.append(f"layer {layer}: {said}")
    faces = {id(near[number]) for number in read}
    rest = [one for one in lines if id(one) not in faces]
    return rest, [Footprint(row, layer, one) for one in walls]


def _is_near(line: OpenLine, around: Bounds) -> bool:
    return Area(line.points).is_near(around, _REACH)


def _left(plan: Plan, table: LayerTable, lines: Sequence[OpenLine]) -> Iterator[str]:
    """Yield what is left out on the layers that become something."""
    open_: dict[str, Left] = {}
    for line in lines:
        before = open_.get(line.layer, Left(line.layer, "open line", 0, line.points[0]))
        open_[line.layer] = replace(before, count=before.count + 1)
    for left in (*open_.values(), *plan.left):
        row = table.row_of(left.layer)
        if row is None or row.becomes in {"", IGNORE}:
            continue
        where = plan.told_at(left.at, left.count)
        said = "taken whole" if left.whole else "left out"
        yield f"{said}: {left.told} on layer {left.layer}{where}"


def names_of(
    footprints: Sequence[Footprint], labels: Sequence[PlanText]
) -> list[tuple[str, ...]]:
    """Return for each footprint what it may be called; one text where that is plain.

    A text belongs to the least footprint that it begins in, of those on its own layer
    if there is one; an attribute of a block also to the only footprint of that block,
    wherever it stands.
    """
    of_block = {
        block: number for number, one in enumerate(footprints) for block in one.blocks
    }
    alone = Counter(block for one in footprints for block in one.blocks)
    texts: defaultdict[int, list[PlanText]] = defaultdict(list)
    holders = _holders(footprints, labels)
    for label, within in zip(labels, holders, strict=True):
        holder = within
        if label.attribute and alone[label.block] == 1:
            holder = of_block[label.block]
        if holder is not None:
            texts[holder].append(label)
    return [designation(texts[number]) for number in range(len(footprints))]


def _holders(
    footprints: Sequence[Footprint], labels: Sequence[PlanText]
) -> list[int | None]:
    points = [one.at for one in labels]
    found = least_holding([one.area for one in footprints], points)
    by_layer: defaultdict[str, list[int]] = defaultdict(list)
    for number, label in enumerate(labels):
        by_layer[label.layer].append(number)
    for layer, there in by_layer.items():
        own = [n for n, one in enumerate(footprints) if one.layer == layer]
        least = least_holding(
            [footprints[n].area for n in own], [points[n] for n in there]
        )
        for number, holder in zip(there, least, strict=True):
            if holder is not None:
                found[number] = own[holder]
    return found


def designation(labels: Sequence[PlanText]) -> tuple[str, ...]:
    """Return what texts call a thing: those that are named so, else all of them."""
    for wanted in ("id", "name"):
        named = [
            one.text
            for one in labels
            if KEYS.get(one.attribute.casefold().replace("_", " ")) == wanted
        ]
        if named:
            return tuple(dict.fromkeys(named))
    return tuple(dict.fromkeys(one.text for one in labels))
