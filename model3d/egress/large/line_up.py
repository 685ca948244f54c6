"""Line-ups: gear drawn in sections that touch, with their fronts in one plane."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Front, Placed

_ALIKE: Final = 1e-9
"""By how much the cosine of the angle between fronts of one plane may be below 1."""


def line_up(
    item: Placed, situation: Situation, *, unsaid: bool = False
) -> tuple[Placed, ...]:
    """Return the sections that are one piece of gear with an item, from left to right.

    Sections touch, their fronts are in one plane, and they carry one ``line_up`` name.
    An item that is no section stands alone.

    Args:
        item: Any section.
        situation: The room.
        unsaid: Take boards that touch for one line-up too where one of two says
            nothing of it.
    """
    return situation.remembered(_line_ups, unsaid).get(item, (item,))


def _line_ups(
    unsaid: bool,  # noqa: FBT001 - a part of the key
    situation: Situation,
) -> dict[Placed, tuple[Placed, ...]]:
    """Return the line-up of every item that touches another of it.

    Each is put together once, and in one order for all of its sections: a row of a
    thousand would otherwise be walked along a thousand times.
    """
    found: dict[Placed, tuple[Placed, ...]] = {}
    for first in filter(_may_be_section, situation.items):
        if first in found:
            continue
        together, due = {first}, [first]
        while due:
            one = due.pop()
            for other in situation.remembered(_beside, one):
                if other not in together and _belong(one, other, unsaid=unsaid):
                    together.add(other)
                    due.append(other)
        if len(together) > 1:
            ends = {one: _ends(first, one) for one in together}
            row = tuple(sorted(together, key=lambda one: (*ends[one], one.id)))
            found.update(dict.fromkeys(row, row))
    return found


def breadth(sections: tuple[Placed, ...]) -> float:
    """Return how wide some sections are from end to end, metres."""
    ends = [_ends(sections[0], one) for one in sections]
    return max(right for _, right in ends) - min(left for left, _ in ends)


def _name(item: Placed) -> str | None:
    return None if item.item is None else item.item.line_up


def _may_be_section(item: Placed) -> bool:
    """Tell whether a line-up may have an item in it, wherever it stands.

    Of most of a room nothing is looked at so, and no move of it asks for this again.
    """
    return _name(item) is not None or item.kind.sectional


def _belong(one: Placed, other: Placed, *, unsaid: bool) -> bool:
    names = _name(one), _name(other)
    if None not in names:
        return names[0] == names[1]
    return unsaid and one.kind.sectional and other.kind.sectional


def _beside(item: Placed, situation: Situation) -> tuple[Placed, ...]:
    """Return what touches an item at its side, with its front in the same plane."""
    front = item.front
    if front is None:
        return ()
    low = (-2 * TOUCH, -2 * TOUCH, front.bottom)
    high = (front.width + 2 * TOUCH, 2 * TOUCH, front.top)
    return tuple(
        other
        for other in situation.near(front.frame, low, high)
        if other is not item
        and other.front is not None
        and in_one_row(front, other.front)
    )


def in_one_row(one: Front, other: Front) -> bool:
    """Return whether two fronts lie in one plane and touch at their sides."""
    (ax, ay), (bx, by) = one.frame.out, other.frame.out
    left, ahead = one.frame.to_frame(other.frame.x, other.frame.y)
    high = min(one.top, other.top) - max(one.bottom, other.bottom)
    return (
        ax * bx + ay * by > 1 - _ALIKE
        and abs(ahead) <= TOUCH
        and left <= one.width + TOUCH
        and left + other.width >= -TOUCH
        and high > TOUCH
    )


def _ends(item: Placed, other: Placed) -> tuple[float, float]:
    """Return where another front begins and ends along an item's own, metres."""
    if item.front is None or other.front is None:
        return 0.0, 0.0
    left, _ = item.front.frame.to_frame(other.front.frame.x, other.front.frame.y)
    return left, left + other.front.width
