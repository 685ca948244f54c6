"""How the window is divided: head, room, list, lesson; all in pixels from the top."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from viewer.sheet.places import Rectangle

SMALLEST: Final = (720, 480)
"""Pixels. A smaller window is laid out as if it were that large."""
_HEAD: Final = 46.0
_SIDE: Final = 0.25
_LEAST_SIDE: Final = 318.0
_MOST_SIDE: Final = 420.0
_LESSON: Final = 152.0
EDGE: Final = 12.0
"""Pixels about what lies over the room, in a window of 1600 by 1000; so is ``BAR``."""
BAR: Final = 34.0
"""Height of a line of tools."""
FOOT: Final = EDGE + BAR


@dataclass(frozen=True, slots=True)
class Frame:
    """A divided window.

    Attributes:
        width, height: Of the whole window, pixels.
        scale: Of letters; 1 in a window of 1600 by 1000.
        head: Title and counts.
        room: Where the room is drawn.
        side: The list of findings.
        lesson: What a lesson says; None where there is none.
    """

    width: int
    height: int
    scale: float
    head: Rectangle
    room: Rectangle
    side: Rectangle
    lesson: Rectangle | None

    @property
    def aspect(self) -> float:
        """Width by height of the room's part."""
        room = self.room
        return (room.right - room.left) / (room.bottom - room.top)

    @property
    def foot(self) -> float:
        """Share of the height of the room's part that tools cover at its bottom."""
        return FOOT * self.scale / (self.room.bottom - self.room.top)


def framed(width: int, height: int, *, lesson: bool) -> Frame:
    """Divide a window.

    Args:
        width: Pixels.
        height: Pixels.
        lesson: Whether there is a lesson to be told.
    """
    wide, high = max(width, SMALLEST[0]), max(height, SMALLEST[1])
    scale = min(max((wide / 1600 + high / 1000) / 2, 0.9), 3.0)
    head = round(_HEAD * scale)
    side = round(min(max(_SIDE * wide, _LEAST_SIDE * scale), _MOST_SIDE * scale))
    edge = wide - side
    bottom = high - round(_LESSON * scale) if lesson else high
    return Frame(
        wide,
        high,
        scale,
        Rectangle(0, 0, wide, head),
        Rectangle(0, head, edge, bottom),
        Rectangle(edge, head, wide, bottom),
        Rectangle(0, bottom, wide, high) if lesson else None,
    )
