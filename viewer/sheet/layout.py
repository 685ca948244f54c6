"""How a picture is divided: title, room, list of judgements, legend."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.sheet.letters import SMALL
from viewer.sheet.meanings import meanings
from viewer.sheet.side_list import Columns, columns_of, list_height
from viewer.sheet.sign_places import Rectangle
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.stage.parts import Stage
    from viewer.stage.rows import ListedJudgement

TITLE: Final = 22.0
"""Pixels. Size of the title's letters in a picture 1000 pixels high."""
_WIDE: Final = 1.25
"""A picture that is so much wider than high has the list at its side."""
_PANEL: Final = 0.25
"""Share of the width a list at the side takes."""
_LEAST_PANEL: Final = 250.0
"""Pixels a list needs to be read."""
_BELOW: Final = 0.42
"""Share of the height that a list below takes at most."""
_LEAST_ROOM: Final = 0.4
"""Share of the height that the room keeps above a list, whatever is said below."""
SPOKEN: Final = 1.1 * SMALL
"""Pixels. Size of the letters of what is said below a room."""
LINE: Final = 1.4
"""Height of a line of it, by the size of its letters."""
MOST_LINES: Final = 6
_LEAST_LINES: Final = 2
_LETTER: Final = 0.6
"""Width of a letter by its size: a little more than most texts take."""
MARGIN: Final = 22.0
"""Pixels kept free beside all that is written about a picture."""
_LEAST_WIDTH: Final = 1000
"""Pixels. A picture that is narrower has the list below, where lines are long."""
LEGEND_ROW: Final = 1.6
"""Height of a row of the legend by the size of its letters."""
CAUTION_LETTERS: Final = 0.78 * SMALL
CAUTION_ROW: Final = 1.1
"""Height of a line of the caution by the size of the legend's letters."""
_FOOT: Final = 3.2
"""Height of a legend of one row and a caution of one line, by the same."""
_SIGN: Final = 3.0
"""Width of a sign of the legend and the gap beside it, by the same."""
_LONGEST_TITLE: Final = 160
"""Letters. What is longer is cut."""
_COUNTS: Final = 30
"""Letters of the counts beside a title, and of the gap between."""
_COLUMN: Final = 290.0
"""Pixels a column of a list below takes: little more than a list at the side needs."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How a picture is divided, pixels.

    Attributes:
        width, height: Of the whole picture.
        scale: Of letters.
        room: Where the room is drawn.
        panel: Where judgements are listed; None where none is.
        listed: The judgements in the list.
        columns: Of the list; None where none is.
        of: The item the picture is about; None of the whole place.
        words: What is said below the room.
        title: In place of the scene's own.
        said: Where it is said; None where nothing is.
        foot: Pixels that legend and caution take below.
    """

    width: int
    height: int
    scale: float
    room: Rectangle
    panel: Rectangle | None
    listed: tuple[ListedJudgement, ...]
    columns: Columns | None = None
    of: str | None = None
    words: str = ""
    title: str = ""
    said: Rectangle | None = None
    foot: float = _FOOT * SMALL

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


def spoken(
    size: tuple[int, int],
    words: str,
    stage: Stage | None = None,
    *,
    title: str = "",
    of: str | None = None,
) -> Layout:
    """Divide a picture of a film: words below the room.

    Args:
        size: Of the whole picture.
        words: What is said; of the frames of a film the longest, for all of them are
            divided alike.
        stage: What is drawn; left out, the legend has one row.
        title: In place of the scene's own.
        of: The item the picture is about.
    """
    foot = _foot(size, stage)
    whole = _body(size, foot, _heads(size, stage, title, of))
    said = _said(whole, words, scale_of(size))
    room = Rectangle(0, whole.top, whole.right, said.top)
    scale = scale_of(size)
    return Layout(*size, scale, room, None, (), words=words, said=said, foot=foot)


def layout(
    stage: Stage,
    size: tuple[int, int],
    *,
    of: str | None = None,
    words: str = "",
    title: str = "",
) -> Layout:
    """Divide a still picture.

    What is not met or open is listed; about one item, all that is asked of it, but for
    what is met where the list is below: there it would take the room from the picture.

    Args:
        stage: What is drawn.
        size: Of the whole picture.
        of: The item the picture is about.
        words: What is said below it, if anything.
        title: In place of the scene's own.
    """
    asked = [one for one in stage.judgements if of in {None, one.subject}]
    listed = tuple(one for one in asked if one.number is not None)
    if of is not None and (_is_beside(size) or not listed):
        listed = tuple(asked)
    foot, heads = _foot(size, stage), _heads(size, stage, title, of)
    scale, whole = scale_of(size), _body(size, foot, heads)
    said = _said(whole, words, scale) if words else None
    if said is not None:
        whole = Rectangle(0, whole.top, whole.right, said.top)
    room, panel, columns = (
        _listing(whole, size, listed) if listed else (whole, None, None)
    )
    return Layout(
        *size, scale, room, panel, listed, columns, of, words, title, said, foot
    )


def _foot(size: tuple[int, int], stage: Stage | None) -> float:
    """Return how high legend and caution are, with room for all of both."""
    width, scale = size[0], scale_of(size)
    room = width - 2 * MARGIN * scale
    letters = SMALL * scale
    caution = _LETTER * CAUTION_LETTERS * scale * len(" ".join(CAUTION))
    lines = max(1, math.ceil(caution / room))
    rows, at = 1, 0.0
    for _, words in meanings(stage) if stage else ():
        wide = (_SIGN + _LETTER * len(words)) * letters
        if at and at + wide > room:
            rows, at = rows + 1, 0.0
        at += wide
    return round(
        (_FOOT + LEGEND_ROW * (rows - 1) + CAUTION_ROW * (lines - 1)) * letters
    )


def heading(stage: Stage, of: str | None, title: str) -> tuple[str, str]:
    """Return the title of a picture, and what is said beside or below it.

    Args:
        stage: What is drawn.
        of: The item the picture is about.
        title: In place of the scene's own.
    """
    scene, rules = clean(stage.title, _LONGEST_TITLE), clean(stage.rules)
    own = title
    if not title and of is not None:
        own = next(one.label for one in stage.shapes if one.item == of) or of
    return (clean(own, _LONGEST_TITLE), f"{scene}, {rules}") if own else (scene, rules)


def _heads(
    size: tuple[int, int], stage: Stage | None, title: str, of: str | None = None
) -> int:
    """Return the rows of the title: in a narrow picture all else has its own."""
    if stage is None:
        return 1
    scale = scale_of(size)
    room = size[0] - 4 * MARGIN * scale
    first, more = heading(stage, of, title)
    letters = TITLE * len(first) + SMALL * (len(more) + _COUNTS)
    return 2 if _LETTER * letters * scale > room else 1


def _body(size: tuple[int, int], foot: float, heads: int) -> Rectangle:
    """Return what is left between the title and the legend."""
    width, height = size
    top = (2.1 + 1.1 * (heads - 1)) * TITLE * scale_of(size)
    return Rectangle(0, round(top), width, height - foot)


def _said(whole: Rectangle, words: str, scale: float) -> Rectangle:
    """Return the part below the room in which something is said."""
    letters = SPOKEN * scale
    room = whole.right - 2 * MARGIN * scale
    lines = max(_LEAST_LINES, math.ceil(_LETTER * letters * len(words) / room))
    tall = (min(lines, MOST_LINES) * LINE + 1.0) * letters
    return Rectangle(0, round(whole.bottom - tall), whole.right, whole.bottom)


def _is_beside(size: tuple[int, int]) -> bool:
    """Tell whether the list of a picture of a size stands at its side."""
    width, height = size
    return width >= max(_WIDE * height, _LEAST_WIDTH)


def _listing(
    whole: Rectangle, size: tuple[int, int], listed: Sequence[ListedJudgement]
) -> tuple[Rectangle, Rectangle, Columns]:
    """Return the parts for the room and for the list, and the columns of the list."""
    width, height = size
    scale = scale_of(size)
    edge = MARGIN * scale
    top, bottom = whole.top, whole.bottom
    if _is_beside(size):
        side = width - round(max(_PANEL * width, _LEAST_PANEL * scale))
        panel = Rectangle(side, top, width, bottom)
        room = Rectangle(0, top, side, bottom)
        return room, panel, columns_of(width - side, 1, edge, scale)
    count = min(max(1, int(width / (_COLUMN * scale))), len(listed))
    columns = columns_of(width, count, edge, scale)
    most = min(_BELOW * height, max(bottom - top - _LEAST_ROOM * height, 0.0))
    level = bottom - math.ceil(list_height(listed, columns, most))
    return Rectangle(0, top, width, level), Rectangle(0, level, width, bottom), columns
