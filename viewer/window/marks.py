"""Numbers, names and sizes over the room: placed at rest, carried along in motion."""

from __future__ import annotations

import math
import re
import time
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, TypeVar

import numpy as np
from PIL import Image

from viewer.picture.composition import draw_signs
from viewer.sheet.letters import FINE, Sheet
from viewer.sheet.places import Rectangle
from viewer.sheet.projection import Projection
from viewer.sheet.signage import SignRoom
from viewer.sheet.signs import arrange_signs
from viewer.stage import palette
from viewer.window.ink import Board, Control, reduced, wide
from viewer.window.lesson import name_of
from viewer.window.shown import signs_shown, with_signs
from viewer.window.state import Action

if TYPE_CHECKING:
    from collections.abc import Iterable

    from viewer.sheet.places import Spot
    from viewer.sheet.signage import PlacedSign
    from viewer.stage.parts import Point, Stage, View
    from viewer.window.frame import Frame
    from viewer.window.shown import SignsShown
    from viewer.window.state import WindowState

    Rows = tuple[tuple[str, str, str], ...]

_T = TypeVar("_T")

_CARRIED: Final = frozenset({"not-met", "open", "name", "strong-name", "faint-name"})
"""Looks of marks that are carried along; sizes wait until the camera rests."""
_SELDOM: Final = 4.0
"""While something is moved, signs are placed anew that seldom, by how long it takes."""
_RIM: Final = 3.0
_NUMBER: Final = re.compile(r"\d+")


@dataclass(frozen=True, slots=True, eq=False)
class _Carried:
    """A mark as it was drawn at rest.

    Attributes:
        anchor: The point it is about.
        off: From the anchor's pixel to the picture's corner.
        image: Of the mark alone.
        end: From the anchor's pixel to where its leader ends.
        action: What a press on it asks for.
    """

    anchor: Point
    off: Spot
    image: Image.Image
    end: Spot
    action: Action


class Marks:
    """The signs over the room, for as long as the stage stays the same."""

    def __init__(self) -> None:
        """Start with none."""
        self._carried: list[_Carried] = []
        self._rows: Rows = ()
        self._took = self._placed = 0.0

    def arranged(
        self, state: WindowState, frame: Frame, view: View, taken: Iterable[Rectangle]
    ) -> Board:
        """Find a place for every sign and draw them.

        Args:
            state: Of the window.
            frame: How the window is divided.
            view: The camera.
            taken: What lies over the room already, pixels of the window.
        """
        begun = time.perf_counter()
        room = frame.room
        width, height = _size(room)
        clear = (*palette.channels(palette.PAPER), 0)
        image = Image.new("RGBA", (width * FINE, height * FINE), clear)
        sheet = Sheet(image)
        projection = Projection(view, width, height)
        shown = _in_sight(signs_shown(state, view.eye), projection)
        stage = with_signs(state.stage, shown)
        inner = Rectangle(0, 0, width, height).wider(-6.0 * frame.scale)
        setting = SignRoom(projection, inner, wide, frame.scale)
        signs = arrange_signs(
            stage,
            setting,
            sizes=shown.sizes,
            in_full=shown.in_full,
            taken=[_moved(box, -room.left, -room.top) for box in taken],
        )
        draw_signs(sheet, signs, frame.scale)
        small = reduced(image)
        anchors = _Anchors(stage, projection)
        self._carried = [
            _carried(mark, anchors, small, _action(mark, stage))
            for mark in signs.marks
            if mark.look in _CARRIED
        ]
        controls = [
            Control(_moved(mark.box, room.left, room.top), _action(mark, stage))
            for mark in signs.marks
        ]
        self._rows = _rows(state.stage)
        self._placed = time.perf_counter()
        self._took = self._placed - begun
        return Board(small, room, tuple(reversed(controls)))

    def follow(self, stage: Stage) -> bool:
        """Let signs go where their points are in another stage; tell whether they do.

        They do not if rows have come or gone, or if there is time to place them anew.
        """
        spent = time.perf_counter() - self._placed
        if spent > _SELDOM * self._took or _rows(stage) != self._rows:
            return False
        anchors = {
            Action("pick", number=one.judgement): one.anchor for one in stage.badges
        }
        anchors |= {Action("item", one.item): one.anchor for one in stage.labels}
        self._carried = [
            replace(one, anchor=anchors.get(one.action, one.anchor))
            for one in self._carried
        ]
        return True

    def carried(self, frame: Frame, view: View) -> Board:
        """Draw the same signs where their points are seen now, as quickly as may be."""
        room = frame.room
        width, height = _size(room)
        clear = (*palette.channels(palette.PAPER), 0)
        image = Image.new("RGBA", (width, height), clear)
        sheet = Sheet(image, 1)
        controls: list[Control] = []
        if self._carried:
            anchors = np.array([one.anchor for one in self._carried])
            spots = Projection(view, width, height).pixels(anchors)
            seen = [
                (one, (float(x), float(y)))
                for one, (x, y) in zip(self._carried, spots, strict=True)
                if math.isfinite(x) and 0 <= x < width and 0 <= y < height
            ]
            for one, (x, y) in seen:
                end = x + one.end[0], y + one.end[1]
                sheet.line([(x, y), end], palette.INK, 1.0)
            for one, (x, y) in reversed(seen):
                corner = round(x + one.off[0]), round(y + one.off[1])
                image.alpha_composite(one.image, *_inside(one.image, corner))
                box = Rectangle(
                    corner[0],
                    corner[1],
                    corner[0] + one.image.width,
                    corner[1] + one.image.height,
                )
                controls.append(Control(_moved(box, room.left, room.top), one.action))
        return Board(image, room, tuple(controls))


def _rows(stage: Stage) -> Rows:
    """Return what is about the numbers in the picture; the same as long as they are."""
    return tuple(name_of(one) for one in stage.judgements if one.number is not None)


def _in_sight(signs: SignsShown, projection: Projection) -> SignsShown:
    """Return the signs about what the picture shows: no leader goes out of it."""

    def kept(ones: tuple[_T, ...], points: list[list[Point]]) -> tuple[_T, ...]:
        if not ones:
            return ones
        spots = projection.pixels(np.array(points)).reshape(len(ones), -1, 2)
        size = projection.width, projection.height
        inside = np.all((spots >= 0) & (spots < size), axis=2)
        seen = np.any(inside, axis=1).tolist()
        return tuple(one for one, is_seen in zip(ones, seen, strict=True) if is_seen)

    return replace(
        signs,
        badges=kept(signs.badges, [[one.anchor] for one in signs.badges]),
        labels=kept(signs.labels, [[one.anchor] for one in signs.labels]),
        sizes=kept(signs.sizes, [[one.start, one.end] for one in signs.sizes]),
    )


class _Anchors:
    """Finds the point of the world that a mark is about, by where it is seen."""

    def __init__(self, stage: Stage, projection: Projection) -> None:
        points = [one.anchor for one in stage.badges]
        points += [one.anchor for one in stage.labels]
        self._points = np.array(points, dtype=float).reshape(-1, 3)
        self._spots = projection.pixels(self._points)

    def of(self, mark: PlacedSign) -> Point:
        away = np.abs(self._spots - np.array(mark.anchor)).sum(axis=1)
        x, y, z = self._points[int(np.nanargmin(away))].tolist()
        return x, y, z


def _carried(
    mark: PlacedSign, anchors: _Anchors, drawn: Image.Image, action: Action
) -> _Carried:
    box = mark.box.wider(_RIM)
    left, top = max(round(box.left), 0), max(round(box.top), 0)
    right, bottom = max(round(box.right), left + 1), max(round(box.bottom), top + 1)
    x, y = mark.anchor
    middle = mark.box.middle
    return _Carried(
        anchors.of(mark),
        (left - x, top - y),
        drawn.crop((left, top, right, bottom)),
        (middle[0] - x, middle[1] - y),
        action,
    )


def _action(mark: PlacedSign, stage: Stage) -> Action:
    number = _NUMBER.match(mark.lines[0])
    if mark.look in {"not-met", "open"} and number is not None:
        rows = [one.number for one in stage.judgements]
        return Action("pick", number=rows.index(int(number[0])))
    return Action("item", mark.items[0] if mark.items else "")


def _inside(
    image: Image.Image, corner: tuple[int, int]
) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return where a picture goes, and from where of it, if it begins outside."""
    x, y = corner
    source = min(max(-x, 0), image.width - 1), min(max(-y, 0), image.height - 1)
    return (max(x, 0), max(y, 0)), source


def _size(box: Rectangle) -> tuple[int, int]:
    return round(box.right - box.left), round(box.bottom - box.top)


def _moved(box: Rectangle, across: float, down: float) -> Rectangle:
    return Rectangle(
        box.left + across, box.top + down, box.right + across, box.bottom + down
    )
