"""A board to write on, with places that can be pressed: buttons, rows, sliders."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Final

from PIL import Image

from viewer.sheet.letters import FINE, Sheet
from viewer.sheet.places import Rectangle
from viewer.stage import palette

if TYPE_CHECKING:
    from viewer.sheet.places import Spot
    from viewer.window.state import Action

LETTERS: Final = 13.5
"""Pixels. Size of most letters in a window of 1600 by 1000."""
SMALL: Final = 12.0
LINE: Final = 1.42
"""Height of a line by the size of its letters."""
_PRESSED: Final = palette.mixed(palette.PAPER, palette.INK, 0.14)
_OVER: Final = palette.mixed(palette.PAPER, palette.INK, 0.07)
SOFT: Final = palette.mixed(palette.PAPER, palette.INK, 0.04)
_MOST_KEPT: Final = 16_384
"""Texts whose width is remembered."""
_BASE: Final = 0.36
"""Share of the letters' size from their middle down to the base line."""


@dataclass(frozen=True, slots=True)
class Control:
    """A place that can be pressed.

    Attributes:
        box: Where it is, pixels of the window.
        action: What it asks for.
        slides: It is dragged along; the action's number is where, 0 to 1.
    """

    box: Rectangle
    action: Action
    slides: bool = False

    def at(self, spot: Spot) -> float:
        """Return how far along a slider a spot is, 0 to 1."""
        left, right = self.box.left, self.box.right
        return min(max((spot[0] - left) / (right - left), 0.0), 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Board:
    """A finished picture of controls.

    Attributes:
        image: It goes where ``box`` is.
        box: In the window, pixels.
        controls: What can be pressed on it.
    """

    image: Image.Image
    box: Rectangle
    controls: tuple[Control, ...]


class Ink:
    """Writes on one part of the window; all places are pixels of the window."""

    def __init__(
        self, box: Rectangle, scale: float, over: Action | None, *, clear: bool = False
    ) -> None:
        """Start with an empty board.

        Args:
            box: Where it goes.
            scale: Of letters.
            over: The action of the control the mouse is over.
            clear: What is not written on lets the room be seen.
        """
        size = (round(box.right - box.left), round(box.bottom - box.top))
        paper = (*palette.channels(palette.PAPER), 0 if clear else 255)
        self._image = Image.new("RGBA", (size[0] * FINE, size[1] * FINE), paper)
        self._sheet = Sheet(self._image)
        self._over = over
        self._controls: list[Control] = []
        self.box = box
        self.scale = scale

    @property
    def size(self) -> float:
        """Of most letters, pixels."""
        return LETTERS * self.scale

    @property
    def small(self) -> float:
        """Of small letters, pixels."""
        return SMALL * self.scale

    def finished(self) -> Board:
        """Return the board."""
        return Board(reduced(self._image), self.box, tuple(self._controls))

    def control(self, box: Rectangle, action: Action, *, slides: bool = False) -> bool:
        """Let a place be pressed; tell whether the mouse is over it."""
        self._controls.append(Control(box, action, slides))
        return action == self._over

    def fill(
        self,
        box: Rectangle,
        colour: str,
        *,
        edge: str | None = None,
        width: float = 1.0,
        radius: float = 0.0,
        solid: float = 1.0,
    ) -> None:
        """Fill a rectangle with round corners."""
        if not self._holds(box.top, box.bottom):
            return
        self._sheet.box(
            self._here(box), colour, edge=edge, width=width, radius=radius, solid=solid
        )

    def line(self, start: Spot, end: Spot, colour: str, width: float = 1.0) -> None:
        """Draw a line."""
        self._sheet.line([self._spot(start), self._spot(end)], colour, width)

    def patch(self, points: list[Spot], colour: str) -> None:
        """Fill a polygon."""
        self._sheet.patch([self._spot(point) for point in points], colour)

    def disc(self, middle: Spot, radius: float, fill: str, edge: str) -> None:
        """Draw a disc with a rim."""
        self._sheet.disc(
            self._spot(middle), radius, fill, edge=edge, width=1.4 * self.scale
        )

    def text(
        self,
        at: Spot,
        text: str,
        *,
        size: float | None = None,
        colour: str = palette.INK,
        bold: bool = False,
        place: str = "l",
    ) -> None:
        """Write a line of text whose middle, from top to bottom, is at a spot."""
        letters = size or self.size
        if not self._holds(at[1] - letters, at[1] + letters):
            return
        x, y = self._spot(at)
        spot = (x, y + _BASE * letters)
        self._sheet.text(
            spot, text, letters, colour=colour, bold=bold, place=f"{place}s"
        )

    def wide(
        self, text: str, *, size: float | None = None, bold: bool = False
    ) -> float:
        """Return how wide a line of text is."""
        return wide(text, size or self.size, bold=bold)

    def fitted(
        self, text: str, room: float, *, size: float | None = None, bold: bool = False
    ) -> str:
        """Return as much of a text as there is room for."""
        return _fitted(text, size or self.size, room, bold=bold)

    def wrapped(
        self, text: str, room: float, *, size: float | None = None, bold: bool = False
    ) -> list[str]:
        """Return a text in lines; a word that is too long for one is cut."""
        return [*_wrapped(text, size or self.size, room, bold=bold)]

    def button(
        self,
        box: Rectangle,
        text: str,
        action: Action,
        *,
        on: bool = False,
        strong: bool = False,
        enabled: bool = True,
    ) -> None:
        """Draw a button.

        Args:
            box: Where it is.
            text: On it.
            action: What it asks for.
            on: What it asks for is the case.
            strong: It is the one to be pressed most.
            enabled: It can be pressed.
        """
        over = enabled and self.control(box, action)
        dark = on or strong
        fill = palette.INK if dark else _OVER if over else palette.PAPER
        if dark and over:
            fill = palette.mixed(palette.INK, palette.PAPER, 0.18)
        colour = palette.PAPER if dark else palette.INK
        if not enabled:
            fill, colour = palette.PAPER, palette.mixed(palette.PAPER, palette.INK, 0.4)
        edge = palette.INK if dark and enabled else palette.GRID
        self.fill(box, fill, edge=edge, radius=5.0 * self.scale)
        self.text(box.middle, text, size=self.small, colour=colour, place="m")

    def row(self, box: Rectangle, action: Action, *, picked: bool = False) -> None:
        """Let a whole row be pressed, and show it when the mouse is over it."""
        over = self.control(box, action)
        if picked or over:
            fill = palette.mixed(palette.PAPER, palette.SELECTION, 0.3)
            self.fill(box, fill if picked else _OVER, radius=4.0 * self.scale)

    def slider(self, box: Rectangle, share: float, action: Action) -> None:
        """Draw a slider; a press anywhere on it moves it there."""
        over = self.control(box, action, slides=True)
        middle = (box.top + box.bottom) / 2
        half = 2.0 * self.scale
        track = Rectangle(box.left, middle - half, box.right, middle + half)
        self.fill(track, palette.GRID, radius=half)
        x = box.left + (box.right - box.left) * share
        radius = (7.5 if over else 6.5) * self.scale
        self.disc((x, middle), radius, palette.INK, palette.PAPER)

    def tick(self, box: Rectangle, *, on: bool) -> None:
        """Draw a box with a tick in it, or without."""
        fill = palette.INK if on else palette.PAPER
        edge = palette.INK if on else palette.FAINT_INK
        self.fill(box, fill, edge=edge, width=1.2, radius=2.5 * self.scale)
        if on:
            side = box.right - box.left
            (x, y), width = (box.left, box.top), 1.8 * self.scale
            ends = [(0.22, 0.52), (0.43, 0.74), (0.8, 0.28)]
            a, b, c = ((x + u * side, y + v * side) for u, v in ends)
            self.line(a, b, palette.PAPER, width)
            self.line(b, c, palette.PAPER, width)

    def badge(self, box: Rectangle, text: str, verdict: str) -> None:
        """Draw the sign of a verdict: filled, a ring, or a plain tick."""
        radius = (box.bottom - box.top) / 2
        if verdict == "not-met":
            fill, edge, colour = (
                palette.INTRUSION,
                palette.INTRUSION_EDGE,
                palette.PAPER,
            )
        elif verdict == "open":
            fill, edge, colour = palette.PAPER, palette.INK, palette.INK
        else:
            fill, edge, colour = palette.PAPER, palette.GRID, palette.FAINT_INK
        width = 1.8 if verdict == "open" else 1.2
        self.fill(box, fill, edge=edge, width=width * self.scale, radius=radius)
        size = 0.86 * self.small
        self.text(box.middle, text, size=size, colour=colour, bold=True, place="m")

    def _holds(self, top: float, bottom: float) -> bool:
        """Tell whether something that goes from a height to another is seen."""
        return bottom >= self.box.top and top <= self.box.bottom

    def _spot(self, spot: Spot) -> Spot:
        return spot[0] - self.box.left, spot[1] - self.box.top

    def _here(self, box: Rectangle) -> Rectangle:
        (left, top), (right, bottom) = (
            self._spot((box.left, box.top)),
            self._spot((box.right, box.bottom)),
        )
        return Rectangle(left, top, right, bottom)


@cache
def _measure() -> Sheet:
    return Sheet(Image.new("RGBA", (FINE, FINE)))


# The same words are measured again for every picture of a list.
@lru_cache(maxsize=_MOST_KEPT)
def wide(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a line of text is, pixels."""
    return _measure().wide(text, size, bold=bold)


@lru_cache(maxsize=_MOST_KEPT)
def _fitted(text: str, size: float, room: float, *, bold: bool) -> str:
    return _measure().fitted(text, size, room, bold=bold)


@lru_cache(maxsize=_MOST_KEPT)
def _wrapped(text: str, size: float, room: float, *, bold: bool) -> tuple[str, ...]:
    lines: list[str] = []
    now = ""
    for word in text.split():
        longer = f"{now} {word}".strip()
        if now and wide(longer, size, bold=bold) > room:
            lines.append(now)
            longer = word
        now = _fitted(longer, size, room, bold=bold)
    return (*lines, now) if now else (*lines,)


def reduced(image: Image.Image) -> Image.Image:
    """Return a picture that was drawn ``FINE`` times as large at its own size."""
    # With colours weighed by how solid they are, lest rims turn dark.
    return image.convert("RGBa").reduce(FINE).convert("RGBA")
