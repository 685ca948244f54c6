"""What is drawn of a room in a plan: walls, doors, what stands, and its spaces."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from model3d.judging.results import ClearBox
from viewer.figure.drafting import pens
from viewer.figure.drafting.hidden_lines import hull
from viewer.figure.plans.names import is_overhead
from viewer.figure.things.leaf import turned_leaf
from viewer.figure.things.masonry import plan_cuts
from viewer.figure.things.room_leaves import room_leaves
from viewer.figure.things.scenery import SceneryPiece, pieces, visible
from viewer.figure.things.sight import ALL
from viewer.figure.things.subject import arrangement_of, outline_of
from viewer.figure.things.view import swept
from viewer.stage.layers import INTRUSIONS, ROOM

if TYPE_CHECKING:
    from model3d import Report
    from model3d.standing.arrangement import Arrangement
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.things.sight import Showing


def draw_room(
    paper: Paper,
    pane: Pane,
    report: Report,
    *,
    spaces: bool = True,
    sight: Showing = ALL,
) -> tuple[SceneryPiece, ...]:
    """Draw walls, doors and what stands in a room, and return the things drawn.

    Args:
        paper: Where it is drawn.
        pane: The plan.
        report: What the check answered.
        spaces: Draw the working spaces, and what is in the way.
        sight: What of the room is shown.
    """
    arrangement = arrangement_of(report)
    if sight.shows(ROOM):
        _shell(paper, pane, arrangement, sight)
    found = pieces(arrangement, pane.axes, (pane.low, pane.high))
    found = [one for one in found if sight.shows_thing(one.placed)]
    lower = [one for one in found if not is_overhead(one)]
    for one, edges in visible(lower):
        pane.lines(paper, pens.SUBJECT if one.placed.live else pens.THING, edges)
    for one in found:
        if is_overhead(one):
            pane.lines(paper, pens.OVERHEAD, one.edges)
    _live_fronts(paper, pane, arrangement, sight)
    if spaces:
        _spaces(paper, pane, report, sight)
    return tuple(found)


def _shell(paper: Paper, pane: Pane, arrangement: Arrangement, sight: Showing) -> None:
    """Draw walls, and the doors in them."""
    for cut in plan_cuts(arrangement):
        outline = pane.axes.seen(
            np.column_stack([cut.outline, np.zeros(len(cut.outline))])
        )[:, :2]
        pane.hatch(paper, cut.layer, outline)
        pane.outline(paper, pens.WALL, outline)
    for leaf in room_leaves(arrangement):
        ends = swept(leaf, pane.axes).tolist()
        if sight.near is None or all(pane.holds((x, y)) for x, y in ends):
            turned_leaf(paper, pane, leaf, leaf.opens_to, None, words=False)


def _live_fronts(
    paper: Paper, pane: Pane, arrangement: Arrangement, sight: Showing = ALL
) -> None:
    """Hatch the fronts that people work at while they are live."""
    deep = 1.2 * pane.scale / 1000
    for placed in arrangement.items.values():
        front = placed.front
        if not placed.live or front is None or not sight.shows_thing(placed):
            continue
        back = -min(deep, front.depth / 2)
        ends = np.array(
            [
                (0.0, back, 0.0),
                (front.width, back, 0.0),
                (front.width, 0.0, 0.0),
                (0.0, 0.0, 0.0),
            ]
        )
        pane.hatch(
            paper, pens.LIVE, hull(pane.axes.seen(front.frame.world(ends))[:, :2])
        )


def _spaces(paper: Paper, pane: Pane, report: Report, sight: Showing) -> None:
    drawn: set[bytes] = set()
    for one in report.judgements:
        if one.requirement == "working-space" and sight.shows_space(one):
            for shape in one.shapes:
                if isinstance(shape, ClearBox):
                    pane.outline(paper, pens.SPACE, outline_of(shape, pane.axes))
        if one.verdict != "not-met" or not sight.shows(INTRUSIONS):
            continue
        for hit in one.intrusions:
            if hit.item == one.subject:
                continue  # a shelf over its own cells: from above it would hide both
            points = np.array([hit.low, hit.high])
            if hit.body is not None and len(hit.body.vertices):
                points = hit.body.vertices
            outline = hull(pane.axes.seen(points)[:, :2])
            key = np.round(outline, 3).tobytes()
            if len(outline) > 2 and key not in drawn:  # noqa: PLR2004 - a surface
                drawn.add(key)
                pane.hatch(paper, pens.IN_THE_WAY, outline)
                pane.outline(paper, pens.IN_THE_WAY, outline)
