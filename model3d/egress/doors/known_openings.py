"""What the doors alone whose clear opening is known are enough for."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from model3d.standing.arrangement import arrange

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed


def by_measured_doors(
    claims: Callable[[Placed, Situation], Iterable[Judgement]],
    item: Placed,
    situation: Situation,
) -> Iterator[Judgement]:
    """Yield what is claimed of an item, by the measured doors alone where that is met.

    A door whose size is over its frame leaves open what leads through it; with that
    door shut another one may be enough, and more room never makes a verdict worse.
    """
    found = tuple(claims(item, situation))
    apart = None
    if any(one.verdict == "open" for one in found):
        apart = situation.remembered(_with_measured_doors)
    if apart is None:
        yield from found
        return
    there = apart.arrangement.items[item.id]
    met = {one.side: one for one in claims(there, apart) if one.verdict == "met"}
    for one in found:
        yield met.get(one.side, one) if one.verdict == "open" else one


def _with_measured_doors(situation: Situation) -> Situation | None:
    """Return the room with its other doors shut; None where there are none to shut.

    None too where nothing of the room would be left to leave by.
    """
    scene = situation.scene
    room = scene.room
    kept = [one for one in (room.doors if room else ()) if not one.overall]
    if room is None or not kept or len(kept) == len(room.doors):
        return None
    shut = scene.model_copy(update={"room": room.model_copy(update={"doors": kept})})
    return replace(situation, arrangement=arrange(shut))
