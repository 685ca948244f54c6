"""The cells and shelves of a battery rack as bodies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from model3d.geometry.bodies.solid import Box
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.geometry.frame import Frame
    from model3d.scene.parts.item import Tier
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class CellRow:
    """One tier of cells, in one row or several behind one another.

    Attributes:
        frame: Origin at the left back corner of the cells.
        width, depth: Of all cells together, metres.
        shelf: World height of the shelf's upper face.
        top: World height of the cells' upper faces.
        highest: World height of the highest point: the terminals.
        cells: How many side by side.
        rows: How many rows behind one another.
        edge: How far the shelf's front edge is behind the rack's front, metres.
        back: How far the cells' back is ahead of the rack's back, metres.
        terminals: Where the cells' terminals are.
    """

    frame: Frame
    width: float
    depth: float
    shelf: float
    top: float
    highest: float
    cells: int
    rows: int
    edge: float
    back: float
    terminals: Literal["top", "front"]

    def body(self) -> Box:
        """Return the cells with their terminals as one box."""
        return Box(self.frame, self.width, self.depth, self.shelf, self.highest)


def cell_rows(rack: Placed, scene: Scene) -> tuple[CellRow, ...]:
    """Return the tiers of a rack, the lowest first."""
    if rack.item is None or not rack.item.tiers:
        return ()
    return tuple(_row(rack, tier, scene) for tier in rack.item.tiers)


def shelf_body(
    rack: Placed, row: CellRow, rows: tuple[CellRow, ...], thickness: float
) -> Box:
    """Return the shelf below a row, over the rack's whole footprint.

    On a stepped rack it begins where its cells do, and ends at the rack's back, or
    before the cells of a lower step behind it that stand up through its height.
    """
    whole = _front_box(rack)
    end = shelf_end(row, rows, thickness)
    frame, deep = whole.frame.moved(0.0, end), whole.depth - row.edge - end
    return Box(frame, whole.width, deep, row.shelf - thickness, row.shelf)


def shelf_end(row: CellRow, rows: tuple[CellRow, ...], thickness: float) -> float:
    """Return how far a row's shelf ends ahead of the rack's back, metres."""
    behind = (
        other.back + other.depth
        for other in rows
        if other.shelf < row.shelf < other.highest + thickness
    )
    return max((end for end in behind if end <= row.back + TOUCH), default=0.0)


def cover_body(rack: Placed, thickness: float) -> Box:
    """Return the top of an enclosed rack or cabinet."""
    whole = _front_box(rack)
    return Box(whole.frame, whole.width, whole.depth, whole.top, whole.top + thickness)


def _front_box(rack: Placed) -> Box:
    if rack.front is None:
        msg = f"{rack.id} has no front"
        raise ValueError(msg)
    return rack.front.box()


def _row(rack: Placed, tier: Tier, scene: Scene) -> CellRow:
    whole = _front_box(rack)
    width, depth, height = (scene.metres(length) for length in tier.cell)
    width *= tier.cells
    depth *= tier.rows
    edge = 0.0 if tier.offset is None else scene.metres(tier.offset)
    left, back = (whole.width - width) / 2, whole.depth - edge - depth
    if tier.offset is None:
        back /= 2
    shelf = whole.bottom + scene.metres(tier.shelf)
    stated = tier.terminals or (rack.item.terminals if rack.item else None)
    return CellRow(
        frame=whole.frame.moved(left, back),
        width=width,
        depth=depth,
        shelf=shelf,
        top=shelf + height,
        highest=shelf + height + scene.metres(tier.post),
        cells=tier.cells,
        rows=tier.rows,
        edge=edge,
        back=back,
        terminals=stated or "top",
    )
