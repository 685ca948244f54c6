"""The maker's clearances.

Applies to: every item that says what its maker wants clear beside, behind, ahead of or
above it (clearances).

Measures: on each side of which something is said, from the item's side outwards, over
the whole side; above, from its top upwards, over its footprint. The maker's figure is
required; the code prints none.

Breach: any solid nearer than that.

Exceptions: the floor below it, what it stands on, the runs that end in it (a conduit,
a busway, whatever is drawn from one point to another and touches or enters it with an
end), and, where nothing is said of its rear, the wall that its back touches, but ahead
of its front. A clearance of zero asks for nothing. Above the cells of a battery rack
the maker's figure is asked for by battery-top-clearance.

Source: NEC 110.3(B), for transformers 450.9; 29 CFR 1910.303(b)(2), 1926.403(b)(2).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.geometry.bodies.extents import reaching
from model3d.geometry.tolerance import TOUCH
from model3d.judging.requirement import requirement_of
from model3d.judging.space import ANY, Space, Stretch
from model3d.judging.verdict import judge
from model3d.scene.parts.placement import StandsOn
from model3d.wording import headed, sentences
from model3d.wording.said import say
from model3d.working.front import front_of
from model3d.working.sides import SIDES, side_front

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.judging.space import Along
    from model3d.standing.placed import Placed

TABLES: Final = ("maker-clearance",)
REQUIREMENT: Final = requirement_of(__name__)
_UP: Final = "its underside"
_WORDS: Final[dict[str, tuple[str, dict[Along, str]]]] = {
    "rear": ("Behind it", {"out": "its back", "up": _UP}),
    "left": ("On its left", {"out": "its left side", "up": _UP}),
    "right": ("On its right", {"out": "its right side", "up": _UP}),
    "front": ("Ahead of it", {"up": _UP}),
    "above": ("Above it", {"up": "it"}),
}
"""How the reason begins at each side, and how a distance is said there."""


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge each side of an item of which its maker says what must be clear."""
    entry = situation.book.entry(TABLES[0])
    stated = None if item.item is None else item.item.clearances
    if not entry.given or stated is None or item.front is None:
        return
    for side, (title, _) in _WORDS.items():
        written = getattr(stated, side)
        length = 0.0 if written is None else situation.scene.metres(written)
        if length > 0:
            judged = judge(_space(item, side, length, entry, situation), situation)
            asked = say("Its maker asks for {}.", situation.stated(length))
            reason = sentences(
                headed(title, judged.reason), asked if judged.intrusions else ""
            )
            yield replace(judged, side=side, reason=reason)


def _space(
    item: Placed, side: str, length: float, entry: Entry, situation: Situation
) -> Space:
    """Return what must be clear at one side of an item."""
    face = front_of(item)
    if side in SIDES:
        face = side_front(face, side)
    frame, depth, bottom, top = face.frame, length, face.bottom, face.top
    if side == "above":
        frame, depth = frame.moved(0.0, -face.depth), face.depth
        bottom, top = face.top, face.top + length
    vents = item.kind.transformer and entry.has("transformer_vents")
    key = "transformer_vents" if vents else "followed"
    return Space(
        requirement=REQUIREMENT,
        subject=item.id,
        frame=frame,
        width=face.width,
        depth=depth,
        bottom=bottom,
        top=top,
        limit=_AllBut(item, situation, side, depth),
        required={"clearance": length},
        printed={"clearance": (situation.stated(length),)},
        measures={"clearance": "up" if side == "above" else "out"},
        citations={ANY: entry.cite(key)},
        clear=say("The {} that its maker asks for is clear.", situation.stated(length)),
        words=_WORDS[side][1],
        unread={ANY: unread_rules(entry, key)},
    )


@dataclass(frozen=True, slots=True)
class _AllBut:
    """Every solid keeps out, but for what belongs to how the item is put up."""

    item: Placed
    situation: Situation
    side: str
    depth: float

    def __call__(self, placed: Placed) -> Stretch | None:
        """Return what part of the space a solid must keep out of."""
        allowed = (
            placed is self.item
            or placed.kind.hole
            or placed.id in {"floor", self._stand()}
            or self._ends_in_it(placed)
            or self._holds_it(placed)
        )
        return None if allowed else Stretch(0.0, self.depth)

    def _stand(self) -> str:
        """Return the id of what the item stands on, or ""."""
        place = self.item.item.place if self.item.item else None
        return place.stands_on if isinstance(place, StandsOn) else ""

    def _ends_in_it(self, placed: Placed) -> bool:
        """Tell whether it is a run with an end at the item or in it."""
        run, front, metres = (
            placed.item,
            front_of(self.item),
            self.situation.scene.metres,
        )
        if run is None or run.from_ is None or run.to is None:
            return False
        for end in (run.from_, run.to):
            x, y, z = (metres(length) for length in end)
            right, out = front.frame.to_frame(x, y)
            if (
                -TOUCH <= right <= front.width + TOUCH
                and -TOUCH <= out + front.depth <= front.depth + TOUCH
                and front.bottom - TOUCH <= z <= front.top + TOUCH
            ):
                return True
        return False

    def _holds_it(self, placed: Placed) -> bool:
        """Tell whether it is the wall that the item's back is fixed to."""
        stated = self.item.item.clearances if self.item.item else None
        if not placed.kind.backing or self.side == "front":
            return False
        if stated is None or stated.rear is not None:
            return False
        front = front_of(self.item)
        low = (0.0, -front.depth - 2 * TOUCH, front.bottom)
        high = (front.width, -front.depth, front.top)
        return reaching(placed.solid.seen_from(front.frame), low, high) is not None
