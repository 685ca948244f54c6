"""Small invented rooms for the tests of the window."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Final

from model3d import read_text
from model3d.following.claims import Following
from model3d.lessons import run_lesson
from viewer.stage.lesson import lesson_stage
from viewer.window.state import Action, WindowState

if TYPE_CHECKING:
    from model3d import Scene

ROOM: Final = """\
title: Ropewalk substation
units: mm
rules: nec-2023
premises: new
room:
  size: [4000, 3000]
  height: 2800
  walls: concrete
  doors:
    - {id: D1, wall: east, along: 500, width: 900, height: 2100, opens: out}
items:
  - id: LP1
    name: Lighting panel
    kind: panelboard
    size: [500, 150, 900]
    place: {wall: west, along: 1200, bottom: 900}
    supply: {system: 208Y/120, amps: 200}
    door: left
    rear: bolted
  - {id: WW1, kind: wireway, size: [600, 150, 150], place: {over: LP1, gap: 50}}
  - id: S1
    kind: shelf
    size: [400, 400, 600]
    place: {at: [2600, 2500], facing: east}
  - {id: P1, kind: pipe, from: [0, 400, 2500], to: [4000, 400, 2500], diameter: 100}
"""
"""A shelf stands in the far corner: nothing is in the way of anything."""

LESSON: Final = """\
lesson:
  title: A shelf in front of a panel
  steps:
    - say: The shelf is far away.
      look: {at: LP1, from: south-east}
    - ask: Now it stands 400 mm in front. Is that enough?
      say: No, a metre is asked for.
      do: [{set: S1, place: {at: [750, 1550], facing: east}}]
      expect: {LP1: {working-space: not-met}}
    - say: It goes back.
      do: [{set: S1, place: {at: [2600, 2500], facing: east}}]
      expect: {LP1: {working-space: met}}
"""


def scene(*, lesson: bool = False) -> Scene:
    """Return the room, with its lesson or without."""
    return read_text(ROOM + LESSON if lesson else ROOM, "room.yaml")


def window_state(*, lesson: bool = False) -> WindowState:
    """Return what a window on the room knows at first."""
    room = scene(lesson=lesson)
    if not lesson:
        return WindowState((room,), Following(room))
    results = run_lesson(room)
    scenes = (room, *(result.scene for result in results))
    return WindowState(scenes, Following(room), lesson_stage(room, results))


def bring_shelf(state: WindowState) -> None:
    """Bring the shelf in front of the panel, in steps of 10 mm."""
    state.do(Action("item", "S1"))
    state.do(Action("form"))
    state.do(Action("nudge", "0", -105))
    state.do(Action("nudge", "1", -200))
    hurry(state)


def hurry(state: WindowState) -> None:
    """Judge what is judged while things move, on a machine that is busy."""
    while state.moving.hurried:
        state.work()


def settle(state: WindowState) -> None:
    """Work on until the whole room has been checked again."""
    end = time.monotonic() + 120
    while state.moving.busy and time.monotonic() < end:
        state.work()
        time.sleep(0.005)
    assert not state.moving.busy
