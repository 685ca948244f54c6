"""What a survey leaves in doubt beside a front: it may stand before it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.fit import fit
from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from model3d.geometry.bodies.extents import Extents
    from model3d.judging.measured.fit import Hit
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space
    from model3d.standing.placed import Placed
    from model3d.wording.said import Said


@dataclass(frozen=True, slots=True)
class Aside:
    """A thing that a survey leaves in doubt beside a front.

    Attributes:
        placed: The item.
        distance: How far beside the front it begins, metres.
    """

    placed: Placed
    distance: float

    def words(self, situation: Situation) -> Said:
        """Tell how near it is; of what is no way off, that it is right beside."""
        name = Named(self.placed.id)
        if self.distance <= TOUCH:
            return say("{} is right beside the front.", name)
        return say("{} is {} beside the front.", name, situation.length(self.distance))


def beside(space: Space, situation: Situation) -> Aside | None:
    """Return what may stand before a front that a space covers; None: nothing may.

    Wherever a space slides, it covers the front: what is nearer to one of its ends
    than the survey tolerance may reach into it. What flanks the body itself as near
    does not, for it is in no body.

    Args:
        space: What must be clear, and is as drawn.
        situation: The room.
    """
    if not asks_beside(space, situation):
        return None
    found = fit(space.beside(situation.survey_tolerance), situation).all
    body = body_behind(space, situation) if found else None
    near = [
        Aside(hit.placed, max(_apart(hit.extents, space), 0.0))
        for hit in found
        if body and not _flanks(hit, space, body)
    ]
    return min(near, key=lambda one: (one.distance, one.placed.id), default=None)


def asks_beside(space: Space, situation: Situation) -> bool:
    """Tell whether a survey may take anything into a space from beside it."""
    if not situation.survey_tolerance or space.around or space.is_narrow:
        return False
    return "out" in space.measures.values()


def body_behind(space: Space, situation: Situation) -> Extents:
    """Return where the item itself is in the frame of its space, behind the face."""
    item, far = situation.arrangement.items[space.subject], situation.size
    low, high = (-far, -far, space.bottom - far), (far, 0.0, space.top + far)
    found = item.solid.seen_from(space.frame).extents(low, high)
    return found or ((0.0,) * 3, (0.0,) * 3)


def _flanks(hit: Hit, space: Space, body: Extents) -> bool:
    """Tell whether a thing beside a front is beside its body too, as near."""
    left, right = space.front
    wide = right - left
    (_, near, bottom), (_, far, top) = body
    low, high = (left - wide, near, bottom), (right + wide, far, top)
    behind = hit.view.extents(low, high)
    if behind is None or far - near <= TOUCH or _is_thin(behind):
        return False
    return _apart(behind, space) <= _apart(hit.extents, space) + TOUCH


def _is_thin(extents: Extents) -> bool:
    """Tell whether something is beside a body only where it ends."""
    (_, near, low), (_, far, high) = extents
    return far - near <= TOUCH or high - low <= TOUCH


def _apart(extents: Extents, space: Space) -> float:
    """Return how far something is beside a front; less than nothing: before it."""
    (left, right), (low, *_), (high, *_) = space.front, *extents
    return max(left - high, low - right)
