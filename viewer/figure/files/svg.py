"""A figure as SVG: real text, true sizes, and nothing that runs."""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from typing import TYPE_CHECKING, Final
from xml.sax.saxutils import escape, quoteattr

from viewer.figure.drafting.drawing import Arc, DimensionLine, Fill, Hatch, Line, Text
from viewer.figure.drafting.pens import PENS
from viewer.figure.drafting.strokes import arc_points, dimension_strokes
from viewer.figure.drafting.typeface import FAMILY, wide
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.figure.drafting.drawing import Figure, Mark, Spot
    from viewer.figure.drafting.pens import Pen

_SPACE: Final = "http://www.w3.org/2000/svg"


def svg(figure: Figure, *, name: str = "figure") -> str:
    """Return a figure as an SVG element; the same figure gives the same text.

    Its letters are set as wide as they were measured, whatever typeface is at hand.

    Args:
        figure: What is drawn.
        name: Start of the ids in it, unique on a page with several figures.
    """
    size = f'width="{_n(figure.width)}mm" height="{_n(figure.height)}mm"'
    box = f'viewBox="0 0 {_n(figure.width)} {_n(figure.height)}"'
    opening = (
        f'<svg xmlns="{_SPACE}" {size} {box} role="img" '
        f'aria-labelledby="{name}-title {name}-about" '
        f'font-family="{FAMILY}, Verdana, sans-serif" fill="none" '
        'stroke-linejoin="round">'
    )
    parts = [
        opening,
        f'<title id="{name}-title">{_text(figure.title)}</title>',
        f'<desc id="{name}-about">{_text(figure.about)}</desc>',
    ]
    by_layer: defaultdict[str, list[Mark]] = defaultdict(list)
    for mark in figure.marks:
        by_layer[mark.layer].append(mark)
    for layer, pen in PENS.items():
        inner = "".join(_marks(by_layer[layer], pen))
        if inner:
            parts.append(f"<g {_style(pen)}>{inner}</g>")
    written = "".join(_written(text) for mark in figure.marks for text in _texts(mark))
    parts.append(f'<g fill="#000000">{written}</g></svg>')
    return "\n".join(parts) + "\n"


def _style(pen: Pen) -> str:
    dash = " ".join(_n(one) for one in pen.dash)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'stroke="{pen.colour}" stroke-width="{_n(pen.width)}"{dashed}'


def _marks(mine: Sequence[Mark], pen: Pen) -> Iterator[str]:
    """Yield what the marks of one layer draw."""
    for mark in mine:
        if isinstance(mark, Fill):
            yield f'<path fill="{pen.fill}" stroke="none" d="{_way(mark.points)}Z"/>'
        if isinstance(mark, Hatch) and pen.fill != "#FFFFFF":
            yield f'<path fill="{pen.fill}" stroke="none" d="{_way(mark.outline)}Z"/>'
    fine = "".join(
        _way(line) for mark in mine if isinstance(mark, Hatch) for line in mark.lines
    )
    if fine:
        yield f'<path stroke-width="0.13" d="{fine}"/>'
    whole = "".join(_path(mark) for mark in mine)
    if whole:
        yield f'<path d="{whole}"/>'


def _path(mark: Mark) -> str:
    match mark:
        case Line():
            return _way(mark.points) + ("Z" if mark.closed else "")
        case Arc():
            return _way(arc_points(mark))
        case DimensionLine():
            return "".join(_way(line) for line in dimension_strokes(mark))
        case _:
            return ""


def _texts(mark: Mark) -> tuple[Text, ...]:
    if isinstance(mark, Text):
        return (mark,)
    return mark.texts if isinstance(mark, DimensionLine) else ()


def _written(text: Text) -> str:
    words = clean(text.text)
    width = wide(words, text.size, bold=text.bold)
    if not words or not width:
        return ""
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    bold = ' font-weight="bold"' if text.bold else ""
    return (
        f'<text x="{_n(text.at[0])}" y="{_n(text.at[1])}" font-size="{_n(text.size)}"'
        f'{anchor}{bold} textLength="{_n(width)}" '
        f'lengthAdjust="spacingAndGlyphs">{_text(words)}</text>'
    )


def _way(points: Iterable[Spot]) -> str:
    found = [f"{_n(x)} {_n(y)}" for x, y in points]
    return "M" + "L".join(found)


def _text(words: str) -> str:
    return escape(clean(words))


def attribute(words: str) -> str:
    """Return words as a quoted attribute."""
    return quoteattr(clean(words))


@lru_cache(maxsize=1 << 16)
def _n(value: float) -> str:
    """Write a number to the hundredth of a millimetre, without needless noughts.

    Most lines of a drawing share their ends with others: each is written once.

    >>> _n(12.0), _n(0.456), _n(-0.001), _n(100.0)
    ('12', '0.46', '0', '100')
    """
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short == "-0" else short
