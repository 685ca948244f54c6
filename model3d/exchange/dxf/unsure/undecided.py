"""What is drawn in a room and nobody says what it is: it may stand there.

That is what lies on layers of which the table says nothing, open lines on layers that
become things, and what is not read as it is drawn, such as free curves. Dimensions,
texts, hatches and layers of annotation are no things.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.exchange.dxf.wall_faces import THICKEST_SINGLE
from model3d.geometry.files.mesh_parts import MeshPart
from model3d.geometry.plan.lines.enclosed import Area, areas_of, upright
from model3d.geometry.plan.lines.leftover import leftover

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from model3d.exchange.dxf.drawn_plan import Plan
    from model3d.exchange.dxf.footprints import Footprint
    from model3d.exchange.dxf.layer_table import LayerRow, LayerTable
    from model3d.exchange.dxf.room_outline import Place
    from model3d.geometry.frame import Corner
    from model3d.geometry.plan.lines.enclosed import Bounds

_INSIDE: Final = 0.05
"""Metres from a side of the room: the faces of its own walls come no further in."""
_ANNOTATION: Final = frozenset(
    {"anno", "annotation", "annotations", "dim", "dims", "dimension", "dimensions"}
    | {"text", "txt", "texts", "note", "notes", "keyn", "legn", "legend", "leader"}
    | {"tag", "tags", "symb", "iden", "revc", "revs", "rev", "cloud", "mark", "mrkr"}
    | {"hatch", "hatching", "patt", "pattern", "grid", "grids", "axis", "axes"}
    | {"defpoints", "nplt", "noplot", "ttlb", "title", "titleblock", "border", "sheet"}
    | {"viewport", "viewports", "vport", "vports", "logo", "north", "redline"}
)
"""Words in the names of layers that hold no things.

Source: from memory, the field codes of the US National CAD Standard; and the layer of
the points of dimensions, which is never printed. The rest is common practice.
"""


@dataclass(frozen=True, slots=True)
class Undecided:
    """What may stand in a room, of one layer.

    Attributes:
        layer: Where it is drawn.
        row: What the layer becomes, where the table says that.
        areas: What it covers at most.
        bottom, top: Heights, metres.
    """

    layer: str
    row: LayerRow | None
    areas: tuple[Area, ...]
    bottom: float
    top: float

    @property
    def told(self) -> str:
        """What a person must know of it."""
        if self.row is None or not self.row.becomes:
            what = "not in the table, and what is drawn there may stand in the room"
            right = f"say what layer {self.layer} becomes, or ignore"
        else:
            what = "open lines that are of no outline may stand in the room"
            right = "close them, or draw them on a layer to ignore"
        return f"{what}: open where it bears on anything; {right}"

    def part(self, name: str, origin: Corner) -> MeshPart:
        """Return its body for a mesh file, by its name there and from an origin."""
        bodies = [upright(area, self.bottom, self.top) for area in self.areas]
        points = np.concatenate([one.vertices for one in bodies]) - (*origin, 0.0)
        starts = np.cumsum([0, *(len(one.vertices) for one in bodies[:-1])])
        pairs = zip(bodies, starts, strict=True)
        faces = np.concatenate([one.faces + start for one, start in pairs])
        return MeshPart(name, points, faces, extras={"layer": self.layer})


def is_annotation(layer: str) -> bool:
    """Tell whether a layer's name says that no things are on it.

    >>> is_annotation("A-ANNO-DIMS"), is_annotation("Text_2.5"), is_annotation("A-FURN")
    (True, True, False)
    """
    return not _ANNOTATION.isdisjoint(re.split(r"[^a-z]+", layer.casefold()))


def undecided_in(
    plan: Plan, table: LayerTable, place: Place, known: Sequence[Footprint]
) -> list[Undecided]:
    """Return what may stand in a room though nobody says what it is, layer by layer.

    Args:
        plan: The plan.
        table: What its layers become.
        place: The room.
        known: What stands in it and about it.
    """
    lines, rings = _drawn(plan, table, Area(place.outline).bounds)
    found = []
    areas = [one.area for one in known]
    for layer in sorted({*lines, *rings}, key=lambda one: (one.casefold(), one)):
        row = table.row_of(layer)
        covered = leftover(
            place.outline,
            lines[layer],
            rings[layer],
            areas,
            reach=THICKEST_SINGLE,
            inside=_INSIDE,
        )
        if covered:
            top = place.height if row is None or row.top is None else row.top
            bottom = 0.0 if row is None else row.bottom
            found.append(Undecided(layer, row, tuple(covered), bottom, top))
    return found


def _drawn(
    plan: Plan, table: LayerTable, around: Bounds
) -> tuple[Mapping[str, list[tuple[Corner, ...]]], Mapping[str, list[Area]]]:
    """Return the lines and areas near a room of each layer that may be anything."""
    lines: defaultdict[str, list[tuple[Corner, ...]]] = defaultdict(list)
    rings: defaultdict[str, list[Area]] = defaultdict(list)
    drawn = [(one.layer, one.points, False) for one in plan.lines]
    drawn += [
        (one.layer, one.outer, True)
        for one in plan.rings
        if not (one.hatch or table.makes_things(one.layer))
    ]
    drawn += [(one.layer, one.points, one.closed) for one in plan.loose]
    for layer, points, closes in drawn:
        if not may_be(table, layer) or not Area(points).is_near(around, 0.0):
            continue
        if closes:
            rings[layer] += areas_of(points)
        else:
            lines[layer].append(points)
    return lines, rings


def may_be(table: LayerTable, layer: str) -> bool:
    """Tell whether what is drawn on a layer and not understood may be a thing."""
    row = table.row_of(layer)
    if row is None or not row.becomes:
        return not is_annotation(layer)
    return table.makes_things(layer)
