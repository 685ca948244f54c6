"""What an import could not read, in words: how much, what it is called, and where."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.plan import flat
from model3d.scene.words.nearest import listed
from model3d.wording import sentences
from model3d.wording.said import Said, say

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.parts.site import NotRead

_TOLD: Final = 6
"""So many are told by name, the nearest first; the others are counted."""
_ASKED: Final = (
    "Look whether any is in the way, draw here what is, and strike them from not_read."
)
_NOWHERE: Final = -1.0
"""What nobody knows the place of may be nearer than all."""


def not_read_words(situation: Situation) -> Said | None:
    """Return what a person must know of what could not be read; None where all was."""
    every = situation.scene.not_read
    if not every:
        return None
    found = sorted(
        ((_beside(one, situation), number) for number, one in enumerate(every)),
        key=lambda pair: (_NOWHERE if pair[0] is None else pair[0], pair[1]),
    )
    told = [_told(every[n], far, situation) for far, n in found[:_TOLD]]
    rest = sum(every[n].count for _, n in found[_TOLD:])
    if rest:
        told.append(say("{} more", str(rest)))
    count = sum(one.count for one in every)
    holds = say(
        "What the room was made from holds {} that could not be read: {}.",
        "1 thing" if count == 1 else f"{count} things",
        listed(told, "and"),
    )
    return sentences(holds, _ASKED)


def _told(one: NotRead, far: float | None, situation: Situation) -> Said:
    name = one.name if one.count == 1 else f"{one.name} ({one.count} of them)"
    if far is None:
        return say("{}, nobody knows where", name)
    if far <= 0.0:
        return say("{}, placed in the room", name)
    return say("{}, placed {} outside the room", name, situation.length(far))


def _beside(one: NotRead, situation: Situation) -> float | None:
    """Return how far outside the room something is placed, metres; 0 within it."""
    shell = situation.arrangement.shell
    if one.at is None or not shell.outline:
        return None
    x, y, z = (situation.scene.metres(length) for length in one.at)
    aside = float(flat.distance(flat.Polygon(shell.outline), flat.Point(x, y)))
    above = 0.0 if shell.height is None else z - shell.height
    return max(aside, above, -z, 0.0)
