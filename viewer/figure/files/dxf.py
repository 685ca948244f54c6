"""A figure as DXF: in real millimetres, with real dimensions and layers by meaning."""

from __future__ import annotations

import importlib.util
import io
import math
from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

from viewer.figure.drafting.drawing import Arc, DimensionLine, Fill, Hatch, Line, Text
from viewer.figure.drafting.pens import PENS
from viewer.figure.drafting.strokes import box_of
from viewer.figure.drafting.typeface import DESCENT
from viewer.stage.palette import channels
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from viewer.figure.drafting.drawing import Figure, Mark, Spot

_NAME: Final = "ezdxf"
_LEAST: Final = 1e-6
_MIDDLE: Final = 5
"""How words of several lines are attached: by their middle."""
_WEIGHTS: Final = (13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)
"""Widths of lines that the format knows, hundredths of a millimetre."""
_STYLE: Final = "FIGURE"
_MILLIMETRES: Final = 4
_METRE: Final = 1000.0
_CAPITALS: Final = 0.73
"""Share of a typeface's size that its capitals are high."""
_PLACES: Final = {"start": 0, "middle": 1, "end": 2}


def check_writer() -> None:
    """See that a DXF can be made here.

    Raises:
        UnusableError: The extra [dxf] is not installed.
    """
    if importlib.util.find_spec(_NAME) is None:
        words = (
            "a DXF needs the extra [dxf]: "
            'python -m pip install "standclear[dxf]"; an SVG needs nothing'
        )
        raise UnusableError([f"standclear: {words}"])


def dxf(figure: Figure) -> bytes:
    """Return a figure as DXF in real millimetres; the same figure, the same bytes.

    The paper is as many times larger as the scale says, so that a distance in the
    views of the figure's own scale is the real one. A plan lies where it does in the
    drawing or model that the scene came from, with the sheet around it.

    Raises:
        UnusableError: The extra [dxf] is not installed.
    """
    check_writer()
    library = import_module(_NAME)
    options = library.options
    before = options.write_fixed_meta_data_for_testing
    # Else the day and a random number would make every file another.
    options.write_fixed_meta_data_for_testing = True
    try:
        document = library.new("R2010", setup=True)
        document.units = _MILLIMETRES
        document.header["$LTSCALE"] = 1.0
        writer = _Writer(document, figure)
        writer.layers()
        for layer in PENS:
            for mark in figure.marks:
                if mark.layer == layer:
                    writer.mark(mark)
        # Else the library names them in the order of a set, which differs by process.
        for name in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(name)
        stream = io.StringIO()
        document.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode("utf-8")


class _Writer:
    """Puts the marks of one figure into a document of the library's."""

    def __init__(self, document: Any, figure: Figure) -> None:  # noqa: ANN401
        self._document, self._figure = document, figure
        self._space = document.modelspace()
        self._scale = figure.scale
        (x, y), (east, north) = figure.home or ((0.0, figure.height), (0.0, 0.0))
        self._left = east * _METRE - x * self._scale
        self._bottom = north * _METRE + y * self._scale

    def layers(self) -> None:
        """Make a layer for each meaning that is used."""
        used = {mark.layer for mark in self._figure.marks}
        self._document.styles.add(_STYLE, font="DejaVuSans.ttf")
        self._dimension_style()
        for name, pen in PENS.items():
            if name not in used:
                continue
            layer = self._document.layers.add(name)
            layer.description = pen.meaning
            layer.rgb = channels(pen.colour)
            wanted = round(pen.width * 100)
            layer.dxf.lineweight = min(_WEIGHTS, key=lambda one: abs(one - wanted))
            if pen.dash:
                layer.dxf.linetype = self._dashes(name, pen.dash)

    def mark(self, mark: Mark) -> None:
        """Put one mark in."""
        kept = {"layer": mark.layer}
        match mark:
            case Line():
                self._space.add_lwpolyline(
                    self._all(mark.points), close=mark.closed, dxfattribs=kept
                )
            case Arc():
                self._space.add_arc(
                    self._at(mark.middle),
                    mark.radius * self._scale,
                    mark.start,
                    mark.end,
                    dxfattribs=kept,
                )
            case Fill():
                self._filled(mark)
            case Hatch():
                self._hatched(mark)
            case Text():
                self._text(mark)
            case DimensionLine():
                self._dimension(mark)

    def _at(self, spot: Spot) -> tuple[float, float]:
        x, y = spot[0] * self._scale, spot[1] * self._scale
        return self._left + x, self._bottom - y

    def _all(self, spots: Iterable[Spot]) -> list[tuple[float, float]]:
        return [self._at(spot) for spot in spots]

    def _dashes(self, name: str, dash: tuple[float, ...]) -> str:
        steps = [
            length * self._scale * (1 if place % 2 == 0 else -1)
            for place, length in enumerate(dash)
        ]
        pattern = [sum(map(abs, steps)), *steps]
        self._document.linetypes.add(name, pattern=pattern, description=name)
        return name

    def _filled(self, mark: Fill) -> None:
        hatch = self._space.add_hatch(dxfattribs={"layer": mark.layer})
        hatch.rgb = channels(PENS[mark.layer].fill)
        hatch.paths.add_polyline_path(self._all(mark.points), is_closed=True)

    def _hatched(self, mark: Hatch) -> None:
        pattern = PENS[mark.layer].pattern
        if pattern is None:
            return
        step = pattern.spacing * self._scale
        lines = [
            [
                angle,
                (0.0, 0.0),
                (
                    -math.sin(math.radians(angle)) * step,
                    math.cos(math.radians(angle)) * step,
                ),
                [],
            ]
            for angle in pattern.angles
        ]
        kept = {"layer": mark.layer, "lineweight": _WEIGHTS[0]}
        hatch = self._space.add_hatch(dxfattribs=kept)
        hatch.rgb = channels(PENS[mark.layer].colour)
        hatch.set_pattern_fill(mark.layer.upper(), definition=lines)
        hatch.paths.add_polyline_path(self._all(mark.outline), is_closed=True)

    def _text(self, mark: Text) -> None:
        text = self._space.add_text(
            clean(mark.text),
            height=mark.size * _CAPITALS * self._scale,
            dxfattribs={"layer": mark.layer, "style": _STYLE},
        )
        enums = import_module(f"{_NAME}.enums")
        places = enums.TextEntityAlignment
        alignment = (places.LEFT, places.CENTER, places.RIGHT)[_PLACES[mark.anchor]]
        text.set_placement(self._at(mark.at), align=alignment)

    def _dimension_style(self) -> None:
        style = self._document.dimstyles.new(_STYLE)
        style.dxf.dimtxsty = _STYLE
        for name, value in (
            ("dimtxt", 2.5 * _CAPITALS),
            ("dimasz", 1.2),
            ("dimtsz", 0.9),
            ("dimexo", 0.8),
            ("dimexe", 1.2),
            ("dimgap", 0.5),
        ):
            setattr(style.dxf, name, value * self._scale)
        style.dxf.dimtad = 0
        style.dxf.dimdec = 0

    def _dimension(self, mark: DimensionLine) -> None:
        """Put in a real dimension, its words where they are in the figure."""
        (x0, y0), (x1, y1) = mark.line
        words = r"\P".join(clean(text.text) for text in mark.texts) or "<>"
        options: dict[str, Any] = {
            "dimstyle": _STYLE,
            "text": words if not mark.texts else " ",
            "override": {"dimlfac": mark.scale / self._scale},
            "dxfattribs": {"layer": mark.layer},
        }
        if mark.texts:
            boxes = [box_of(text) for text in mark.texts]
            left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
            top, bottom = min(box[1] for box in boxes), max(box[3] for box in boxes)
            low = DESCENT * mark.texts[0].size / 2
            options["location"] = self._at(
                ((left + right) / 2, (top + bottom) / 2 - low)
            )
        start, end = self._at(mark.start), self._at(mark.end)
        if abs(x0 - x1) < _LEAST or abs(y0 - y1) < _LEAST:
            angle = 90 if abs(x0 - x1) < _LEAST else 0
            made = self._space.add_linear_dim(
                base=self._at(mark.line[0]),
                p1=start,
                p2=end,
                angle=angle,
                text_rotation=0.0,
                **options,
            )
        else:
            options |= {"text": words}
            options.pop("location", None)
            made = self._space.add_aligned_dim(
                p1=start, p2=end, distance=0.0, **options
            )
        self._rendered(made, words, options.get("location"))
        if mark.leader:
            leader = self._all(mark.leader)
            self._space.add_lwpolyline(leader, dxfattribs={"layer": mark.layer})

    def _rendered(self, made: Any, words: str, at: Spot | None) -> None:  # noqa: ANN401
        """Draw a dimension; words that have a place of their own are put in last.

        The library takes words of several lines for one long line, and leaves out what
        of the others lies below that.
        """
        made.render()
        if at is None:
            return
        dimension = made.dimension
        dimension.dxf.text = words
        dimension.dxf.text_midpoint = at
        kept = {"layer": dimension.dxf.layer, "style": _STYLE, "insert": at}
        height = 2.5 * _CAPITALS * self._scale
        more = {"char_height": height, "attachment_point": _MIDDLE}
        dimension.get_geometry_block().add_mtext(words, dxfattribs=kept | more)
