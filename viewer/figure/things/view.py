"""One item from above, from in front or from the side, with what is asked of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from viewer.figure.drafting import axes as looks
from viewer.figure.drafting.hidden_lines import hull
from viewer.figure.lettering.chains import Chain, chains, lanes, own_size
from viewer.figure.things.scenery import box_outline, piece
from viewer.figure.things.sight import ALL
from viewer.figure.things.subject import outline_of
from viewer.stage.bodies.dimensions import dimensions
from viewer.stage.layers import DIMENSIONS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from model3d.standing.placed import Front
    from viewer.figure.drafting.axes import Axes
    from viewer.figure.drafting.drawing import Spot
    from viewer.figure.drafting.hidden_lines import Points
    from viewer.figure.lettering.chains import Side
    from viewer.figure.things.scenery import SceneryPiece
    from viewer.figure.things.sight import Showing
    from viewer.figure.things.subject import Subject
    from viewer.stage.drawn import Dimension

Which = Literal["plan", "front", "side"]

VIEWS: Final[dict[Which, str]] = {
    "plan": "Plan",
    "front": "Front",
    "side": "From the right",
}
"""The views of an item and their titles."""

_MAKES: Final[dict[Which, Callable[[Front], Axes]]] = {
    "plan": lambda front: looks.above(front.frame),
    "front": lambda front: looks.front(front.frame),
    "side": lambda front: looks.side(front.frame),
}
_AROUND: Final = 0.3
"""Metres of the room that are shown around what matters."""
_BELOW: Final = 0.13
"""Metres of the floor that are shown where it is cut."""
_TO_THE_CEILING: Final = 0.9
"""Metres. A ceiling that is so near above what matters is shown."""
_BEST: Final[dict[str, Which]] = {
    "depth": "plan",
    "width": "plan",
    "gap": "plan",
    "spacing": "plan",
}
"""The view in which a size is told, where it is not told upright."""


@dataclass(frozen=True, slots=True, eq=False)
class Prospect:
    """A view that is planned, before its scale is known.

    Attributes:
        which: The view.
        axes: From where it looks.
        low, high: The window, metres of the view.
        own: The item as the view shows it.
        sides: Chains of dimensions in its margins.
        sight: What of the room it shows.
    """

    which: Which
    axes: Axes
    low: Spot
    high: Spot
    own: SceneryPiece
    sides: dict[Side, list[list[Chain]]] = field(default_factory=dict)
    sight: Showing = ALL


def prospects(
    subject: Subject, views: Iterable[Which], sight: Showing = ALL
) -> tuple[Prospect, ...]:
    """Plan views of an item; a size is told in one of them only."""
    wanted = tuple(views)
    told: set[tuple[int, str]] = set()
    sizes = [tuple(dimensions(one, 0, subject.units)) for one in subject.judgements]
    found = []
    for which in wanted:
        axes = _MAKES[which](subject.front)
        own = piece(subject.placed, axes, subject.arrangement.scene)
        low, high = _window(subject, axes, which, own)
        if sight.near is not None:
            low, high = _about(subject, own, which, sight.near)
        told_here = [
            *_sizes(subject, axes, which, _Asked(wanted, sizes, told)),
            *(_own(subject, own) if which == "front" else ()),
        ]
        if not sight.shows(DIMENSIONS):
            told_here = []
        if sight.near is not None:
            told_here = [one for one in told_here if lies_in(one, low, high)]
        sides = lanes(_once(told_here))
        found.append(Prospect(which, axes, low, high, own, sides, sight))
    return tuple(found)


def lies_in(chain: Chain, low: Spot, high: Spot) -> bool:
    """Tell whether all that a chain measures lies in a window."""
    ends = np.array([end for link in chain.links for end in (link.start, link.end)])
    return bool((ends >= low).all() and (ends <= high).all())


def _about(
    subject: Subject, own: SceneryPiece, which: Which, near: float
) -> tuple[Spot, Spot]:
    """Return the window that shows so much about an item; below the floor is ground."""
    (left, bottom), (right, top) = (own.low - near).tolist(), (own.high + near).tolist()
    if which != "plan":
        bottom = max(bottom, min(float(own.low[1]), 0.0) - _BELOW)
        height = subject.arrangement.shell.height
        if height is not None:
            top = max(min(top, height + _BELOW), float(own.high[1]))
    return (left, bottom), (right, top)


@dataclass(frozen=True, slots=True, eq=False)
class _Asked:
    """What is to be told of an item's judgements.

    Attributes:
        wanted: All views there will be.
        sizes: The dimension lines of each judgement.
        told: Which of them were told in a view before: judgement and size.
    """

    wanted: tuple[Which, ...]
    sizes: Sequence[Sequence[Dimension]]
    told: set[tuple[int, str]]


def _once(found: Iterable[Chain]) -> Iterator[Chain]:
    """Leave out chains that say the same of the same place."""
    seen: set[tuple[object, ...]] = set()
    for one in found:
        key = (one.upright, *(link.lines for link in one.links), *_rounded(one.span))
        if key not in seen:
            seen.add(key)
            yield one


def _rounded(span: tuple[float, float]) -> tuple[float, float]:
    return round(span[0], 4), round(span[1], 4)


def _window(
    subject: Subject, axes: Axes, which: Which, own: SceneryPiece
) -> tuple[Spot, Spot]:
    parts = [own.outline]
    parts += [outline_of(box, axes) for _, box in subject.boxes()]
    parts += [hull(axes.seen(points)[:, :2]) for _, points in subject.in_the_way()]
    parts += [swept(leaf, axes) for leaf, _, _ in subject.leaves]
    points = np.concatenate(parts)
    low, high = points.min(axis=0) - _AROUND, points.max(axis=0) + _AROUND
    if which != "plan":
        low[1] = min(float(points[:, 1].min()), 0.0) - _BELOW
        height = subject.arrangement.shell.height
        top = float(points[:, 1].max())
        if height is not None and height - top < _TO_THE_CEILING:
            high[1] = max(height + _BELOW, top + _AROUND / 2)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def swept(leaf: object, axes: Axes) -> Points:
    """Return the outline of what a leaf sweeps, in a view, metres."""
    frame, radius = leaf.frame, leaf.radius  # type: ignore[attr-defined]
    ends = np.array([(0.0, 0.0, 0.0), (radius, 0.0, 0.0), (0.0, radius, 0.0)])
    ends[:, 2] = leaf.bottom  # type: ignore[attr-defined]
    return box_outline(frame.world(ends), axes)


def _sizes(
    subject: Subject, axes: Axes, which: Which, asked: _Asked
) -> Iterator[Chain]:
    item = subject.placed.item
    tiers = item.tiers if item else None
    for number, judgement in enumerate(subject.judgements):
        sizes = asked.sizes[number]
        for chain in chains(judgement, subject.units, axes, sizes):
            is_short = any(link.missing for link in chain.links)
            if tiers and chain.name == "height" and not is_short:
                continue  # beside the chains of tiers its labelled level has to do
            best = _BEST.get(chain.name)
            if best in asked.wanted and best != which:
                continue
            if (number, chain.name) not in asked.told:
                asked.told.add((number, chain.name))
                yield chain


def _own(subject: Subject, own: SceneryPiece) -> Iterator[Chain]:
    """Yield the item's own sizes from in front: its width, its heights."""
    (left, bottom), (right, top) = own.low.tolist(), own.high.tolist()
    units = subject.units
    width = own_size((left, bottom), (right, bottom), units)
    yield Chain("own width", "bottom", (width,))
    space = subject.space()
    floor = space.low[2] if space else 0.0
    links = [own_size((right, bottom), (right, top), units)]
    if bottom - floor > _STANDS:
        links.insert(0, own_size((right, floor), (right, bottom), units))
    yield Chain("own height", "right", tuple(links))


_STANDS: Final = 0.001
"""Metres. What is nearer to the floor stands on it."""
