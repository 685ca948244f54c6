"""What no change may do though no rule says so: leave the room, or run through gear."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.solid import Mesh
from model3d.geometry.tolerance import TOUCH
from model3d.working.drawn.runs import is_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.views import Extents
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed


def stands_well(before: Arrangement, after: Arrangement) -> bool:
    """Tell whether a change takes nothing out of the room and no run through gear.

    Args:
        before: The scene as it was.
        after: The scene after the change, the same items in it.
    """
    return all(
        _is_inside(before, was, now) and not _runs_through(before, after, was, now)
        for was, now in _changed(before, after)
    )


def _changed(
    before: Arrangement, after: Arrangement
) -> Iterator[tuple[Placed, Placed]]:
    for name, was in before.items.items():
        now = after.items[name]
        if now.solid.bounds != was.solid.bounds:
            yield was, now


def _is_inside(before: Arrangement, was: Placed, now: Placed) -> bool:
    """Tell whether a thing is no further out of the room than before."""
    shell = before.shell
    if not shell.outline:
        return True
    xs, ys = zip(*shell.outline, strict=True)
    high = float("inf") if shell.height is None else shell.height
    room = (min(xs), min(ys), 0.0), (max(xs), max(ys), high)
    old, new = _in_room(was), _in_room(now)
    for n in (0, 1, 2):
        out = max(room[0][n] - new[0][n], new[1][n] - room[1][n])
        so_far = max(room[0][n] - old[0][n], old[1][n] - room[1][n])
        if out > max(so_far, 0.0) + TOUCH:
            return False
    return True


def _in_room(placed: Placed) -> Extents:
    """Return the extents of what must be in the room: of what is let in, its front."""
    kind, front = placed.kind, placed.front
    let_in = kind.flush or (kind.boxed and not kind.in_ceiling)
    if not let_in or front is None:
        return placed.solid.bounds
    low, high = (0.0, 0.0, front.bottom), (front.width, 0.0, front.top)
    return front.frame.bounds(low, high)


def _runs_through(
    before: Arrangement, after: Arrangement, was: Placed, now: Placed
) -> bool:
    """Tell whether a run passes through a thing that it did not pass through before.

    A drawing may have conduits that enter gear. To move a pipe into a cabinet, or a
    cabinet about a pipe, is no cure.
    """
    for name, other in after.items.items():
        if name == now.id or other.of_room or is_run(other) == is_run(now):
            continue
        body = other if is_run(now) else now
        if body.front is None or body.kind.structure or body.kind.hole:
            continue
        if _share(now, other, was) and not _share(was, before.items[name], was):
            return True
    return False


def _share(one: Placed, other: Placed, was: Placed) -> bool:
    """Tell whether two things share room.

    Args:
        one: A thing.
        other: Another one.
        was: The first where it was before it was moved.
    """
    (low, high), (bottom, top) = one.solid.bounds, other.solid.bounds
    depths = [
        min(b, d) - max(a, c) for a, b, c, d in zip(low, high, bottom, top, strict=True)
    ]
    if min(depths) <= TOUCH:
        return False
    between = max(low[2], bottom[2]), min(high[2], top[2])
    plans = _plan(one, was, between), footprint(other.solid, *between)
    return bool(plans[0].intersection(plans[1]).area > TOUCH**2)


def _plan(one: Placed, was: Placed, between: tuple[float, float]) -> flat.Geometry:
    """Return what a thing covers between two heights; of a mesh as it was, moved.

    Its plan is dear, and the same wherever it is put at its height.
    """
    now, old = one.solid, was.solid
    if now is old or not isinstance(now, Mesh) or not isinstance(old, Mesh):
        return footprint(now, *between)
    if now.vertices.shape != old.vertices.shape or now.faces is not old.faces:
        return footprint(now, *between)
    away = now.vertices - old.vertices
    by = away[0]
    if abs(by[2]) > _SAME or np.abs(away - by).max() > _SAME:
        return footprint(now, *between)
    return flat.transform(footprint(old, *between), lambda at: at + by[:2])


_SAME: Final = 1e-9
"""Metres. Rounding."""
