"""What lies opposite an item, and the condition of the depth table that follows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.geometry.views import reaching
from model3d.working.front import faces
from model3d.working.inside import lesser_condition, procedures_hold

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.fitting import Fit
    from model3d.geometry.frame import Triple
    from model3d.scene.placed import Placed
    from model3d.situation import Situation
    from model3d.spaces import Space

Ahead = tuple[float, "Placed"]


def condition_of(
    item: Placed, situation: Situation, space: Space, found: Fit
) -> tuple[int, str, tuple[tuple[str, str], ...]]:
    """Return the condition, what made it so, and what was taken for granted.

    The face of the space is swept across the room, from where the space was tested:
    3 where a live item that faces this one is met, 2 where a grounded surface is,
    else 1; even where that stands far enough away.
    """
    written = item.item
    if written is not None and written.condition is not None:
        why = f"Condition {written.condition} was stated: {written.why}"
        return written.condition, why, ()
    left, right = found.place, found.place + space.width
    # A little further than the room goes, so that its far wall is met.
    far = situation.reach_ahead(space.frame, left, right) + 2 * TOUCH
    far = min(far, situation.size)
    low, high = (left, 0.0, space.bottom), (right, far, space.top)
    facing = [*_live(situation, space, low, high, item)]
    kept = [other for other in facing if _keeps_less(item, other, situation)]
    live = _met(space, low, high, (other for other in facing if other not in kept))
    if live is not None:
        return 3, f"Condition 3: {live[1].id} faces it {_at(live, situation)}.", ()
    live = _met(space, low, high, kept)
    if live is not None:
        lesser = lesser_condition(item, live[1], situation) or _LIVE
        why = f"{live[1].id} faces it {_at(live, situation)}; {_REPLACED}"
        return lesser, f"Condition {lesser}: {why}.", ()
    wall = _met(space, low, high, (w for w in situation.walls if _conducts(w)))
    if wall is None:
        wall = _met(
            space,
            low,
            high,
            (p for p in situation.near(space.frame, low, high) if _conducts(p)),
        )
    if wall is None:
        return 1, "Condition 1: nothing live or grounded is opposite.", ()
    name, away = wall[1].id, _at(wall, situation)
    if wall[1].grounded is None:
        what = "Nothing says what it is made of: taken as grounded."
        return 2, f"Condition 2: {name} {away} is taken as grounded.", ((name, what),)
    return 2, f"Condition 2: {name} is grounded {away}.", ()


_LIVE: Final = 3
_REPLACED: Final = (
    "both are dead-front equipment replaced in an existing building under written "
    "procedures"
)


def _keeps_less(item: Placed, other: Placed, situation: Situation) -> bool:
    lesser = lesser_condition(item, other, situation)
    return lesser is not None and procedures_hold(situation) is True


def _live(
    situation: Situation, space: Space, low: Triple, high: Triple, item: Placed
) -> Iterator[Placed]:
    for place in situation.live_index.touching(*space.frame.bounds(low, high)):
        other = situation.live[place]
        if other.id != item.id and faces(other, item):
            yield other


def _conducts(placed: Placed) -> bool:
    """Tell whether a surface counts as grounded; a wall of unknown kind does."""
    if placed.kind.name == "wall" and placed.grounded is None:
        return True
    return bool(placed.grounded) and placed.id != "floor"


def _met(
    space: Space, low: Triple, high: Triple, asked: Iterable[Placed]
) -> Ahead | None:
    """Return the nearest of some solids that the swept face meets."""
    met: list[Ahead] = []
    for placed in asked:
        stretch = space.limit(placed)
        if stretch is None:
            continue
        view = placed.solid.seen_from(space.frame)
        start = max(low[1], stretch.start)
        found = reaching(view, (low[0], start, low[2]), high)
        if found is None:
            continue
        # What comes from the item's own wall is above or below it, not opposite.
        own = stretch.start > 0 and found[0][1] <= start + TOUCH
        if not own:
            met.append((found[0][1], placed))
    return min(met, key=lambda pair: (pair[0], pair[1].id), default=None)


def _at(ahead: Ahead, situation: Situation) -> str:
    return f"{situation.length(ahead[0])} ahead"
