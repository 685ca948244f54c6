"""How the window is divided, in pixels from the top."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from viewer.sheet.sign_places import Rectangle

SMALLEST: Final = (720, 480)
"""Pixels. A smaller window is laid out as if it were that large."""
_HEAD: Final = 46.0
_SIDE: Final = (0.25, 318.0, 420.0)
"""Share of the width, and the least and the most of it, as all else by the scale."""
_LESSON: Final = 132.0
_FOOT: Final = (24.0, 40.0)
"""With one line of letters, and with two in a window that is narrower than this."""
_NARROW: Final = 1150.0


@dataclass(frozen=True, slots=True)
class Division:
    """A divided window.

    Attributes:
        width, height: Of the whole window, pixels.
        scale: Of letters; 1 in a window of 1600 by 1000.
        head, side, foot: For the title, the judgements, and what must be known of them.
        room: Where the room is drawn.
        lesson: What a lesson says; None where there is none.
    """

    width: int
    height: int
    scale: float
    head: Rectangle
    room: Rectangle
    side: Rectangle
    lesson: Rectangle | None
    foot: Rectangle

    @property
    def room_size(self) -> tuple[int, int]:
        """Width and height of the room's part, pixels."""
        room = self.room
        return round(room.right - room.left), round(room.bottom - room.top)

    @property
    def aspect(self) -> float:
        """Width by height of the room's part."""
        width, height = self.room_size
        return width / height


def framed(width: int, height: int, *, lesson: bool) -> Division:
    """Divide a window of a size in pixels, with a lesson to be told or without."""
    wide, high = max(width, SMALLEST[0]), max(height, SMALLEST[1])
    scale = min(max((wide / 1600 + high / 1000) / 2, 0.9), 3.0)
    share, least, most = _SIDE
    edge = wide - round(min(max(share * wide, least * scale), most * scale))
    head = round(_HEAD * scale)
    foot = high - round(_FOOT[wide < _NARROW * scale] * scale)
    bottom = foot - round(_LESSON * scale) if lesson else foot
    return Division(
        wide,
        high,
        scale,
        Rectangle(0, 0, wide, head),
        Rectangle(0, head, edge, bottom),
        Rectangle(edge, head, wide, bottom),
        Rectangle(0, bottom, wide, foot) if lesson else None,
        Rectangle(0, foot, wide, high),
    )
