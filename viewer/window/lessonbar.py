"""What a lesson says and asks, below the room."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.sheet.places import Rectangle
from viewer.stage import palette
from viewer.window.ink import LINE, Ink
from viewer.window.lesson import WORDS, changes, step_at
from viewer.window.state import Action
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.window.ink import Board
    from viewer.window.state import WindowState

_PAD: Final = 14.0
_BEGIN: Final = "Go through it with the buttons, or with the arrow keys."
_UNTURNED: Final = "No verdict changes."
_LONGEST: Final = 700


def lesson_bar(
    state: WindowState, box: Rectangle, scale: float, over: Action | None
) -> Board:
    """Draw the lesson: its title, how far it has come, and what is said now.

    Args:
        state: Of the window.
        box: Where it goes, pixels.
        scale: Of letters.
        over: What the mouse is over.
    """
    ink = Ink(box, scale, over)
    ink.control(box, Action("rest"))
    ink.line((box.left, box.top + 0.5), (box.right, box.top + 0.5), palette.GRID)
    pad = _PAD * scale
    line = LINE * ink.size
    middle = box.top + 0.6 * pad + line / 2
    _progress(ink, state, middle, box.right - pad)
    title = clean(f"Lesson: {state.start.lesson}", _LONGEST)
    room = box.right - box.left - 2 * pad - 250 * scale
    ink.text((box.left + pad, middle), ink.fitted(title, room, bold=True), bold=True)
    left = _buttons(ink, state)
    _words(
        ink,
        state,
        Rectangle(box.left + pad, middle + 0.8 * line, left - pad, box.bottom),
    )
    return ink.finished()


def _progress(ink: Ink, state: WindowState, middle: float, right: float) -> None:
    steps, step = len(state.start.steps), state.place.step
    text = f"Step {step} of {steps}" if step else f"{steps} steps"
    ink.text((right, middle), text, size=ink.small, place="r")
    scale = ink.scale
    end = right - ink.wide("Step 00 of 00", size=ink.small) - 8 * scale
    whole = 130 * scale
    part = whole / steps
    for n in range(steps):
        start = end - whole + n * part
        bar = Rectangle(
            start, middle - 2 * scale, start + 0.86 * part, middle + 2 * scale
        )
        ink.fill(bar, palette.INK if n < step else palette.GRID, radius=2 * scale)


def _buttons(ink: Ink, state: WindowState) -> float:
    """Draw back and next; return where they begin."""
    scale, box, place = ink.scale, ink.box, state.place
    pad = _PAD * scale
    tall = 2.1 * ink.size
    text = "Next" if place.answered else "Show the answer"
    text = text if place.step else "Begin"
    bottom = box.bottom - 0.9 * pad
    right = box.right - pad
    wide = ink.wide("Show the answer", size=ink.small) + 26 * scale
    last = place.step == len(state.start.steps) and place.answered
    forth = Rectangle(right - wide, bottom - tall, right, bottom)
    ink.button(forth, text, Action("step", number=1), strong=not last, enabled=not last)
    back = Rectangle(
        forth.left - 8 * scale - 62 * scale, forth.top, forth.left - 8 * scale, bottom
    )
    ink.button(back, "Back", Action("step", number=-1), enabled=place.step > 0)
    return back.left


def _words(ink: Ink, state: WindowState, box: Rectangle) -> None:
    """Write what is said or asked, and what the answer has changed."""
    step = step_at(state.start, state.place)
    said: list[tuple[str, bool, str]] = []
    if step is None:
        said.append((_BEGIN, False, palette.FAINT_INK))
    else:
        if step.ask:
            said.append((step.ask, True, palette.INK))
        if step.say and (state.place.answered or not step.ask):
            said.append((step.say, False, palette.INK))
        told = [clean(one) for one in changes(state.start, state.place)]
        if told:
            bad = any(one.endswith(WORDS["not-met"]) for one in told)
            colour = palette.INTRUSION_TEXT if bad else palette.INK
            said.append(("; ".join(told), False, colour))
        elif step.ask and state.place.answered:
            said.append((_UNTURNED, False, palette.FAINT_INK))
    room = box.right - box.left
    bottom = ink.box.bottom - 4 * ink.scale
    for size in (ink.size, ink.small, 0.9 * ink.small, 0.8 * ink.small):
        # Letters get smaller before words are left out.
        lines = [
            (one, bold, colour)
            for text, bold, colour in said
            for one in ink.wrapped(clean(text, _LONGEST), room, size=size, bold=bold)
        ]
        most = int((bottom - box.top) / (LINE * size))
        if len(lines) <= most:
            break
    y = box.top + LINE * size / 2
    for text, bold, colour in lines[:most]:
        ink.text((box.left, y), text, size=size, colour=colour, bold=bold)
        y += LINE * size
