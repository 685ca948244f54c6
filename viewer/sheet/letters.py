"""Lines, boxes and text on a picture, drawn at twice the size and shrunk at the end."""

from __future__ import annotations

import importlib.util
import math
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PIL import Image, ImageDraw, ImageFont

from viewer.stage import palette

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.sheet.sign_places import Rectangle, Spot

FINE: Final = 2
"""How many times larger a picture is drawn than it is written."""
SMALL: Final = 13.5
"""Pixels. Size of most letters about a picture 1000 pixels high."""
_FONTS: Final = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
_FONT_HOME: Final = "matplotlib"
"""The package that brings the fonts; one of those the drawing itself needs."""
_ELLIPSIS: Final = "…"


class Letters:
    """How much room texts take in a picture; all lengths are pixels of it."""

    def __init__(self, fine: int = FINE) -> None:
        """Take how many times as large the picture is drawn."""
        self._fine = fine

    def wide(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return how wide a line of text is."""
        font = _font(round(size * self._fine), bold=bold)
        return float(font.getlength(text)) / self._fine

    def fitted(self, text: str, size: float, room: float, *, bold: bool = False) -> str:
        """Return as much of a text as there is room for, with an ellipsis if cut."""
        if self.wide(text, size, bold=bold) <= room:
            return text
        low, high = 0, len(text)
        while low < high:
            middle = (low + high + 1) // 2
            short = text[:middle].rstrip() + _ELLIPSIS
            if self.wide(short, size, bold=bold) <= room:
                low = middle
            else:
                high = middle - 1
        return text[:low].rstrip(" ,;:") + _ELLIPSIS if low else ""

    def wrapped(self, text: str, room: float, size: float, most: int = 2) -> list[str]:
        """Return a text in lines that fit; what is too long ends in an ellipsis."""
        lines: list[str] = []
        now = ""
        words = text.split()
        for place, word in enumerate(words):
            longer = f"{now} {word}".strip()
            if now and self.wide(longer, size) > room:
                if len(lines) == most - 1:
                    now = " ".join([now, *words[place:]])
                    break
                lines.append(self.fitted(now, size, room))
                now = word
            else:
                now = longer
        return [*lines, self.fitted(now, size, room)]


class WrittenPicture(Letters):
    """A picture to write on; all lengths are pixels of the finished picture."""

    def __init__(self, image: Image.Image, fine: int = FINE) -> None:
        """Take a picture that is ``fine`` times as large as the finished one."""
        super().__init__(fine)
        self._image = image
        self._draw = ImageDraw.Draw(image, "RGBA")

    @property
    def width(self) -> int:
        """Of the finished picture."""
        return self._image.width // self._fine

    @property
    def height(self) -> int:
        """Of the finished picture."""
        return self._image.height // self._fine

    def finished(self) -> Image.Image:
        """Return the picture at its own size."""
        if self._fine == 1:
            return self._image
        return self._image.reduce(self._fine)

    def line(
        self, points: Sequence[Spot], colour: str, width: float, *, solid: float = 1.0
    ) -> None:
        """Draw a line through points; ``solid`` is how opaque it is."""
        ends = [self._at(*point) for point in points]
        size = max(1, round(width * self._fine))
        self._draw.line(ends, _tint(colour, solid), size, joint="curve")

    def dashes(self, start: Spot, end: Spot, colour: str, width: float) -> None:
        """Draw a dashed line between two points."""
        length = math.dist(start, end)
        step = 9.0
        for n in range(math.ceil(length / step)):
            one, two = n * step / length, min((n * step + 5.0) / length, 1.0)
            self.line(
                [_between(start, end, one), _between(start, end, two)], colour, width
            )

    def box(
        self,
        box: Rectangle,
        fill: str | None,
        *,
        edge: str | None = None,
        width: float = 1.0,
        radius: float = 0.0,
        solid: float = 1.0,
    ) -> None:
        """Draw a rectangle with round corners."""
        self._draw.rounded_rectangle(
            [self._at(box.left, box.top), self._at(box.right, box.bottom)],
            radius * self._fine,
            None if fill is None else _tint(fill, solid),
            edge,
            round(width * self._fine),
        )

    def disc(
        self, middle: Spot, radius: float, fill: str, *, edge: str, width: float
    ) -> None:
        """Draw a disc with a rim."""
        x, y = middle
        self._draw.ellipse(
            [self._at(x - radius, y - radius), self._at(x + radius, y + radius)],
            fill,
            edge,
            round(width * self._fine),
        )

    def patch(self, points: Sequence[Spot], fill: str) -> None:
        """Fill a polygon."""
        self._draw.polygon([self._at(*point) for point in points], fill)

    def text(
        self,
        at: Spot,
        text: str,
        size: float,
        *,
        colour: str = palette.INK,
        bold: bool = False,
        place: str = "ls",
        halo: float = 0.0,
    ) -> None:
        """Write a line of text.

        Args:
            at: Where its anchor is.
            text: One line.
            size: Height of the letters.
            colour: Of the letters.
            bold: Heavy letters.
            place: Which point of the text ``at`` is: l, m or r from left to right,
                then a (top), m or s (base line).
            halo: Width of a light rim that sets it off what lies behind.
        """
        self._draw.text(
            self._at(*at),
            text,
            colour,
            _font(round(size * self._fine), bold=bold),
            place,
            stroke_width=round(halo * self._fine),
            stroke_fill=palette.PAPER,
        )

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return x * self._fine, y * self._fine


def _between(start: Spot, end: Spot, share: float) -> Spot:
    return (
        start[0] + (end[0] - start[0]) * share,
        start[1] + (end[1] - start[1]) * share,
    )


def _tint(colour: str, solid: float) -> tuple[int, int, int, int]:
    return (*palette.channels(colour), round(255 * solid))


@cache
def font_file(*, bold: bool) -> Path | None:
    """Return the file of letters that have the signs of both systems of units."""
    found = importlib.util.find_spec(_FONT_HOME)
    if found is None or found.origin is None:
        return None
    folder = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"
    file = folder / _FONTS[bold]
    return file if file.is_file() else None


@cache
def _font(size: int, *, bold: bool) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    file = font_file(bold=bold)
    if file is None:
        return ImageFont.load_default(size)
    return ImageFont.truetype(file, size)
