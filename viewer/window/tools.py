"""What stands about and over the room: title, layers, views, section, legend."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.wording import lengths
from viewer.sheet.places import Rectangle
from viewer.stage import palette
from viewer.stage.cameras import ABOVE
from viewer.window.frame import BAR, EDGE
from viewer.window.ink import LINE, Ink
from viewer.window.keys import KEYS
from viewer.window.section import AXES, NAMES
from viewer.window.state import Action
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.window.frame import Frame
    from viewer.window.ink import Board
    from viewer.window.state import WindowState

_BUTTON: Final = 29.0
_LONGEST_TITLE: Final = 160
_COUNTS: Final = (("not-met", "not met"), ("open", "open"), ("met", "met"))
_GRID: Final = (
    (("north-west", "NW"), ("north", "N"), ("north-east", "NE")),
    (("west", "W"), (ABOVE, "Top"), ("east", "E")),
    (("south-west", "SW"), ("south", "S"), ("south-east", "SE")),
)
_LEGEND: Final = (
    ("must be clear", palette.SPACE, palette.SPACE_EDGE),
    ("in the way", palette.INTRUSION, palette.INTRUSION_EDGE),
    ("picked", palette.SELECTION, palette.SELECTION_EDGE),
)


def head(state: WindowState, frame: Frame, over: Action | None) -> Board:
    """Draw the title and the counts."""
    box, scale = frame.head, frame.scale
    ink = Ink(box, scale, over)
    edge = 1.2 * EDGE * scale
    middle = (box.top + box.bottom) / 2
    right = box.right - edge
    for verdict, words in reversed(_COUNTS):
        count = len(state.rows(verdict))
        if state.is_withheld:
            continue
        text = f"{count} {words}"
        bold = verdict == "not-met" and count > 0
        right -= ink.wide(text, bold=bold)
        colour = palette.INTRUSION_TEXT if bold else palette.INK
        ink.text((right, middle), text, bold=bold, colour=colour)
        right -= 1.4 * edge
    size = 1.25 * ink.size
    rules = clean(state.stage.rules)
    room = right - edge - ink.wide(rules) - 0.9 * edge
    title = clean(state.stage.title, _LONGEST_TITLE)
    title = ink.fitted(title, room, size=size, bold=True)
    ink.text((edge, middle), title, size=size, bold=True)
    after = edge + ink.wide(title, size=size, bold=True) + 0.9 * edge
    ink.text((after, middle), rules, colour=palette.FAINT_INK)
    ink.line((0, box.bottom - 0.5), (box.right, box.bottom - 0.5), palette.GRID)
    return ink.finished()


def tools(
    state: WindowState, frame: Frame, view: str, over: Action | None
) -> Iterator[Board]:
    """Draw all that lies over the room, each on a board of its own.

    Args:
        state: Of the window.
        frame: How the window is divided.
        view: Name of the view the camera shows, or "".
        over: What the mouse is over.
    """
    yield _bar(state, frame, over)
    if state.box == "layers":
        yield _layers(state, frame, over)
    if state.box == "keys":
        yield _keys(state, frame, over)
    yield _views(frame, view, over)
    section = _section(state, frame, over)
    yield section
    legend = _legend(frame, over, section.box.left)
    if legend is not None:
        yield legend
    if state.message:
        yield _message(state, frame, over)


def _bar(state: WindowState, frame: Frame, over: Action | None) -> Board:
    scale, room = frame.scale, frame.room
    left, top = room.left + EDGE * scale, room.top + EDGE * scale
    tall, wide, gap = _BUTTON * scale, 72 * scale, 6 * scale
    box = Rectangle(left, top, left + 2 * wide + gap, top + tall)
    ink = Ink(box, scale, over, clear=True)
    first = Rectangle(left, top, left + wide, top + tall)
    layers, keys = Action("box", "layers"), Action("box", "keys")
    ink.button(first, "Layers", layers, on=state.box == "layers")
    second = Rectangle(first.right + gap, top, first.right + gap + wide, top + tall)
    ink.button(second, "Keys", keys, on=state.box == "keys")
    return ink.finished()


def _under_bar(frame: Frame, wide: float, tall: float) -> Rectangle:
    room, scale = frame.room, frame.scale
    left = room.left + EDGE * scale
    top = room.top + (EDGE + _BUTTON + 6) * scale
    return Rectangle(left, top, left + wide, top + tall)


def _paper(box: Rectangle, scale: float, over: Action | None) -> Ink:
    """Return a board with paper on it, which nothing under it is pressed through."""
    ink = Ink(box, scale, over, clear=True)
    ink.control(box, Action("rest"))
    ink.fill(box.wider(-0.5), palette.PAPER, edge=palette.GRID, radius=6 * scale)
    return ink


def _layers(state: WindowState, frame: Frame, over: Action | None) -> Board:
    scale = frame.scale
    row = 1.12 * LINE * 13.5 * scale
    layers = state.stage.layers
    box = _under_bar(frame, 262 * scale, len(layers) * row + 16 * scale)
    ink = _paper(box, scale, over)
    y = box.top + 8 * scale
    side = 14 * scale
    for layer in layers:
        middle = y + row / 2
        line = Rectangle(box.left + 4 * scale, y, box.right - 4 * scale, y + row)
        ink.row(line, Action("layer", layer.id))
        left = box.left + 12 * scale
        tick = Rectangle(left, middle - side / 2, left + side, middle + side / 2)
        ink.tick(tick, on=layer.id not in state.hidden)
        ink.text((tick.right + 9 * scale, middle), layer.name, size=ink.small)
        y += row
    return ink.finished()


def _keys(state: WindowState, frame: Frame, over: Action | None) -> Board:
    scale = frame.scale
    row = 1.08 * LINE * 12.0 * scale
    rows = [one for one in KEYS if not one.lesson or state.start.steps]
    measure = Ink(Rectangle(0, 0, 1, 1), scale, over)
    size = measure.small
    first = max(measure.wide(one.shown, size=size, bold=True) for one in rows)
    second = max(measure.wide(one.about, size=size) for one in rows)
    wide = first + second + 42 * scale
    box = _under_bar(frame, wide, len(rows) * row + 16 * scale)
    ink = _paper(box, scale, over)
    y = box.top + 8 * scale + row / 2
    for one in rows:
        left = box.left + 12 * scale
        ink.text((left, y), one.shown, size=ink.small, bold=True)
        ink.text((left + first + 18 * scale, y), one.about, size=ink.small)
        y += row
    return ink.finished()


def _views(frame: Frame, view: str, over: Action | None) -> Board:
    scale, room = frame.scale, frame.room
    wide, tall = 37 * scale, 25 * scale
    left = room.right - EDGE * scale - 3 * wide
    top = room.top + EDGE * scale
    box = Rectangle(left, top, left + 3 * wide, top + 4 * tall + 3 * scale)
    ink = _paper(box, scale, over)
    for n, row in enumerate(_GRID):
        for m, (name, text) in enumerate(row):
            x, y = left + m * wide, top + n * tall
            place = Rectangle(x, y, x + wide, y + tall)
            _plain(ink, place, text, Action("view", name), on=name == view)
    y = top + 3 * tall
    ink.line((left, y), (box.right, y), palette.GRID)
    place = Rectangle(left, y, box.right, box.bottom)
    _plain(ink, place, "Whole room", Action("whole"), on=False)
    return ink.finished()


def _plain(ink: Ink, box: Rectangle, text: str, action: Action, *, on: bool) -> None:
    """Draw a button without a rim, on paper."""
    inner = box.wider(-3 * ink.scale)
    if on:
        ink.control(box, action)
        ink.fill(inner, palette.INK, radius=4 * ink.scale)
    else:
        over = ink.control(box, action)
        if over:
            fill = palette.mixed(palette.PAPER, palette.INK, 0.09)
            ink.fill(inner, fill, radius=4 * ink.scale)
    colour = palette.PAPER if on else palette.INK
    ink.text(box.middle, text, size=ink.small, colour=colour, place="m")


def _section(state: WindowState, frame: Frame, over: Action | None) -> Board:
    scale, room = frame.scale, frame.room
    section = state.section
    tall = (BAR if section is None else 64) * scale
    wide = 352 * scale
    right, bottom = room.right - EDGE * scale, room.bottom - EDGE * scale
    box = Rectangle(right - wide, bottom - tall, right, bottom)
    ink = _paper(box, scale, over)
    middle = box.bottom - 17 * scale
    left = box.left + 12 * scale
    ink.text((left, middle), "Section", size=ink.small, colour=palette.FAINT_INK)
    x = left + ink.wide("Section", size=ink.small) + 8 * scale
    choices = [("", "Off"), *((axis, NAMES[axis]) for axis in AXES)]
    texts = sum(ink.wide(text, size=ink.small) for _, text in choices)
    pad = (box.right - 6 * scale - x - texts) / len(choices)
    for axis, text in choices:
        end = x + ink.wide(text, size=ink.small) + pad
        place = Rectangle(x, middle - 13 * scale, end, middle + 13 * scale)
        on = axis == (section.axis if section else "")
        _plain(ink, place, text, Action("axis", axis), on=on)
        x = end
    if section is not None:
        y = box.top + 18 * scale
        at = lengths(abs(section.at), state.stage.units)[0]
        told = f"-{at}" if section.at < 0 else at
        edge = box.right - 12 * scale
        ink.text((edge, y), told, size=ink.small, place="r")
        room_for = ink.wide("00 ft 00 15/16 in", size=ink.small)
        track = Rectangle(
            left, y - 10 * scale, edge - room_for - 8 * scale, y + 10 * scale
        )
        ink.slider(track, state.cut_share, Action("cut"))
    return ink.finished()


def _legend(frame: Frame, over: Action | None, until: float) -> Board | None:
    """Draw what colours mean; None where there is no room for it."""
    scale, room = frame.scale, frame.room
    left, bottom = room.left + EDGE * scale, room.bottom - EDGE * scale
    measure = Ink(Rectangle(left, bottom - 1, left + 1, bottom), scale, over)
    size = measure.small
    words = sum(measure.wide(text, size=size) for text, _, _ in _LEGEND)
    least, gaps = words + (20 * len(_LEGEND) + 24) * scale, len(_LEGEND) - 1
    gap = min((until - 8 * scale - left - least) / gaps, 14 * scale)
    if gap < 6 * scale:
        return None
    box = Rectangle(left, bottom - BAR * scale, left + least + gaps * gap, bottom)
    ink = _paper(box, scale, over)
    x, middle = left + 12 * scale, (box.top + box.bottom) / 2
    half = 6.5 * scale
    for text, fill, edge in _LEGEND:
        swatch = Rectangle(x, middle - half, x + 2 * half, middle + half)
        faint = (
            palette.mixed(palette.PAPER, fill, 0.4) if fill == palette.SPACE else fill
        )
        ink.fill(swatch, faint, edge=edge, width=1.4 * scale)
        x = swatch.right + 7 * scale
        ink.text((x, middle), text, size=size)
        x += ink.wide(text, size=size) + gap
    return ink.finished()


def _message(state: WindowState, frame: Frame, over: Action | None) -> Board:
    scale, room = frame.scale, frame.room
    wide = min(460 * scale, room.right - room.left - 2 * EDGE * scale)
    left = (room.left + room.right - wide) / 2
    measure = Ink(Rectangle(left, 0, left + wide, 1), scale, over)
    text = clean(state.message, 400)
    lines = measure.wrapped(text, wide - 28 * scale, size=measure.small)
    line = LINE * measure.small
    bottom = room.bottom - (EDGE + 74) * scale
    box = Rectangle(left, bottom - len(lines) * line - 16 * scale, left + wide, bottom)
    ink = _paper(box, scale, over)
    y = box.top + 8 * scale + line / 2
    for one in lines:
        at = left + 14 * scale, y
        ink.text(at, one, size=ink.small, colour=palette.INTRUSION_TEXT)
        y += line
    return ink.finished()
