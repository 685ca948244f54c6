"""The sides of an item that people work at besides its front."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from model3d.geometry.frame import Frame

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.placed import Front, Placed

AccessSide: TypeAlias = Literal["rear", "left", "right"]
SIDES: Final[tuple[AccessSide, ...]] = ("rear", "left", "right")

TITLES: Final[dict[AccessSide, str]] = {
    "rear": "Behind it",
    "left": "On its left",
    "right": "On its right",
}
"""How the reason of a judgement of a side begins."""

WORKED_AT: Final = "renewable-parts"
"""What a side is said to have where people work there as they do in front."""
PASSIVE: Final = "nonelectrical-access"
"""What a side is said to have where only non-electrical parts are reached."""


def reached(item: Placed) -> Iterator[tuple[AccessSide, str]]:
    """Yield the sides of which something is said, with what is reached there."""
    written = item.item
    if written is None:
        return
    words = {"rear": written.rear}
    if written.sides is not None:
        words |= {"left": written.sides.left, "right": written.sides.right}
    for side in SIDES:
        word = words.get(side)
        if word is not None:
            yield side, word


def turned(item: Placed, side: AccessSide) -> Placed:
    """Return the item as somebody has it in front who stands at one of its sides.

    What was said of the front alone (figures asked for, a stated condition, live
    parts behind it) is left out.
    """
    written = item.item
    if written is not None:
        plain = {"working_space": "auto", "condition": None, "live_parts": None}
        written = written.model_copy(update=plain)
    front = None if item.front is None else side_front(item.front, side)
    return replace(item, item=written, front=front)


def side_front(front: Front, side: AccessSide) -> Front:
    """Return a side of an item as a front.

    Left and right are those of a person in front of the item; the new front has the
    left and right of the person who stands at that side.
    """
    (rx, ry), (ox, oy) = front.frame.right, front.frame.out
    match side:
        case "rear":
            x, y = front.frame.to_plan(front.width, -front.depth)
            frame = Frame(x, y, (-rx, -ry), (-ox, -oy))
            return replace(front, frame=frame)
        case "left":
            x, y = front.frame.to_plan(0.0, -front.depth)
            frame = Frame(x, y, (ox, oy), (-rx, -ry))
        case "right":
            x, y = front.frame.to_plan(front.width, 0.0)
            frame = Frame(x, y, (-ox, -oy), (rx, ry))
    return replace(front, frame=frame, width=front.depth, depth=front.width)
