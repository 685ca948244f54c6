"""Battery cells that do not fit under what is drawn above them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.bodies.solid import Box
from model3d.geometry.overlap.depth import depth
from model3d.standing.racks import cell_rows
from model3d.wording.said import say
from model3d.working.drawn.contradiction import Contradiction, slack

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed
    from model3d.standing.racks import CellRow


def cells_too_high(rack: Placed, situation: Situation) -> Iterator[Contradiction]:
    """Yield how far the cells of each tier reach into what is above them."""
    written = rack.item
    if written is None or not written.tiers:
        return
    scene, tolerance = situation.scene, slack(situation)
    rows = cell_rows(rack, scene)
    thick = scene.metres(written.shelf_thickness or 0.0)
    closed = rack.kind.cabinet or written.open is False
    for number, row in enumerate(rows):
        limits = [
            (upper.shelf - thick, f"the shelf of tier {place + 1}")
            for place, upper in enumerate(rows)
            if place > number and _is_over(upper, row)
        ]
        if closed:
            limits.append((rack.top, "the top of its enclosure"))
        limit, name = min(limits, default=(row.highest, ""))
        much = row.highest - limit
        if much > tolerance:
            words = say("reach {} into {}", situation.length(much), name)
            told = say("has cells on tier {} that {}", f"{number + 1}", words)
            yield Contradiction(told, "overlap", much)


def _is_over(upper: CellRow, row: CellRow) -> bool:
    """Tell whether the cells of a tier stand over those of another, in plan."""
    flat = [Box(one.frame, one.width, one.depth, 0.0, 1.0) for one in (upper, row)]
    return depth(*flat) > 0
