"""A pen for small figures in SVG: lines, boxes, arrows and words, y downwards."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Final
from xml.sax.saxutils import escape

Point = tuple[float, float]

INK: Final = "#1a1a1a"
ACCENT: Final = "#0b5cad"
"""What the figure explains; it is bolder too, for who sees no colour."""
SHADE: Final = "#e3e6ea"
_HEAD: Final = 7.0
_HALF: Final = 0.36
"""Half the angle of an arrow head, radians."""


@dataclass(slots=True)
class DiagramPen:
    """A figure that is being drawn.

    Attributes:
        width, height: Of the figure, in pixels.
        about: What it shows, for who does not see it.
    """

    width: int
    height: int
    about: str
    marks: list[str] = field(default_factory=list)

    def line(
        self,
        start: Point,
        end: Point,
        *,
        colour: str = INK,
        wide: float = 1.2,
        dash: str = "",
    ) -> None:
        """Draw a line."""
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.marks.append(
            f'<path d="M{_at(start)}L{_at(end)}" stroke="{colour}" '
            f'stroke-width="{wide:g}"{dashed}/>'
        )

    def box(
        self,
        corner: Point,
        size: Point,
        *,
        fill: str = SHADE,
        colour: str = INK,
        turn: float = 0.0,
    ) -> None:
        """Draw a box, turned clockwise about its middle by so many degrees."""
        (x, y), (w, h) = corner, size
        about = f' transform="rotate({turn:g} {x + w / 2:g} {y + h / 2:g})"'
        self.marks.append(
            f'<rect x="{x:g}" y="{y:g}" width="{w:g}" height="{h:g}" fill="{fill}" '
            f'stroke="{colour}" stroke-width="1.2"{about if turn else ""}/>'
        )

    def arrow(self, start: Point, end: Point, *, both: bool = False) -> None:
        """Draw an arrow in the accent's colour, from a stroke, or with two heads."""
        self.line(start, end, colour=ACCENT, wide=1.8)
        self._head(start, end)
        if both:
            self._head(end, start)
        else:
            self._stroke_across(start, end)

    def _head(self, start: Point, end: Point) -> None:
        way = math.atan2(start[1] - end[1], start[0] - end[0])
        sides = [
            (end[0] + _HEAD * math.cos(a), end[1] + _HEAD * math.sin(a))
            for a in (way - _HALF, way + _HALF)
        ]
        path = "L".join(map(_at, (end, *sides)))
        self.marks.append(f'<path d="M{path}Z" fill="{ACCENT}"/>')

    def _stroke_across(self, start: Point, end: Point) -> None:
        long = math.dist(start, end)
        x, y = (end[1] - start[1]) / long * 5, (start[0] - end[0]) / long * 5
        self.line(
            (start[0] - x, start[1] - y),
            (start[0] + x, start[1] + y),
            colour=ACCENT,
            wide=1.8,
        )

    def arc(self, centre: Point, start: Point, end: Point) -> None:
        """Draw the quarter of a circle that a leaf's free edge goes along."""
        radius = math.dist(centre, start)
        cross = (start[0] - centre[0]) * (end[1] - centre[1]) - (
            start[1] - centre[1]
        ) * (end[0] - centre[0])
        self.marks.append(
            f'<path d="M{_at(start)}A{radius:g} {radius:g} 0 0 {int(cross > 0)} '
            f'{_at(end)}" stroke="{INK}" stroke-width="1" stroke-dasharray="4 3"/>'
        )

    def dot(self, at: Point) -> None:
        """Draw a dot in the accent's colour."""
        self.marks.append(
            f'<circle cx="{at[0]:g}" cy="{at[1]:g}" r="3.5" fill="{ACCENT}"/>'
        )

    def words(
        self,
        at: Point,
        text: str,
        *,
        key: bool = False,
        anchor: str = "middle",
        size: int = 13,
    ) -> None:
        """Write words whose middle, start or end is there; a key is bold."""
        look = f' fill="{ACCENT}" font-weight="bold"' if key else f' fill="{INK}"'
        self.marks.append(
            f'<text x="{at[0]:g}" y="{at[1]:g}" font-size="{size}" '
            f'text-anchor="{anchor}"{look}>{escape(text)}</text>'
        )

    def wall(self, start: Point, end: Point) -> None:
        """Draw a wall, thick."""
        self.line(start, end, colour="#777", wide=7)

    def svg(self) -> str:
        """Return the figure."""
        body = "\n".join(self.marks)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width} '
            f'{self.height}" width="{self.width}" height="{self.height}" fill="none" '
            f'font-family="Helvetica, Arial, sans-serif" role="img">\n'
            f"<title>{escape(self.about)}</title>\n"
            f'<rect width="{self.width}" height="{self.height}" fill="#fff"/>\n'
            f"{body}\n</svg>\n"
        )


def _at(point: Point) -> str:
    return f"{round(point[0], 2):g} {round(point[1], 2):g}"
