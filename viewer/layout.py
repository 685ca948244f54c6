"""How a picture is divided: title, room, list of findings, legend."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.placing import Box

if TYPE_CHECKING:
    from viewer.stage.parts import Finding, Stage

TITLE: Final = 22.0
"""Pixels. Size of the title's letters in a picture 1000 pixels high."""
SMALL: Final = 13.5
"""Pixels. Size of most other letters about the picture."""
_WIDE: Final = 1.25
"""A picture that is so much wider than high has the list at its side."""
_PANEL: Final = 0.25
"""Share of the width a list at the side takes."""
_LEAST_PANEL: Final = 250.0
"""Pixels a list needs to be read."""
_BELOW: Final = 0.3
"""Share of the height a list below takes."""
_WORDS: Final = 6.0
"""Lines of words below a film, by the size of small letters."""
_COLUMN: Final = 380.0
"""Pixels a column of a list below takes."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How a picture is divided, pixels.

    Attributes:
        width, height: Of the whole picture.
        scale: Of letters.
        room: Where the room is drawn.
        panel: Where findings are listed; None where none is.
        listed: The findings in the list.
        columns: Of the list.
        of: The item the picture is about; None of the whole place.
        words: What is said in the panel in place of a list.
        title: In place of the scene's own.
    """

    width: int
    height: int
    scale: float
    room: Box
    panel: Box | None
    listed: tuple[Finding, ...]
    columns: int = 1
    of: str | None = None
    words: str = ""
    title: str = ""

    @property
    def room_size(self) -> tuple[int, int]:
        """Width and height of the part the room is drawn in."""
        return round(self.room.right - self.room.left), self._bottom - self._top

    @property
    def aspect(self) -> float:
        """Width by height of that part."""
        width, height = self.room_size
        return width / height

    @property
    def _top(self) -> int:
        return round(self.room.top)

    @property
    def _bottom(self) -> int:
        return round(self.room.bottom)


def scale_of(size: tuple[int, int]) -> float:
    """Return the scale of letters in a picture of a size."""
    width, height = size
    return min(max((width / 1600 + height / 1000) / 2, 0.8), 4.0)


def spoken(size: tuple[int, int], words: str, title: str = "") -> Layout:
    """Divide a picture of a film: words below the room.

    Args:
        size: Of the whole picture.
        words: What is said.
        title: In place of the scene's own.
    """
    width, height = size
    scale = scale_of(size)
    top, bottom = round(2.1 * TITLE * scale), height - round(3.2 * SMALL * scale)
    level = bottom - round(_WORDS * SMALL * scale)
    room, panel = Box(0, top, width, level), Box(0, level, width, bottom)
    return Layout(width, height, scale, room, panel, (), words=words, title=title)


def layout(stage: Stage, size: tuple[int, int], *, of: str | None = None) -> Layout:
    """Divide a still picture.

    What is not met or open is listed; about one item, all that is asked of it.
    """
    width, height = size
    listed = tuple(
        finding
        for finding in stage.findings
        if (finding.number is not None if of is None else finding.subject == of)
    )
    scale = scale_of(size)
    top, bottom = round(2.1 * TITLE * scale), height - round(3.2 * SMALL * scale)
    if not listed:
        room = Box(0, top, width, bottom)
        return Layout(width, height, scale, room, None, listed, of=of)
    if width >= _WIDE * height:
        side = width - round(max(_PANEL * width, _LEAST_PANEL * scale))
        room, panel = Box(0, top, side, bottom), Box(side, top, width, bottom)
        return Layout(width, height, scale, room, panel, listed, of=of)
    level = bottom - round(_BELOW * height)
    room, panel = Box(0, top, width, level), Box(0, level, width, bottom)
    columns = max(1, int(width / (_COLUMN * scale)))
    return Layout(width, height, scale, room, panel, listed, columns, of)
