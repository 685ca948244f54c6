"""A personnel door's own leaf, in the way of who leaves by that door."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.egress.doors.exits import WIDEST, left_over
from model3d.geometry.plan import flat
from model3d.geometry.sweep import QUARTER
from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.egress.doors.door_leaf import Hanging
    from model3d.egress.doors.exits import Exit, Plan


def is_taken(
    way_out: Exit, hanging: Hanging, tree: flat.STRtree, walls: Iterable[Plan]
) -> bool:
    """Tell whether a door that hangs one way takes anything from who leaves by it.

    Who comes as wide as the door can be goes round the leaf at a right angle where
    nothing else is as near to it as that.

    Args:
        way_out: The door.
        hanging: How it hangs.
        tree: What stands on the floor.
        walls: Of the room, by name, as lines without their openings.
    """
    plans = [plan for _, plan in left_over(way_out, hanging, QUARTER)]
    inside = len(hanging.leaves) if hanging.opens == "in" else 0
    if len(plans) > inside:
        return True
    wide = min(hanging.clear, WIDEST)
    # A leaf may touch its own wall, and the passage.
    own = way_out.wall, way_out.id
    others = [line for name, line in walls if name not in own]
    return any(
        len(tree.query(plan, predicate="dwithin", distance=wide)) > 0
        or flat.dwithin(others, plan, wide).any()
        for plan in plans
    )


def reach_of(way_out: Exit, exits: Iterable[Exit]) -> flat.Geometry:
    """Return an area in which all is that a floor ``past`` a door has besides.

    That is its leaf at any angle, what the leaf takes of the passage, and the other
    doors, which are shut.

    Args:
        way_out: The door.
        exits: All exits of the floor.
    """
    reach = [way_out.passage.buffer(TOUCH)]
    for hanging in way_out.hangings:
        for leaf in hanging.leaves:
            hinge = flat.Point(leaf.frame.x, leaf.frame.y)
            # A many-sided round lies inside the round.
            reach.append(hinge.buffer(1.01 * leaf.width + TOUCH))
    others = [one.gap for one in exits if one.gap and one is not way_out]
    return flat.union_all([*reach, *flat.buffer(others, TOUCH)])
