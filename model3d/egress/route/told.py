"""How a way is told in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.egress.doors.exits import OPEN_GROUND, WIDEST

if TYPE_CHECKING:
    from model3d.codebook import PrintedFigure
    from model3d.egress.route.path import Path
    from model3d.geometry.frame import Corner
    from model3d.judging.situation import Situation

WIDTH_AND_HEIGHT: Final = ("width", "height")


def way_words(path: Path, situation: Situation) -> str:
    """Tell where a way leads, how wide it is at its narrowest, and what is there."""
    if path.way.narrowest >= WIDEST:
        wide = f"is everywhere {situation.length(WIDEST)} wide or more"
        return f"The way leads {_to(path, situation)} and {wide}."
    return f"The way leads {_to(path, situation)}; it is {neck_words(path, situation)}."


def low_words(path: Path, height: float, situation: Situation) -> str:
    """Tell where a way leads that is wide enough, and how low it is.

    Args:
        path: The way.
        height: Of the tallest who can go there upright, metres.
        situation: The room.
    """
    low = f"it is no higher than {situation.length(height)}"
    return f"The way leads {_to(path, situation)}; {low}."


def _to(path: Path, situation: Situation) -> str:
    door = path.way.door
    return (
        f"over the open side at {door}"
        if door in _open_sides(situation)
        else f"to {door}"
    )


def neck_words(path: Path, situation: Situation) -> str:
    """Tell where a way is narrowest and how wide it is there."""
    way, between = path.way, path.neck.between
    match between:
        case ():
            where = "in the working space itself"
        case (one,) if one == way.door:
            where = "there" if one != OPEN_GROUND else "at its end"
        case (one,):
            where = f"beside {one}"
        case (one, other, *_):
            where = f"between {one} and {other}"
    return f"narrowest {where}: {situation.length(way.narrowest)}"


def size_told(width: PrintedFigure, height: PrintedFigure, situation: Situation) -> str:
    """Tell a width and a height as the rule book prints them."""
    return f"{situation.told(width)} wide and {situation.told(height)} high"


def size(width: float, height: float, situation: Situation) -> str:
    """Tell a width and a height."""
    return f"{situation.length(width)} wide and {situation.length(height)} high"


def spot(at: Corner, situation: Situation) -> str:
    """Tell a place of the plan."""
    x, y = (situation.length(value) for value in at)
    return f"x = {x}, y = {y}"


def _open_sides(situation: Situation) -> set[str]:
    shell = situation.arrangement.shell
    return {line.id for line in shell.lines if line.name in shell.open_sides}
