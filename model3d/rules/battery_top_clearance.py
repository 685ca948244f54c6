"""Clear height above battery cells.

Applies to: every tier of cells on a battery rack or in a battery cabinet.

Measures: over the footprint of the row of cells, from its highest point (the
terminals) up to the next shelf, row, ceiling or other solid. The battery maker's
figure is required; the code prints none.

Breach: any solid nearer than the maker's figure.

Exceptions: none. Without the maker's figure the judgement stays open, with the height
that was measured.

Source: NEC 480.9(C) and (D) in 2014, 480.10(C) and (D) since; 110.26(A)(3) for open
racks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.results import Judgement
from model3d.scene.placed import Placed
from model3d.scene.racks import CellRow, cell_rows, cover_body, shelf_body
from model3d.spaces import ANY, Space, Stretch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.situation import Situation

TABLES: Final = ("battery-top-clearance",)
REQUIREMENT: Final = "battery-top-clearance"
_COVER: Final = 0.001
"""Metres. The thickness given to an enclosure's top: any will do, cells stay below."""


def claims(item: Placed, situation: Situation) -> Iterator[Space | Judgement]:
    """Ask for the maker's clearance above every tier."""
    entry = situation.book.entry(TABLES[0])
    written = item.item
    if item.kind.name not in _KINDS or not entry.given or written is None:
        return
    rows = cell_rows(item, situation.scene)
    if not rows and item.kind.name == "battery-rack":
        yield Judgement(
            REQUIREMENT,
            item.id,
            "open",
            entry.citation,
            f"Say where the cells of {item.id} stand (tiers).",
        )
    metres = situation.scene.metres
    asked = None if written.top_clearance is None else metres(written.top_clearance)
    thick = None if written.shelf_thickness is None else metres(written.shelf_thickness)
    for number, row in enumerate(rows):
        above = rows[number + 1 :]
        question = ""
        if above and thick is None:
            question = f"Say how thick the shelves of {item.id} are (shelf_thickness)."
        if asked is None:
            question = (
                f"Say the battery maker's clearance above the cells of {item.id} "
                "(top_clearance): the code prints no figure."
            )
        yield Space(
            requirement=REQUIREMENT,
            subject=item.id,
            frame=row.frame,
            width=row.width,
            depth=row.depth,
            bottom=row.highest,
            top=row.highest + (asked or 0.0),
            limit=_AllBut(item, row.depth),
            required={} if asked is None else {"clearance": asked},
            measures={"clearance": "up"},
            citations={ANY: entry.citation},
            question=question,
            clear="The height above the cells is clear.",
            words={"up": "above the cells"},
            unread={},
            tier=number,
            extra=tuple(_own_parts(item, above, thick)),
        )


_KINDS: Final = ("battery-rack", "battery-cabinet")


class _AllBut:
    """Every solid must keep out, only the rack's own envelope does not count."""

    def __init__(self, rack: Placed, depth: float) -> None:
        self._rack = rack
        self._stretch = Stretch(0.0, depth)

    def __call__(self, placed: Placed) -> Stretch | None:
        return None if placed is self._rack else self._stretch


def _own_parts(
    rack: Placed, above: tuple[CellRow, ...], thick: float | None
) -> Iterator[Placed]:
    """Yield the rack's own parts that may be above a tier."""
    for row in above:
        yield _part(rack, row)
        if thick is not None:
            yield Placed(rack.id, rack.kind, None, shelf_body(rack, row, thick))
    enclosed = rack.kind.name == "battery-cabinet" or (
        rack.item is not None and rack.item.open is False
    )
    if enclosed:
        yield Placed(rack.id, rack.kind, None, cover_body(rack, _COVER))


def _part(rack: Placed, row: CellRow) -> Placed:
    return Placed(rack.id, rack.kind, None, row.body())
