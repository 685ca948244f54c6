"""What no change may do though no rule says so: put a thing into a wall or another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.geometry.tolerance import TOUCH
from model3d.working.drawn.sharing import shares

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed


def stands_well(before: Arrangement, after: Situation) -> bool:
    """Tell whether a change puts nothing out of the room, or into what it was not in.

    A drawing may have boxes let into a wall, and conduits that enter gear. To push one
    into a wall, or a cabinet over a pipe, is no cure: structure stays as it is.

    Args:
        before: The scene as it was.
        after: The scene after the change, the same items in it.
    """
    return all(
        _is_inside(before, was, now) and not _enters(before, after, was, now)
        for was, now in _changed(before, after.arrangement)
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
    old, new = was.solid.bounds, now.solid.bounds
    for n in (0, 1, 2):
        out = max(room[0][n] - new[0][n], new[1][n] - room[1][n])
        so_far = max(room[0][n] - old[0][n], old[1][n] - room[1][n])
        if out > max(so_far, 0.0) + TOUCH:
            return False
    return True


def _enters(before: Arrangement, after: Situation, was: Placed, now: Placed) -> bool:
    """Tell whether a thing shares room with another that it did not share before."""
    return any(
        not (now.kind.hole or other.kind.hole)
        and shares(now, other, was)
        and not shares(was, before.items[other.id], was)
        for other in after.beside(now)
    )
