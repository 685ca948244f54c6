"""The cells and shelves of a battery rack as bodies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.geometry.solid import Box

if TYPE_CHECKING:
    from model3d.geometry.frame import Frame
    from model3d.scene.item import Tier
    from model3d.scene.placed import Placed
    from model3d.scene.scene import Scene


@dataclass(frozen=True, slots=True)
class CellRow:
    """One tier of cells, side by side and centred on the rack.

    Attributes:
        frame: Origin at the row's left back corner.
        width, depth: Of the whole row, metres.
        shelf: World height of the shelf's upper face.
        top: World height of the cells' upper faces.
        highest: World height of the highest point: the terminals.
        cells: How many.
    """

    frame: Frame
    width: float
    depth: float
    shelf: float
    top: float
    highest: float
    cells: int

    def body(self) -> Box:
        """Return the row with its terminals as one box."""
        return Box(self.frame, self.width, self.depth, self.shelf, self.highest)


def cell_rows(rack: Placed, scene: Scene) -> tuple[CellRow, ...]:
    """Return the tiers of a rack, the lowest first."""
    if rack.item is None or not rack.item.tiers:
        return ()
    return tuple(_row(rack, tier, scene) for tier in rack.item.tiers)


def shelf_body(rack: Placed, row: CellRow, thickness: float) -> Box:
    """Return the shelf below a row, over the rack's whole footprint."""
    whole = _front_box(rack)
    return Box(whole.frame, whole.width, whole.depth, row.shelf - thickness, row.shelf)


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
    shelf = whole.bottom + scene.metres(tier.shelf)
    return CellRow(
        frame=whole.frame.moved((whole.width - width) / 2, (whole.depth - depth) / 2),
        width=width,
        depth=depth,
        shelf=shelf,
        top=shelf + height,
        highest=shelf + height + scene.metres(tier.post),
        cells=tier.cells,
    )
