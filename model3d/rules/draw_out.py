"""Room to draw a unit out.

Applies to: every item that says how far a unit comes out of its front (draw_out).

Measures: from the front outwards as far as the item says, over the item's own width
and height.

Breach: any solid there, by more than contact.

Exceptions: none. The length is the maker's: no code prints one, and where none is
stated nothing is asked for.

Source: NEC 110.26, 110.32; 29 CFR 1910.303(g)(1), (h)(3); 29 CFR 1926.403(i)(1),
(j)(3): space enough for safe operation and maintenance.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.judging.requirement import requirement_of
from model3d.judging.space import ANY, Space, Stretch
from model3d.working import is_high_voltage
from model3d.working.front import front_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("draw-out",)
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Space]:
    """Ask for the room that a unit needs which is drawn out."""
    entry = situation.book.entry(TABLES[0])
    key = "high_voltage_required" if is_high_voltage(item, situation) else "required"
    length = item.item.draw_out if item.item else None
    if length is None or item.front is None or not entry.has(key):
        return
    front, depth = front_of(item), situation.scene.metres(length)

    def limit(placed: Placed) -> Stretch | None:
        may = placed is item or placed.kind.hole or placed.id == "floor"
        return None if may else Stretch(0.0, depth)

    yield Space(
        requirement=REQUIREMENT,
        subject=item.id,
        frame=front.frame,
        width=front.width,
        depth=depth,
        bottom=front.bottom,
        top=front.top,
        limit=limit,
        required={"depth": depth},
        printed={"depth": (situation.stated(depth),)},
        measures={"depth": "out"},
        citations={ANY: entry.cite(key)},
        unread={ANY: unread_rules(entry, key)},
        clear="There is room to draw the unit out.",
    )
