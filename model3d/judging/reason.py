"""What is said of a required space: what is in its way, and where that is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.reached import REACH, reach
from model3d.wording import bracketed, sentences
from model3d.wording.said import Named, Said, ids, joined, raised, say

if TYPE_CHECKING:
    from model3d.judging.measured.fit import Fit, Hit
    from model3d.judging.results import Sizes
    from model3d.judging.situation import Situation
    from model3d.judging.space import Space


def reason_of(
    space: Space, situation: Situation, found: Fit, short: str, sizes: Sizes
) -> str:
    """Say what is in the way of a space, where, and what is clear besides.

    Args:
        space: What must be clear.
        situation: The room.
        found: How it fits.
        short: The size that decides.
        sizes: What the room gives, metres.
    """
    if not found.all:
        return space.clear
    length = situation.length
    if short == REACH and space.reach is not None:
        past, name = max((reach(hit, space) or 0.0, hit.placed.id) for hit in found.all)
        also = _also(found, name)
        if past <= space.reach:
            far = length(past, space.reach)
            said = say("{} reaches {} past the front.", Named(name), far)
            return sentences(said, also)
        allowed = bracketed(space.reach_printed or (length(space.reach),))
        return sentences(
            say(
                "{} reaches {} past the front, {} more than the {} that is allowed.",
                Named(name),
                length(past, space.reach),
                length(past - space.reach),
                allowed,
            ),
            also,
        )
    axis = {"out": 1, "up": 2}.get(space.measures.get(short, ""), 0)
    first = min(found.all, key=lambda hit: (hit.extents[0][axis], hit.placed.id))
    name, (low, high) = _named(first, space), first.extents
    also = _also(found, first.placed.id)
    match space.measures.get(short):
        case "out":
            place = space.words.get("out")
            away = say("from {}", place) if place else say("ahead of {}", _FRONT)
            there = say("at {}", place or _FRONT)
            run = _widest_run(space, situation, sizes)
            over = "" if low[1] > TOUCH else _overhead(low[2], space, situation)
            far = _far((low[1], first.part[1]), away, there, situation)
            return sentences(say("{} is {}{}.", name, far, over), also, run)
        case "up":
            away, there = _above(space), Said(f"on {_level(space)}")
            up = low[2] - space.bottom, space.top - space.bottom
            far = _far(up, away, there, situation)
            return sentences(say("{} is {}.", name, far), also)
        case "across":
            clear = length(sizes.get(short, 0.0), space.required.get(short))
            said = say("{} stands beside it: {} is clear.", name, clear)
            return sentences(said, also)
    size = joined(" x ", (length(b - a) for a, b in zip(low, high, strict=True)))
    return sentences(say("{} is in the space with {}.", name, size), also)


_FRONT: Final = "the front"


def _level(space: Space) -> str:
    """Return what heights in a space are told from."""
    return space.words.get("up", "the floor")


def _above(space: Space) -> Said:
    return Said(f"above {_level(space)}")


def _far(far: tuple[float, float], away: str, there: str, situation: Situation) -> str:
    """Say how far away something is; of what is no way off, where it is.

    Args:
        far: The distance, and the one that is asked for, metres.
        away: From what it is told.
        there: Where that is.
        situation: The room.
    """
    metres, asked = far
    if metres > TOUCH:
        return say("{} {}", situation.length(metres, asked), away)
    return say("right {}", there)


def _overhead(bottom: float, space: Space, situation: Situation) -> str:
    """Say how high something begins that stands before no part of the space below."""
    if bottom <= space.bottom + TOUCH:
        return ""
    height = situation.length(bottom - space.bottom)
    return say(", {} {}", height, _above(space))


def _widest_run(space: Space, situation: Situation, sizes: Sizes) -> str:
    """Tell the widest clear run before an item whose whole width is not clear."""
    asked = [name for name, way in space.measures.items() if way == "across"]
    run = next((sizes.get(name) for name in asked if name in space.required), None)
    if run is None or run >= space.own_width - TOUCH:
        return ""
    face = space.words.get("out", _FRONT)
    clear = situation.length(run, space.own_width)
    return say("Beside it {} of {} is clear.", clear, face)


def _named(hit: Hit, space: Space) -> str:
    if hit.placed.id != space.subject:
        return Named(hit.placed.id)
    return raised(hit.placed.part or "it itself")


def _also(found: Fit, told: str) -> str:
    """Name what else is in the way, and apart what is so only in the worse case."""
    surely = {hit.placed.id for hit in found.hits or found.doubts} - {told}
    perhaps = {hit.placed.id for hit in found.all} - surely - {told}
    return sentences(
        say("Also in the way: {}.", ids(sorted(surely))) if surely else "",
        say("Perhaps in the way: {}.", ids(sorted(perhaps))) if perhaps else "",
    )
