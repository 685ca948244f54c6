"""The table that says what is drawn on each layer of a plan, and how high it is."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.ifc.element import ModelError
from model3d.exchange.schedule.amounts import AmountError, metres, number
from model3d.exchange.schedule.grid import GridError, grids_of_text
from model3d.exchange.schedule.headings import ListColumn, column_of
from model3d.exchange.schedule.kind_words import KindError, kind_of
from model3d.exchange.schedule.listing import Listing
from model3d.exchange.schedule.row import ListRow
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint, listed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.schedule.grid import Grid

OUTLINE: Final = "room outline"
IGNORE: Final = "ignore"
DOOR: Final = "door"
BY_MIDDLE: Final = frozenset({"wall", "obstacle"})
"""Kinds that a line may be drawn of by its middle."""
_DOORS: Final = frozenset({"door", "doors", "room door", "room doors"})
_OUTLINES: Final = frozenset({"room outline", "room", "outline", "rooms"})
_IGNORED: Final = frozenset({"ignore", "ignored", "none", "nothing"})
_OWN: Final = {
    "layer": "layer",
    "layers": "layer",
    "layer name": "layer",
    "becomes": "becomes",
    "thickness": "thickness",
    "wall thickness": "thickness",
    "found": "found",
}
_ALSO: Final = (
    *("height", "bottom", "top", "facing", "system", "line_volts", "to_ground", "amps"),
    *("door", "rear", "condition", "why", "line_up", "notes"),
)
"""Of the headings of lists those that may stand here too."""
_HEADINGS: Final = (
    *("Layer", "Becomes", "Height", "Bottom", "Top", "Thickness", "Facing", "System"),
    *("Amps", "Door", "Rear"),
)
_CLOSE: Final = 1e-6


@dataclass(frozen=True, slots=True)
class LayerRow:
    """A row of the table.

    Attributes:
        number: As a spreadsheet counts, from 1.
        pattern: The name of a layer, where * stands for any letters and ? for one.
        becomes: A kind, ``OUTLINE``, ``DOOR``, ``IGNORE``, or "" where that is not
            decided.
        bottom: Height of the underside, metres.
        top: Height of the top; None for the room's ceiling.
        thickness: Of lines that are walls by their middle; None where areas are drawn.
        facing: Bearing of the fronts; None where it is not said.
        facts: What else an item says: supply, door, rear.
        notes: For comments.
    """

    number: int
    pattern: str
    becomes: str
    bottom: float = 0.0
    top: float | None = None
    thickness: float | None = None
    facing: float | None = None
    facts: dict[str, Any] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    def fits(self, layer: str) -> bool:
        """Tell whether it means a layer; letters count without regard to case."""
        parts = re.split(r"([*?])", self.pattern.casefold())
        pattern = "".join(
            {"*": ".*", "?": "."}.get(part, re.escape(part)) for part in parts
        )
        return re.fullmatch(pattern, layer.casefold(), re.DOTALL) is not None

    @property
    def is_pattern(self) -> bool:
        """Whether several layers may be meant."""
        return bool({"*", "?"} & {*self.pattern})


@dataclass(frozen=True)
class LayerTable:
    """A table of layers.

    Attributes:
        rows: In their order.
    """

    rows: tuple[LayerRow, ...]

    @cached_property
    def _known(self) -> dict[str, LayerRow | None]:
        named = {one.pattern.casefold(): one for one in self.rows}
        return {name: one for name, one in named.items() if not one.is_pattern}

    def row_of(self, layer: str) -> LayerRow | None:
        """Return the row that means a layer: its name, else the first pattern of it."""
        name = layer.casefold()
        if name not in self._known:
            patterns = (one for one in self.rows if one.is_pattern)
            self._known[name] = next((one for one in patterns if one.fits(layer)), None)
        return self._known[name]

    def makes_things(self, layer: str) -> bool:
        """Tell whether what is drawn on a layer becomes things in the room."""
        row = self.row_of(layer)
        return row is not None and row.becomes not in {"", IGNORE, OUTLINE, DOOR}


def written_name(layer: str) -> str:
    """Return a layer's name for a cell, which no spreadsheet takes for a formula."""
    return f"'{layer}" if layer[:1] in {*"=+-@'"} else layer


def table_of(data: bytes, file: str) -> LayerTable:
    """Return a table of layers.

    Args:
        data: CSV.
        file: As it was named, for mistakes.

    Raises:
        ModelError: It is none, or something in it is wrong; all mistakes.
    """
    try:
        grids = grids_of_text(data)
    except GridError as error:
        msg = f"{file}: {error}"
        raise ModelError(msg) from error
    grid, first = _headings(grids, file)
    columns = tuple(_column(n, title) for n, title in enumerate(grid.rows[first]))
    by_key = {one.key: one for one in reversed(columns) if one.key}
    reading = Listing(file, columns, by_key, "m", {}, ())
    for column in columns:
        if column.title and not column.key:
            near = hint(column.title, _HEADINGS)
            said = f"found the heading {found(column.title)}, right is one of "
            said += f"{', '.join(_HEADINGS)}{near}"
            reading.mistake(first + 1, column, "", said)
    rows = [*_rows(reading, grid, first)]
    if reading.mistakes:
        raise ModelError(*map(str, sorted(reading.mistakes, key=lambda one: one.row)))
    return LayerTable(tuple(rows))


def _headings(grids: Sequence[Grid], file: str) -> tuple[Grid, int]:
    for grid in grids:
        for first, row in enumerate(grid.rows):
            keys = {_column(n, title).key for n, title in enumerate(row)}
            if {"layer", "becomes"} <= keys:
                return grid, first
    msg = f"{file}: found no columns Layer and Becomes, right is a table with both"
    raise ModelError(msg)


def _column(place: int, title: str) -> ListColumn:
    column = column_of(place, title)
    words = re.sub(r"[(\[].*", "", title.casefold()).replace("_", " ").split()
    if column.unit and words and words[-1] == column.unit:
        words = words[:-1]
    if key := _OWN.get(" ".join(words)):
        return replace(column, key=key)
    return column if column.key in _ALSO else replace(column, key="")


def _rows(reading: Listing, grid: Grid, first: int) -> Iterator[LayerRow]:
    seen: dict[str, int] = {}
    for number_, row in enumerate(grid.rows[first + 1 :], first + 2):
        if not any(row):
            continue
        layer = re.sub(r"^'(?=[=+\-@'])", "", reading.cell(row, "layer"))
        if not layer:
            reading.mistake(number_, "layer", "", "found nothing, right is a layer")
            continue
        if (before := seen.setdefault(layer.casefold(), number_)) != number_:
            said = f"found {found(layer)} as in row {before}, right is one row"
            reading.mistake(number_, "layer", "", said)
            continue
        yield _read(reading, ListRow(reading, number_, row, layer))


def _read(reading: Listing, row: ListRow) -> LayerRow:
    becomes = _becomes(row)
    made = LayerRow(row.number, row.tag, becomes)
    if becomes in {"", IGNORE}:
        return made
    bottom, top = _heights(row, becomes)
    thickness = _metres(row, "thickness")
    if thickness is not None and becomes not in BY_MIDDLE:
        right = "nothing here, or a wall or an obstacle in column Becomes"
        row.wrong("thickness", f"found a thickness of a {becomes}, right is {right}")
    if thickness is not None and thickness <= 0:
        row.wrong("thickness", "found no thickness, right is a length above zero")
    if becomes in {OUTLINE, DOOR}:
        return replace(made, bottom=bottom, top=top)
    facts = row.supply() | row.words() | row.others() | row.plain()
    notes = (note,) if (note := reading.cell(row.row, "notes")) else ()
    return replace(
        made,
        bottom=bottom,
        top=top,
        thickness=thickness,
        facing=_facing(row),
        facts=facts,
        notes=notes,
    )


def _becomes(row: ListRow) -> str:
    words = " ".join(row.cell("becomes").casefold().split())
    if not words:
        return ""
    if words in _OUTLINES:
        return OUTLINE
    if words in _DOORS:
        return DOOR
    if words in _IGNORED:
        return IGNORE
    try:
        return kind_of(words, {})
    except KindError:
        known = (*KINDS, OUTLINE, DOOR, IGNORE)
        near = hint(words, known)
        right = f"room outline, wall, column, door, ignore or another kind{near}"
        row.wrong("becomes", f"found {found(words)}, right is {right}")
        return ""


def _metres(row: ListRow, key: str) -> float | None:
    if not row.cell(key):
        return None
    written = row.length(key)
    return None if written is None else metres(written, "m")


def _heights(row: ListRow, becomes: str) -> tuple[float, float | None]:
    """Return bottom and top; no top where that is the ceiling."""
    before = len(row.reading.mistakes)
    height, bottom, top = (_metres(row, key) for key in ("height", "bottom", "top"))
    if len(row.reading.mistakes) > before:
        return 0.0, None
    if top is not None and bottom is None:
        structure = becomes == OUTLINE or (becomes != DOOR and KINDS[becomes].structure)
        if not structure and height is None:
            said = "found a top alone, right is the bottom or the height beside it"
            row.wrong("top", said)
        bottom = 0.0 if height is None else top - height
    bottom = bottom or 0.0
    if height is not None and top is not None and abs(bottom + height - top) > _CLOSE:
        said = "found bottom, height and top that do not fit, right is two of them"
        row.wrong("height", said)
    if height is not None and top is None:
        top = bottom + height
    if top is None and (becomes == OUTLINE or not _goes_up(becomes)):
        what = "the room" if becomes == OUTLINE else "what is drawn"
        right = f"the height of {what}, such as 2100 mm, or bottom and top"
        key = "height" if "height" in row.reading.by_key else "layer"
        row.wrong(key, f"found no height, right is {right}")
    if top is not None and top <= bottom:
        row.wrong(
            "height", "found no height above zero, right is a top above the bottom"
        )
    if becomes == OUTLINE and bottom:
        row.wrong("bottom", "found a bottom of the room, right is nothing: it is 0")
    return bottom, top


def _goes_up(kind: str) -> bool:
    """Tell whether a kind reaches the ceiling where nothing else is said."""
    return kind in {"wall", "column"}


def _facing(row: ListRow) -> float | None:
    text = row.cell("facing").casefold()
    if not text:
        return None
    if text in BEARING:
        return BEARING[text]
    try:
        plain = text.replace("\u00b0", "").removesuffix("deg").strip()
        return number(plain, row.reading.signs) % 360
    except AmountError:
        right = listed([*BEARING, "degrees clockwise from north"])
        row.wrong("facing", f"found {found(text)}, right is {right}")
        return None
