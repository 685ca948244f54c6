"""Draws a planned view of an item: what stands there, what is asked and missing."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.figure.drafting import pens
from viewer.figure.drafting.hidden_lines import hull
from viewer.figure.item.names import box_in, name_subject, name_things
from viewer.figure.lettering.chains import draw_chains
from viewer.figure.things.leaf import draw_leaves
from viewer.figure.things.level_lines import draw_levels
from viewer.figure.things.masonry import crossings, plan_cuts, section_cuts
from viewer.figure.things.person import (
    from_above,
    from_the_back,
    from_the_side,
    head_from_above,
)
from viewer.figure.things.scenery import pieces, visible
from viewer.figure.things.subject import outline_of
from viewer.figure.things.view import swept
from viewer.stage.layers import HEAD_HEIGHT, INTRUSIONS, LABELS, LEAVES, ROOM

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.placed import Placed
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.figure.drafting.pane import Pane
    from viewer.figure.drafting.paper import Paper
    from viewer.figure.things.scenery import SceneryPiece
    from viewer.figure.things.subject import Subject
    from viewer.figure.things.view import Prospect

_TOUCH: Final = 0.001
"""Metres. What is nearer to a plane stands at it."""
_BEHIND: Final = 0.05
"""Metres behind an item that its elevation still shows."""
_FRONT: Final = 1.5
"""Millimetres of paper. Depth of the hatch of a live front."""
_MOST_COVERED: Final = 0.5
"""Share of an item's front; what is in the way and covers more is not hatched there."""
_STANDS: Final = 0.38
"""Metres from the front to the middle of the person who works there."""


def draw_item(paper: Paper, pane: Pane, prospect: Prospect, subject: Subject) -> None:
    """Draw a view of an item into its window."""
    own, sight = prospect.own, prospect.sight
    if sight.shows(ROOM):
        _masonry(paper, pane, prospect, subject)
        _person(paper, pane, prospect, subject)
    shown = [*_things(paper, pane, prospect, subject, own)]
    pane.lines(paper, pens.THING, own.fine)
    pane.lines(paper, pens.SUBJECT, own.edges)
    near = [subject.placed, *(one.placed for one in shown)]
    _live_fronts(paper, pane, prospect, near)
    for judgement, box in subject.boxes():
        if sight.shows_space(judgement):
            pane.outline(paper, pens.SPACE, outline_of(box, prospect.axes))
    if sight.shows(INTRUSIONS):
        _in_the_way(paper, pane, prospect, subject, own)
    if sight.shows(LEAVES) and _hold_leaves(pane, prospect, subject):
        draw_leaves(paper, pane, subject, prospect.which)
    if prospect.which != "plan" and sight.shows(HEAD_HEIGHT):
        draw_levels(paper, pane, subject)
    draw_chains(paper, pane, prospect.sides)
    if sight.shows(LABELS):
        _names(paper, pane, prospect, subject, shown)


def _hold_leaves(pane: Pane, prospect: Prospect, subject: Subject) -> bool:
    """Tell whether a view has room for what the leaves sweep."""
    if prospect.sight.near is None or prospect.which != "plan":
        return True
    ends = [swept(leaf, prospect.axes) for leaf, _, _ in subject.leaves]
    return all(pane.holds((x, y)) for one in ends for x, y in one.tolist())


def _names(
    paper: Paper,
    pane: Pane,
    prospect: Prospect,
    subject: Subject,
    shown: list[SceneryPiece],
) -> None:
    own = prospect.own
    wrong = {item for item, _ in subject.in_the_way()}
    solid = [
        own,
        *(one for one in shown if _layer(one, prospect, subject, own) == pens.THING),
    ]
    # Nor may a name stand where work is done that is not of what stands there.
    others = [box_in(pane, one) for one in solid]
    for _, box in subject.boxes():
        ends = pane.spots(outline_of(box, prospect.axes))
        low, high = np.min(ends, axis=0).tolist(), np.max(ends, axis=0).tolist()
        others.append((low[0], low[1], high[0], high[1]))
    name_things(
        paper, pane, [one for one in shown if one.placed.id in wrong], others, wrong
    )
    name_subject(paper, pane, prospect.which, subject, own, others)
    rest = [one for one in shown if one.placed.id not in wrong]
    above = own.near - _TOUCH if prospect.which == "plan" else float("inf")
    name_things(paper, pane, rest, others, above=above)


def _masonry(paper: Paper, pane: Pane, prospect: Prospect, subject: Subject) -> None:
    room = subject.arrangement
    if prospect.which == "plan":
        for cut in plan_cuts(room):
            three = np.column_stack([cut.outline, np.zeros(len(cut.outline))])
            outline = prospect.axes.seen(three)[:, :2]
            pane.hatch(paper, cut.layer, outline)
            pane.outline(paper, pens.WALL, outline)
        return
    frame, space = subject.front.frame, subject.space()
    ahead = min(0.5, space.high[1] / 2) if space else 0.3
    middle = subject.front.width / 2
    point = frame.to_plan(middle, ahead if prospect.which == "front" else -_TOUCH)
    top = room.shell.height
    high = prospect.high[1] + 1.0 if top is None else top
    for sign, met in zip(
        (-1, 1), crossings(room, point, prospect.axes.right), strict=True
    ):
        if met is None:
            continue
        way = prospect.axes.right
        face = (point[0] + met.away * way[0], point[1] + met.away * way[1], 0.0)
        for cut in section_cuts(met, room, prospect.axes.spot(face)[0], sign, high):
            pane.hatch(paper, cut.layer, cut.outline)
            pane.outline(paper, pens.WALL, cut.outline)


def _things(
    paper: Paper, pane: Pane, prospect: Prospect, subject: Subject, own: SceneryPiece
) -> Iterator[SceneryPiece]:
    """Draw everything else that the view shows, and yield it."""
    seen: list[SceneryPiece] = []
    window = prospect.low, prospect.high
    room, name = subject.arrangement, subject.placed.id
    span = _span(prospect, subject, own)
    for one in pieces(room, prospect.axes, window, name, span):
        if not prospect.sight.shows_thing(one.placed):
            continue
        layer = _layer(one, prospect, subject, own)
        if layer == pens.THING:
            seen.append(one)
        else:
            pane.lines(paper, layer, one.edges)
            yield one
    found = [*visible(seen, [own.outline])]
    if found:
        pane.lines(paper, pens.THING, np.concatenate([edges for _, edges in found]))
    yield from (one for one, edges in found if len(edges))


def _span(
    prospect: Prospect, subject: Subject, own: SceneryPiece
) -> tuple[float, float]:
    """Return from where to where towards the reader a view shows things, metres."""
    boxes = [box for _, box in subject.boxes()]
    match prospect.which:
        case "plan":
            return -math.inf, math.inf
        case "front":
            reach = max([0.0, *(box.high[1] for box in boxes)])
            return own.far - _BEHIND, reach - _TOUCH
        case _:
            left = min([own.far, *(box.low[0] for box in boxes)])
            right = max([own.near, *(box.high[0] for box in boxes)])
            return left + _TOUCH, right - _TOUCH


def _layer(
    one: SceneryPiece, prospect: Prospect, subject: Subject, own: SceneryPiece
) -> str:
    """Return the layer of a thing in a view."""
    space = subject.space()
    covers = bool((one.high > own.low).all() and (one.low < own.high).all())
    match prospect.which:
        case "plan":
            head = space.high[2] if space else own.near
            above = one.far >= own.near - _TOUCH and covers
            return pens.OVERHEAD if above or one.far >= head - _TOUCH else pens.THING
        case "front":
            return pens.AHEAD if one.far >= -_TOUCH else pens.THING
        case _:
            return pens.AHEAD if one.far >= own.near - _TOUCH and covers else pens.THING


def _live_fronts(
    paper: Paper, pane: Pane, prospect: Prospect, near: list[Placed]
) -> None:
    """Hatch the fronts that people work at while they are live."""
    if prospect.which == "front":
        return
    deep = _FRONT * pane.scale / 1000
    for placed in near if prospect.which == "plan" else near[:1]:
        front = placed.front
        if not placed.live or front is None:
            continue
        deep = min(deep, front.depth / 2)
        ends = np.array(
            [
                (x, y, z)
                for x in (0.0, front.width)
                for y in (-deep, 0.0)
                for z in (front.bottom, front.top)
            ]
        )
        outline = hull(prospect.axes.seen(front.frame.world(ends))[:, :2])
        pane.hatch(paper, pens.LIVE, outline)


def _in_the_way(
    paper: Paper, pane: Pane, prospect: Prospect, subject: Subject, own: SceneryPiece
) -> None:
    drawn: set[bytes] = set()
    for item, points in subject.in_the_way():
        if item == subject.placed.id and prospect.which == "plan":
            continue  # a shelf over its own cells: from above it would hide the item
        outline = hull(prospect.axes.seen(points)[:, :2])
        key = np.round(outline, 3).tobytes()
        if key in drawn or len(outline) < 3:  # noqa: PLR2004 - no surface
            continue
        drawn.add(key)
        if prospect.which != "front" or _covered(outline, own) < _MOST_COVERED:
            pane.hatch(paper, pens.IN_THE_WAY, outline)
        pane.outline(paper, pens.IN_THE_WAY, outline)


def _covered(outline: Points, own: SceneryPiece) -> float:
    """Return how much of an item a surface covers in a view, about."""
    low = np.maximum(outline.min(axis=0), own.low)
    high = np.minimum(outline.max(axis=0), own.high)
    return float(np.prod(np.maximum(high - low, 0.0)) / np.prod(own.high - own.low))


def _person(paper: Paper, pane: Pane, prospect: Prospect, subject: Subject) -> None:
    """Draw a person who works at the item, beside what is in the way."""
    space = subject.space()
    if space is None or subject.placed.item is None:
        return
    stands = min(_STANDS, space.high[1] / 2)
    place = _place(subject, space.low[0], space.high[0], stands)
    if place is None:
        return
    x, y = space.frame.to_plan(place, stands)
    here = prospect.axes.spot((x, y, space.low[2]))
    if space.high[2] - space.low[2] < _TALLEST:
        return
    seen = _SEEN[prospect.which](here[0], here[1])
    near = prospect.sight.near
    if near is not None and not all(pane.holds((x, y)) for x, y in seen.tolist()):
        return  # a part of a person tells nothing
    pane.area(paper, pens.PERSON, seen)
    if prospect.which == "plan":
        pane.outline(paper, pens.PERSON, seen)
        pane.outline(paper, pens.PERSON, head_from_above(here[0], here[1]))


_SEEN: Final = {"plan": from_above, "front": from_the_back, "side": from_the_side}
_TALLEST: Final = 1.75
_WIDE: Final = 0.27
"""Metres. Half of what a person takes across."""


def _place(subject: Subject, left: float, right: float, stands: float) -> float | None:
    """Return where across the space a person finds room, or None."""
    frame = subject.front.frame
    taken = []
    for _, points in subject.in_the_way():
        seen = frame.local(points)
        (_, near, low), (_, far, high) = seen.min(axis=0), seen.max(axis=0)
        is_ahead = near < stands + _WIDE and far > stands - _WIDE
        if is_ahead and low < _TALLEST and high > _BEHIND:
            taken.append((float(seen[:, 0].min()), float(seen[:, 0].max())))
    low, high = left + _WIDE, right - _WIDE
    middle = subject.front.width / 2
    tried = [middle, *(middle + step * (high - low) / 8 for step in _STEPS)]
    for place in tried:
        if low <= place <= high and all(
            place + _WIDE < a or place - _WIDE > b for a, b in taken
        ):
            return place
    return None


_STEPS: Final = (1, -1, 2, -2, 3, -3, 4, -4)
