"""Runs: pipes, ducts, conduits and trays, which pass through much and join."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.geometry.straight_lines import distance, from_point

if TYPE_CHECKING:
    from model3d.geometry.straight_lines import Line
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class Run:
    """The middle line of a run.

    Attributes:
        line: From end to end, metres.
        half: Half of its thickness, metres; of a rectangle the greater half.
        round: Whether it is round.
    """

    line: Line
    half: float
    round: bool


def is_run(placed: Placed) -> bool:
    """Tell whether an item is a run."""
    if placed.kind.run:
        return True
    drawn = placed.item is not None and placed.item.from_ is not None
    return drawn and placed.kind.run_if_drawn


def run_of(placed: Placed, scene: Scene) -> Run:
    """Return the middle line of a run; of one drawn as a box the longest way."""
    item = placed.item
    metres = scene.metres
    if item is not None and item.from_ is not None and item.to is not None:
        (a, b, c), (d, e, f) = item.from_, item.to
        line = (metres(a), metres(b), metres(c)), (metres(d), metres(e), metres(f))
        if item.diameter is not None:
            return Run(line, metres(item.diameter) / 2, round=True)
        return Run(line, max(map(metres, item.section or (0.0,))) / 2, round=False)
    return _along_box(placed)


def _along_box(placed: Placed) -> Run:
    low, high = placed.solid.bounds
    front = placed.front
    if front is None:
        middle = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
        sizes = [b - a for a, b in zip(low, high, strict=True)]
        axis = sizes.index(max(sizes))
        ends = [list(middle), list(middle)]
        ends[0][axis], ends[1][axis] = low[axis], high[axis]
        (a, b, c), (d, e, f) = ends
        return Run(((a, b, c), (d, e, f)), sorted(sizes)[1] / 2, round=False)
    width, depth, height = front.width, front.depth, front.top - front.bottom
    longest = max(width, depth, height)
    level = (front.bottom + front.top) / 2
    if longest == width:
        places = [(0.0, -depth / 2, level), (width, -depth / 2, level)]
    elif longest == depth:
        places = [(width / 2, 0.0, level), (width / 2, -depth, level)]
    else:
        places = [(width / 2, -depth / 2, z) for z in (front.bottom, front.top)]
    start, end = ((*front.frame.to_plan(u, v), z) for u, v, z in places)
    return Run((start, end), sorted((width, depth, height))[1] / 2, round=False)


def may_meet(one: Placed, other: Placed, scene: Scene, tolerance: float) -> bool:
    """Tell whether two runs may be in one another.

    They may where one ends in the other, as at a bend, a branch or in a sleeve; where
    cables go from one to the other; and where sprinkler pipes cross in one plane.
    """
    kinds = one.kind, other.kind
    if all(kind.cableway for kind in kinds) and not all(kind.conduit for kind in kinds):
        return True
    first, second = run_of(one, scene), run_of(other, scene)
    if (
        all(kind.sprinkler for kind in kinds)
        and distance(first.line, second.line) <= tolerance
    ):
        return True
    ends = [(end, second) for end in first.line] + [(end, first) for end in second.line]
    return any(from_point(end, run.line) <= run.half + tolerance for end, run in ends)


def crossing(one: Placed, other: Placed, scene: Scene) -> float | None:
    """Return how deep two round runs are in one another, metres.

    None where one is not round: then their bodies tell.
    """
    first, second = run_of(one, scene), run_of(other, scene)
    if not (first.round and second.round):
        return None
    return max(first.half + second.half - distance(first.line, second.line), 0.0)
