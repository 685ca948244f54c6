"""Small invented rooms for the tests of the window."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d import check, read_text
from viewer.stage import build_stage
from viewer.stage.taught.lesson import lesson_stage
from viewer.window.state import begun

if TYPE_CHECKING:
    from model3d import Scene
    from viewer.stage import Stage
    from viewer.window.state import State

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


def stage(*, lesson: bool = False) -> Stage:
    """Return what is drawn of the room; with its lesson the shelf is moved."""
    room = scene(lesson=lesson)
    return lesson_stage(room) if lesson else build_stage(room, check(room))


def blocked() -> State:
    """Return what a window knows of the room with the shelf in front of the panel."""
    room = read_text(ROOM.replace("[2600, 2500]", "[600, 1450]"), "room.yaml")
    return begun(build_stage(room, check(room)))


def find(state: State, subject: str, requirement: str) -> int:
    """Return the place of a judgement in the list."""
    names = [(one.subject, one.requirement) for one in state.stage.judgements]
    return names.index((subject, requirement))
