"""How a way is told in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import OPEN_GROUND, WIDEST
from model3d.wording.said import Named, say, thing

if TYPE_CHECKING:
    from model3d.codebook import PrintedFigure
    from model3d.egress.route.path import Path
    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation

WIDTH_AND_HEIGHT: Final = ("width", "height")


def way_words(path: Path, situation: Situation, width: float) -> str:
    """Tell where a way leads, how wide it is at its narrowest, and what is there.

    Args:
        path: The way.
        situation: The room.
        width: What is asked for, metres.
    """
    if path.way.narrowest >= WIDEST:
        wide = say("is everywhere {} wide or more", situation.length(WIDEST))
        return say("The way leads {} and {}.", _to(path, situation), wide)
    narrow = neck_words(path, situation, width)
    return say("The way leads {}; it is {}.", _to(path, situation), narrow)


def low_words(path: Path, height: str, situation: Situation) -> str:
    """Tell where a way leads that is wide enough, and how low it is.

    Args:
        path: The way.
        height: Of the tallest who can go there upright, as it is told.
        situation: The room.
    """
    low = say("it is no higher than {}", height)
    return say("The way leads {}; {}.", _to(path, situation), low)


def _to(path: Path, situation: Situation) -> str:
    door = path.way.door
    return (
        say("over the open side at {}", Named(door))
        if door in _open_sides(situation)
        else say("to {}", Named(door))
    )


def neck_words(path: Path, situation: Situation, width: float) -> str:
    """Tell where a way is narrowest and how wide it is there, beside what is asked."""
    way, between = path.way, path.neck.between
    match between:
        case ():
            where = "in the working space itself"
        case (one,) if one == way.door:
            where = "there" if one != OPEN_GROUND else "at its end"
        case (one,):
            where = say("beside {}", thing(one))
        case (one, other, *_):
            where = say("between {} and {}", thing(one), thing(other))
    return say("narrowest {}: {}", where, situation.length(way.narrowest, width))


def size_told(width: PrintedFigure, height: PrintedFigure, situation: Situation) -> str:
    """Tell a width and a height as the rule book prints them."""
    return say("{} wide and {} high", situation.told(width), situation.told(height))


def size(width: float, height: float, situation: Situation) -> str:
    """Tell a width and a height."""
    return say("{} wide and {} high", situation.length(width), situation.length(height))


def spot(at: Corner, situation: Situation) -> str:
    """Tell a place of the plan."""
    x, y = (situation.length(value) for value in at)
    return say("x = {}, y = {}", x, y)


def _open_sides(situation: Situation) -> set[str]:
    shell = situation.arrangement.shell
    return {line.id for line in shell.lines if line.name in shell.open_sides}
