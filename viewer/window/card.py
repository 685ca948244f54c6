"""What is picked: its name, what it is, and the sliders that move it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.wording import length
from viewer.sheet.places import Rectangle
from viewer.stage import palette
from viewer.window.column import LONGEST, LONGEST_ID
from viewer.window.ink import LINE, SOFT
from viewer.window.moving import MOST
from viewer.window.state import Action
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.window.column import Column
    from viewer.window.state import WindowState

_MOST_LINES: Final = 3
_BACK: Final = "Put all back"
_NO_RULE: Final = "No requirement applies to it."


def write_card(column: Column, state: WindowState, item: str) -> None:
    """Write what is picked on a card at the top of the list."""
    ink, scale = column.ink, column.ink.scale
    top = column.y
    edge = 6 * scale
    tall = _height(column, state, item)
    box = Rectangle(column.left - edge, top, column.right + edge, top + tall)
    ink.fill(box, SOFT, edge=palette.GRID, radius=6 * scale)
    column.skip(10)
    _head(column, item)
    for text in _about(column, state, item):
        column.write(text, colour=palette.FAINT_INK)
    if state.can_move:
        _buttons(column, state)
        if state.form:
            _sliders(column, state, item)
    column.y = top + tall
    column.skip(8)


def _head(column: Column, item: str) -> None:
    ink, scale = column.ink, column.ink.scale
    side = LINE * ink.size
    close = Rectangle(column.right - side, column.y, column.right, column.y + side)
    room = close.left - column.left - 6 * scale
    who = ink.fitted(clean(item, LONGEST_ID), room, bold=True)
    ink.text((column.left, column.y + side / 2), who, bold=True)
    ink.button(close, "×", Action("nothing"))  # noqa: RUF001 - the sign that closes
    column.y += side


def _about(column: Column, state: WindowState, item: str) -> list[str]:
    """Return what the thing is, in lines."""
    ink = column.ink
    shapes = state.stage.shapes
    about = next((one.about for one in shapes if one.item == item and one.about), "")
    text = clean(about, LONGEST)
    room = column.right - column.left
    lines = ink.wrapped(text, room, size=ink.small)[:_MOST_LINES]
    findings = state.stage.judgements
    if not any(item in {one.subject, *one.in_the_way} for one in findings):
        lines.append(ink.fitted(_NO_RULE, room, size=ink.small))
    return lines


def _height(column: Column, state: WindowState, item: str) -> float:
    ink, scale = column.ink, column.ink.scale
    tall = 20 * scale + LINE * ink.size
    tall += len(_about(column, state, item)) * column.line
    if state.can_move:
        tall += 5 * scale + 1.7 * ink.size
        if state.form:
            tall += 8 * scale + 3 * (column.line + 24 * scale)
    return tall


def _buttons(column: Column, state: WindowState) -> None:
    ink, scale = column.ink, column.ink.scale
    column.skip(5)
    wide = ink.wide(_BACK, size=ink.small) + 18 * scale
    top, bottom = column.y, column.y + 1.7 * ink.size
    first = Rectangle(column.left, top, column.left + wide, bottom)
    ink.button(first, "Move it", Action("form"), on=state.form)
    if state.moving.changed:
        left = first.right + 8 * scale
        ink.button(Rectangle(left, top, left + wide, bottom), _BACK, Action("back"))
    column.y = bottom


def _sliders(column: Column, state: WindowState, item: str) -> None:
    """Draw a slider for each of the item's own ways."""
    ink, scale, moving = column.ink, column.ink.scale, state.moving
    column.skip(8)
    side = 20 * scale
    for way, (there, back) in enumerate(moving.ways(item)):
        steps = moving.steps(item)[way]
        told = f"{back} or {there}"
        if steps:
            told_length = length(moving.metres(abs(steps)), moving.units)
            told = f"{told_length} {there if steps > 0 else back}"
        column.write(told, bold=bool(steps), most=1)
        top, bottom = column.y, column.y + side
        less = Rectangle(column.left, top, column.left + side, bottom)
        more = Rectangle(column.right - side, top, column.right, bottom)
        name = str(way)
        ink.button(less, "-", Action("nudge", name, -1), enabled=steps > -MOST)
        ink.button(more, "+", Action("nudge", name, 1), enabled=steps < MOST)
        gap = 12 * scale
        track = Rectangle(less.right + gap, top, more.left - gap, bottom)
        ink.slider(track, state.share(way), Action("slide", name))
        column.y = bottom
        column.skip(4)
