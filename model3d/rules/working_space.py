"""Working space in front of equipment.

Applies to: every item that people work at while it is energised.

Measures: a box in front of the item. Depth from the front outwards, by voltage to
ground and by what lies opposite: nothing at all may be nearer than the depth of
condition 1, no grounded surface nearer than that of condition 2, no other live item
that faces this one nearer than that of condition 3. Width: the greater of the figure
and the item's own; the box may slide sideways as long as it covers the item. Height:
from the floor in front to the greater of the figure and the item's top.

Breach: any solid in the box, by more than contact.

Exceptions: associated items above or below may reach a little past the front; meters
in meter sockets any distance; in existing dwellings the structure overhead does not
count for small service equipment and panelboards; at very low voltage a smaller space
may be permitted; facing dead-front equipment replaced in an existing building may
keep the depth of condition 2 under written procedures, which must be stated; in
places of limited access the space is only as high as the item, and beams and ceiling
panels may cross it. Figures of the scene's own stand in for the printed ones; where
they are less and only they are clear, a person must say who permits it.

Source: NEC 110.26(A)(1) to (4), 110.32, Table 110.34(A); 29 CFR 1910.303(g)(1)(i),
(g)(1)(vi), (h)(3), Tables S-1, S-2; 29 CFR 1926.403(i), (j), Tables K-1, K-2.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.working.judged import is_clear, judge_working_space

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = (
    "working-space-depth",
    "working-space-width",
    "working-space-height",
    "associated-reach",
    "high-voltage-reach",
    "meters-in-sockets",
    "existing-dwelling",
    "existing-building",
    "low-voltage-permission",
    "limited-access",
    "units-of-measure",
    "high-voltage-depth",
    "high-voltage-width",
    "high-voltage-height",
)


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the working space of an item that needs one."""
    if item.live:
        yield judge_working_space(item, situation)


def is_met(item: Placed, situation: Situation) -> bool:
    """Tell whether the working space of an item is met for certain.

    Nothing is measured and nothing is told of it, which is most of the work. False says
    nothing: ask ``claims``.
    """
    return not item.live or is_clear(item, situation)
